"""What opens a page waits until all of it is there.

The driver returns as soon as the answer begins: a count or a text asked for then may be of half a page, and on a slow
machine it is. So every click and key waits for the document, once, here, instead of in each journey that remembers to.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any

from playwright.sync_api import Error, Locator, Page

OPENS = ("click", "press", "tap")


def _whole(asked: Callable[..., Any]) -> Callable[..., Any]:
    @wraps(asked)
    def waits(self: Any, *args: Any, **options: Any) -> Any:
        answer = asked(self, *args, **options)
        page = self if isinstance(self, Page) else self.page
        try:
            page.wait_for_load_state("domcontentloaded")
        except Error:
            if not page.is_closed():  # a press may close its own page
                raise
        return answer

    return waits


def wait_for_whole_pages() -> None:
    """From now on every click and key waits so, in this process."""
    for kind in (Page, Locator):
        for name in OPENS:
            setattr(kind, name, _whole(getattr(kind, name)))
