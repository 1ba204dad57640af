// Turn a plan to where the coach stands: everything turns, the words stay upright.

const SVG = "http://www.w3.org/2000/svg";

export function turn(svg, degrees) {
  svg.dataset.box ??= svg.getAttribute("viewBox");
  const [, , width, height] = svg.dataset.box.split(" ").map(Number);
  const flat = degrees % 180 === 0;
  svg.setAttribute("viewBox", flat ? svg.dataset.box : `0 0 ${height} ${width}`);
  const moves = { 0: "", 90: `translate(${height} 0) rotate(90)`, 180: `translate(${width} ${height}) rotate(180)`, 270: `translate(0 ${width}) rotate(270)` };
  whole(svg).setAttribute("transform", moves[degrees]);
  for (const text of svg.querySelectorAll("text")) upright(text, degrees);
}

function whole(svg) {
  let group = svg.querySelector(":scope > .turned");
  if (!group) {
    group = document.createElementNS(SVG, "g");
    group.setAttribute("class", "turned");
    group.append(...[...svg.children].filter((child) => !["title", "desc"].includes(child.tagName)));
    svg.append(group);
  }
  return group;
}

function upright(text, degrees) {
  text.dataset.own ??= text.getAttribute("transform") ?? "";
  const own = Number(/rotate\((-?\d+)/.exec(text.dataset.own)?.[1] ?? 0);
  const x = Number(text.getAttribute("x") ?? 0);
  const y = Number(text.getAttribute("y") ?? 0) - Number(text.getAttribute("font-size") ?? 12) * 0.355;
  // Measures are read from below or from the right, all else from below.
  const seen = (((own + degrees) % 360) + 360) % 360;
  const wanted = !text.closest(".dimension") ? 0 : seen % 180 === 0 ? 0 : 270;
  text.setAttribute("transform", `rotate(${wanted - degrees} ${x} ${y})`);
}
