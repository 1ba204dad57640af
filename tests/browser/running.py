"""A part that runs at the pitch: what tests of its clock, its taps and its looks share."""

from typing import Any

from playwright.sync_api import expect

from tests.browser.at_the_pitch import Pitch

# An AudioContext that counts: each blast starts two tones and their trill. It runs once it was resumed.
LOUD = """
  globalThis.blasts = 0;
  globalThis.shaken = [];
  const param = () => ({ setValueAtTime() {}, linearRampToValueAtTime() {} });
  const node = () => ({ gain: param(), frequency: param(), connect() {}, start() { blasts += 1 / 3; }, stop() {} });
  globalThis.AudioContext = class {
    state = "suspended"; currentTime = 0; destination = {};
    async resume() { this.state = "running"; this.onstatechange?.(); }
    createGain() { return node(); }
    createOscillator() { return node(); }
  };
  Object.defineProperty(Navigator.prototype, "vibrate", { value: (pattern) => { shaken.push(pattern); return true; }, configurable: true });
"""


def undo(phone: Pitch, said: str) -> None:
    """What was tapped is said on the page, and undone."""
    expect(phone.page.locator("#tapped p")).to_have_text(said)
    phone.page.click("#tapped button")
    expect(phone.page.locator("#tapped")).to_be_hidden()


def blasts(phone: Pitch) -> int:
    return round(phone.page.evaluate("blasts"))


def shaken(phone: Pitch) -> int:
    return phone.page.evaluate("shaken.length")


def changed(phone: Pitch, what: str) -> Any:
    """A button of the fold that changes a part."""
    button = phone.part(f'[data-do="{what}"]')
    if not button.is_visible():
        phone.part(".change summary").click()
    return button


def begun(phone: Pitch) -> None:
    """Part 1 begins now."""
    phone.open()
    phone.page.click("#begin")
    phone.page.wait_for_selector('main[data-view="part"]')
