// A photo that is too large is refused before it is sent: a phone would send 40 MB for minutes to hear it.

for (const field of document.querySelectorAll("input[type=file][data-most-mb]")) {
  const said = document.getElementById(`${field.id}_error`);
  field.addEventListener("change", () => {
    const megabytes = (field.files[0]?.size ?? 0) / 1e6;
    const isTooLarge = megabytes > Number(field.dataset.mostMb);
    const words = isTooLarge ? field.dataset.tooLarge.replace("[n]", Math.max(Math.round(megabytes), Number(field.dataset.mostMb) + 1)) : "";
    field.setCustomValidity(words);
    field.setAttribute("aria-invalid", isTooLarge);
    field.closest(".field").classList.toggle("wrong", isTooLarge);
    said.replaceChildren();
    if (isTooLarge) said.append(Object.assign(document.createElement("li"), { textContent: words }));
  });
}
