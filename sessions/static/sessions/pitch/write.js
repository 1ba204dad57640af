// Written only where it differs: what stands there already costs neither layout nor a reader's ear.

export function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

export function put(element, name, value) {
  if (element.dataset[name] !== value) element.dataset[name] = value;
}
