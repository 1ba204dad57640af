"""The page for drawing, open in a browser: what the tests of drawing share."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.harness.browsers import DESK, PATIENCE_MS, PHONE
from tests.harness.people import signed_in

COACH = "coach@demo.example"
DRILL = {
    "title": "Hide and Chalk",
    "purpose": "See the free player early.",
    "activity": "possession",
    "moment": "in possession",
    "format": "2v1",
    "grids": [{"key": "usual", "length_m": 20, "width_m": 16, "purpose": "room to look up"}],
}


class Sheet:
    """The page for drawing, open in a browser."""

    def __init__(self, page: Any, site: Any, drill: Any, touch: bool) -> None:
        self.page, self.site, self.drill, self.touch = page, site, drill, touch

    @property
    def address(self) -> str:
        return self.site.address(f"/library/{self.drill.public_id}/draw/")

    def open(self) -> None:
        self.page.goto(self.address)
        self.page.wait_for_selector("#stage[aria-busy=false] svg")

    def empty(self) -> None:
        """An empty grid to draw on."""
        with self.redrawn():
            self.page.click("#to-empty")

    def redrawn(self) -> Any:
        return self.page.expect_response(lambda response: response.url.endswith("/look/"))

    def at(self, x_m: float, y_m: float) -> tuple[float, float]:
        """Where a point of the grid is on the screen, by the grid's own corners in the drawing."""
        script = """() => {
            const grid = document.querySelector("#stage svg .grid");
            grid.ownerSVGElement.parentElement.scrollIntoView({ block: "nearest" });
            const { x, y, width, height } = grid.getBoundingClientRect();
            return [x, y, width, height];
        }"""
        left, top, width, height = self.page.evaluate(
            script
        )  # at once: the drawing may be replaced any moment
        return left + x_m / 20 * width, top + (1 - y_m / 16) * height

    def drawn_anew(self) -> None:
        """Wait until the server's drawing of the last change is there."""
        self.page.wait_for_selector("#stage[aria-busy=false]")

    def tap(self, x_m: float, y_m: float) -> None:
        (self.page.touchscreen.tap if self.touch else self.page.mouse.click)(*self.at(x_m, y_m))

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        (x, y), (to_x, to_y) = self.at(*start), self.at(*end)
        if not self.touch:
            self.page.mouse.move(x, y)
            self.page.mouse.down()
            self.page.mouse.move((x + to_x) / 2, (y + to_y) / 2)
            self.page.mouse.move(to_x, to_y)
            self.page.mouse.up()
            return
        finger = self.page.context.new_cdp_session(self.page)
        for kind, px, py in (("Start", x, y), ("Move", (x + to_x) / 2, (y + to_y) / 2), ("Move", to_x, to_y)):
            finger.send(
                "Input.dispatchTouchEvent", {"type": f"touch{kind}", "touchPoints": [{"x": px, "y": py}]}
            )
        finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
        finger.detach()

    def press(self, selector: str) -> None:
        (self.page.tap if self.touch else self.page.click)(selector)

    def stroke(self, kind: str) -> None:
        """Choose what the next strokes mean."""
        self.drawn_anew()
        self.press(f"[name=stroke][value={kind}]")
        expect(self.page.locator(f"[name=stroke][value={kind}]")).to_be_checked()

    def things(self) -> list[str]:
        return self.page.locator("#things button").all_inner_texts()

    def saved(self) -> dict[str, Any]:
        scene: dict[str, Any] = self.document()["scene"]
        return scene

    def document(self) -> dict[str, Any]:
        """The drill as it is kept now."""
        from drills import queries

        found: dict[str, Any] = queries.plain_of(
            queries.document_for(self.actor(), self.drill.public_id).document
        )
        return found

    def actor(self) -> Any:
        from club.models import User
        from club.queries import actor_of

        return actor_of(User.objects.get(email=COACH))


@pytest.fixture
def sheet(demo_site: Any, browser: Any) -> Iterator[Callable[..., Sheet]]:
    """Opens the page for the coach who owns the drill, at a size and in a scheme."""
    from club.models import User
    from club.queries import actor_of
    from drills import actions

    drill = actions.create_drill(actor=actor_of(User.objects.get(email=COACH)), document=DRILL)
    contexts = []

    def opened(size: dict[str, Any] = DESK, scheme: str = "light") -> Sheet:
        context = browser.new_context(**size, locale="en-GB", reduced_motion="reduce")
        context.set_default_timeout(PATIENCE_MS)
        contexts.append(context)
        signed_in(context, demo_site, COACH, scheme=scheme)
        made = Sheet(context.new_page(), demo_site, drill, size is PHONE)
        made.open()
        return made

    yield opened
    for context in contexts:
        context.close()
