// One press copies what stands in a field. Without this script, or where the browser says no, it is copied by hand.
//
//   <p data-copy="link" hidden><button type="button">Copy</button> <span data-copied="…" data-by-hand="…"></span></p>

for (const holder of document.querySelectorAll("[data-copy]")) {
  const field = document.getElementById(holder.dataset.copy);
  const said = holder.querySelector("[data-copied]");
  holder.hidden = false;
  holder.querySelector("button").addEventListener("click", async () => {
    field.select();
    try {
      await navigator.clipboard.writeText(field.value);
      said.textContent = said.dataset.copied;
    } catch {
      said.textContent = said.dataset.byHand; // no secure address, or not allowed
    }
  });
}
