// The phone's own sheet for sharing, where the browser has one: for a link, or for a file that is fetched first.
// Without this script, or without a sheet, the link can be copied and the file downloaded.
//
//   <button type="button" data-share-url="link" data-title="…" hidden>Share…</button>        the id of a field, of a link
//   <button type="button" data-share-file="download" data-name="plan.png" data-type="image/png" hidden>Share…</button>
//   <span role="status" data-share-said data-failed="…" data-again="…"></span>                beside either

const fetched = new WeakMap();

function offer() {
  for (const button of document.querySelectorAll("[data-share-url]")) button.hidden = !navigator.share;
  for (const button of document.querySelectorAll("[data-share-file]")) button.hidden = !takes(named(button, [""]));
}

const named = (button, parts) => new File(parts, button.dataset.name, { type: button.dataset.type });
const takes = (file) => Boolean(navigator.share && navigator.canShare?.({ files: [file] }));

async function share(button) {
  const said = button.parentElement.querySelector("[data-share-said]");
  said.textContent = "";
  try {
    await navigator.share(button.dataset.shareUrl ? link(button) : { files: [await file(button)], title: button.dataset.title });
  } catch (error) {
    if (error.name === "AbortError") return; // somebody changed their mind
    // A phone opens its sheet only just after a press: the file came too late for this one, and is there for the next.
    said.textContent = error.name === "NotAllowedError" && fetched.has(button) ? said.dataset.again : said.dataset.failed;
  }
}

function link(button) {
  return { title: button.dataset.title, text: button.dataset.title, url: document.getElementById(button.dataset.shareUrl).value };
}

async function file(button) {
  const address = document.getElementById(button.dataset.shareFile).href; // what is downloaded is what is shared
  const there = fetched.get(button);
  if (there?.address === address) return there.file;
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(answer.statusText);
  const made = named(button, [await answer.blob()]);
  fetched.set(button, { address, file: made });
  return made;
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-share-url], [data-share-file]");
  if (button) share(button);
});
document.addEventListener("htmx:afterSettle", offer);
offer();
