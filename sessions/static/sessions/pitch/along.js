// What the phone works with when there is no signal: by number what each part becomes, and plan B. Asked for once.

let kept = null;

export async function along() {
  kept ??= await fetched();
  return kept;
}

async function fetched() {
  const response = await fetch(document.getElementById("pitch").dataset.along);
  if (!response.ok || response.redirected) throw new Error(`along: ${response.status}`);
  return response.json();
}
