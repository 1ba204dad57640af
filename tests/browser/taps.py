"""Counts what a hand does on a page: a tap on something, or a tap into a field and what is typed there."""

from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Locator, Page


@dataclass
class Hand:
    """A page with the taps that it took so far. Scrolling, waiting and typing count nothing; going into a field does."""

    page: Page
    taps: int = 0

    def tap(self, what: str, role: Any = "link", *, exact: bool = False) -> None:
        """A tap on the first link (or button) of a name."""
        self.tap_on(self.page.get_by_role(role, name=what, exact=exact).first)

    def tap_on(self, what: Locator) -> None:
        self.taps += 1
        what.click()

    def type_in(self, name: str, text: str) -> None:
        """A tap into a field of the page's main form, and a text."""
        self.taps += 1
        self.page.locator(f'main [name="{name}"]').first.fill(text)
