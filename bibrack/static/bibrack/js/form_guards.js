// Forms that cannot be undone ask once, in place, naming what goes:
//   <form data-ask="Delete the drawing of “Two gates”?" data-yes="Delete it" data-no="Keep it">
// Forms marked data-once are sent once, however often the button is pressed.
// Forms marked data-typed warn before the page is left with unsaved words.

function ask(form, submitter) {
  const box = document.createElement("div");
  box.className = "warning-box";
  box.setAttribute("role", "group");
  const words = document.createElement("p");
  words.textContent = form.dataset.ask;
  words.id = `ask-${Math.random().toString(36).slice(2)}`;
  box.setAttribute("aria-labelledby", words.id);
  const acts = document.createElement("div");
  acts.className = "acts";
  const no = Object.assign(document.createElement("button"), { type: "button", textContent: form.dataset.no || "No" });
  const yes = Object.assign(document.createElement("button"), { type: "button", textContent: form.dataset.yes || "Yes", className: "risk" });
  acts.append(no, yes);
  box.append(words, acts);
  form.after(box);
  form.hidden = true;
  no.addEventListener("click", () => {
    box.remove();
    form.hidden = false;
    if (submitter) submitter.focus();
  });
  yes.addEventListener("click", () => {
    form.dataset.sure = "yes";
    form.requestSubmit(submitter || undefined);
  });
  no.focus();
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.dataset.ask && form.dataset.sure !== "yes") {
    event.preventDefault();
    ask(form, event.submitter);
    return;
  }
  if (form.dataset.once !== undefined) {
    if (form.dataset.sent) event.preventDefault();
    form.dataset.sent = "yes";
  }
});

// A page brought back by the back button may be sent again.
addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
});

for (const form of document.querySelectorAll("form[data-typed]")) {
  let typed = false;
  form.addEventListener("input", () => { typed = true; });
  form.addEventListener("submit", () => { typed = false; });
  addEventListener("beforeunload", (event) => { if (typed) event.preventDefault(); });
}
