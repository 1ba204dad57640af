// The screen's scheme: as the device, light, dark, or for low sun. Kept in a cookie, so that the server sends it right.
const form = document.querySelector("[data-schemes]");
const YEAR_S = 60 * 60 * 24 * 365;

function choose(scheme) {
  document.documentElement.dataset.scheme = scheme;
  const secure = location.protocol === "https:" ? "; Secure" : "";
  document.cookie = `scheme=${scheme}; Path=/; Max-Age=${YEAR_S}; SameSite=Lax${secure}`;
  for (const button of form.querySelectorAll("button")) {
    button.setAttribute("aria-pressed", String(button.value === scheme));
  }
}

if (form) {
  form.hidden = false;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    if (event.submitter) choose(event.submitter.value);
  });
}
