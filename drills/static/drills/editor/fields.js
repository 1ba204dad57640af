// The fields of what is chosen: filled from plain data, and each change handed on as a name and a value.

export function number(text) {
  const value = Number(String(text).trim().replace(",", ".").replace("−", "-"));
  return String(text).trim() === "" || !Number.isFinite(value) ? null : value;
}

export class Fields {
  // `changed(name, value)` gets numbers as numbers; `wrong(text)` is told what is none.
  constructor(group, changed, wrong) {
    this.group = group;
    group.addEventListener("change", (event) => {
      const control = event.target;
      const value = read(control);
      if (value === undefined) wrong(control.value);
      else changed(control.name, value);
    });
    group.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && event.target.tagName === "INPUT") event.target.dispatchEvent(new Event("change", { bubbles: true }));
    });
  }

  show(values) {
    this.group.hidden = false;
    for (const control of this.group.querySelectorAll("input, select")) {
      const value = values[control.name] ?? control.dataset.default ?? "";
      if (control.type === "checkbox") control.checked = value === true || value === "1";
      else control.value = typeof value === "number" ? String(Number(value.toFixed(2))) : value;
      control.dataset.was = control.value;
      const field = control.closest(".field");
      if (field && "when" in values) field.hidden = !values.when.includes(control.name);
    }
  }

  hide() { this.group.hidden = true; }
}

function read(control) {
  if (control.type === "checkbox") return control.checked;
  if (control.inputMode === "decimal" || control.inputMode === "numeric") return number(control.value) ?? undefined;
  return control.value;
}

// The options of a select, rebuilt only when they differ, so that nobody loses what is open.
export function offer(select, rows) {
  const wanted = JSON.stringify(rows);
  if (select.dataset.rows === wanted) return;
  const value = select.value;
  select.replaceChildren(...rows.map(([key, label]) => new Option(label, key)));
  select.value = rows.some(([key]) => key === value) ? value : rows[0]?.[0] ?? "";
  select.dataset.rows = wanted;
}
