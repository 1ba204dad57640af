// A condition is a sentence to complete: the kind comes first, and only its own blanks are shown. Without this script
// all of them are, and the server drops what the kind does not have.
//
//   <div class="field" data-of="when" data-for="passes|time">     shown while the row's field "when" is one of these

function fit(row) {
  for (const blank of row.querySelectorAll("[data-of]")) {
    const decides = row.querySelector(`select[name$="-${blank.dataset.of}"]`);
    blank.hidden = decides ? !blank.dataset.for.split("|").includes(decides.value) : false;
  }
  fold(row);
}

// A further consequence is offered once the one before it is chosen.
function fold(row) {
  let open = true;
  for (const line of row.querySelectorAll(".slots > .pair")) {
    const first = line.querySelector("select");
    line.hidden = !open && !first?.value;
    open = Boolean(first?.value);
  }
}

const fitAll = (root) => {
  for (const row of root.querySelectorAll("[data-row]")) fit(row);
};

document.addEventListener("change", (event) => {
  const row = event.target.closest("[data-row]");
  if (row) fit(row);
});
document.addEventListener("click", (event) => {
  if (event.target.closest("[data-add]")) queueMicrotask(() => fitAll(document));
});
fitAll(document);
