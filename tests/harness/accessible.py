"""Nobody is kept out: what axe has against a page (WCAG 2.2 A and AA, best practice), and whether it is too wide.

Only colours depend on the scheme, and axe builds its whole model of a page anew each time it is asked, half of the time
for contrast; so axe looks at all but contrast in one scheme, and contrast is worked out here, in each scheme. That the
two agree has a test.
"""

from typing import Any

from axe_playwright_python.sync_playwright import Axe

SCRIPT = Axe().axe_script
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
WITH_CONTRAST = {"runOnly": {"type": "tag", "values": TAGS}, "resultTypes": ["violations"], "preload": False}
OPTIONS = {**WITH_CONTRAST, "rules": {"color-contrast": {"enabled": False}}}
OTHER_SCHEMES = ("dark", "sun")
RUN = "options => axe.run(document, options).then(found => found.violations)"
# The contrast of each text with what is painted behind it, as WCAG 2.2 defines it (1.4.3; relative luminance and
# contrast ratio in its glossary). Text over an image is left to eyes.
PALE = r"""() => {
  const rgba = told => { const [r, g, b, a = 1] = told.match(/[\d.]+/g).map(Number); return [r, g, b, a]; };
  const over = (top, under) => [0, 1, 2].map(i => top[i] * top[3] + under[i] * (1 - top[3])).concat(1);
  const luminance = colour => {
    const [r, g, b] = colour.map(c => (c /= 255) <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const found = new Map();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let text = walker.nextNode(); text; text = walker.nextNode()) {
    const at = text.parentElement, style = getComputedStyle(at);
    if (!text.data.trim() || at.closest("svg, [disabled]")) continue;
    if (!at.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
    const layers = [];
    let behind = at, image = false;
    for (; behind; behind = behind.parentElement) {
      const under = getComputedStyle(behind), colour = rgba(under.backgroundColor);
      image ||= under.backgroundImage !== "none";
      if (colour[3]) layers.push(colour);
      if (colour[3] === 1 || image) break;
    }
    if (image) continue;
    const ground = layers.reverse().reduce((under, top) => over(top, under), [255, 255, 255, 1]);
    const [light, dark] = [over(rgba(style.color), ground), ground].map(luminance).sort((a, b) => b - a);
    const ratio = (light + 0.05) / (dark + 0.05), size = parseFloat(style.fontSize);
    const enough = size >= 24 || (size >= 18.66 && style.fontWeight >= 700) ? 3 : 4.5;
    if (ratio < enough) found.set(`${style.color} on ${ground.slice(0, 3)}`, `${text.data.trim().slice(0, 40)} (${ratio.toFixed(2)})`);
  }
  return [...found].map(([colours, words]) => `${colours}: ${words}`);
}"""
# Which elements make it so: those whose end lies outside, and that hold no other such element.
TOO_WIDE = """() => {
  const { scrollWidth, clientWidth } = document.documentElement;
  if (scrollWidth <= clientWidth) return [];
  const outside = [...document.body.querySelectorAll("*")].filter(each =>
    each.checkVisibility() && Math.round(each.getBoundingClientRect().right) > clientWidth
    && getComputedStyle(each).position !== "fixed" && !each.closest(".hidden-words"));
  const inmost = outside.filter(each => !outside.some(other => other !== each && each.contains(other)));
  const path = each => (each.parentElement?.closest("[class], main") === null ? "" :
    each.parentElement.closest("[class], main").className + " > ") + each.tagName.toLowerCase() + "." + each.className;
  return [`${scrollWidth} px`, ...inmost.slice(0, 6).map(path)];
}"""


def complaints(tab: Any, name: str = "") -> list[str]:
    """What keeps somebody out of the page as it stands now."""
    tab.evaluate(SCRIPT)
    found = [told(name, each) for each in tab.evaluate(RUN, OPTIONS)]
    found += [f"{name}: {each}" for each in tab.evaluate(PALE)]
    if wide := tab.evaluate(TOO_WIDE):
        found.append(f"{name}: wider than the screen: {', '.join(wide)}")
    return found


def pale_by_axe(tab: Any) -> int:
    """How many texts axe finds too pale."""
    tab.evaluate(SCRIPT)
    return sum(each["id"] == "color-contrast" for each in tab.evaluate(RUN, WITH_CONTRAST))


def pale_in_other_schemes(tab: Any, name: str = "") -> list[str]:
    """What cannot be read once the page puts on another scheme."""
    found = []
    before = tab.evaluate("document.documentElement.dataset.scheme ?? ''")
    for scheme in OTHER_SCHEMES:
        wear(tab, scheme)
        found += [f"{name} in {scheme}: {each}" for each in tab.evaluate(PALE)]
    wear(tab, before)
    return found


def wear(tab: Any, scheme: str) -> None:
    """Put the page into a colour scheme."""
    tab.evaluate("scheme => { document.documentElement.dataset.scheme = scheme }", scheme)


def told(name: str, violation: dict[str, Any]) -> str:
    """One violation in a line."""
    first = violation["nodes"][0]
    return f"{name}: {violation['id']} at {first['target']}: {first['failureSummary'][:160]}"
