"""Two journeys by the keyboard alone: a game is written; a session is suggested and used."""

from typing import Any

import pytest

from tests.browser.addresses import COACH, session_tonight
from tests.browser.keys import Keys
from tests.browser.test_propose import _worker
from tests.harness.people import signed_in


def test_a_game_is_written(demo_site: Any, desk: Any) -> None:
    signed_in(desk.context, demo_site, COACH)
    desk.goto(demo_site.address("/library/write/"))
    keys = Keys(desk)
    for name, text in {
        "title": "Harbour Bell",
        "format": "4v4+2in",
        "grids-0-length_m": "28",
        "grids-0-width_m": "20",
        "grids-0-purpose": "as it is",
        "activity": "poss",
        "moment": "in poss",
        "purpose": "Keep it until the bell.",
        "say_this": "Keep it until the bell.",
    }.items():
        keys.fill(name, text)
    desk.locator("#drill-plan svg").wait_for()
    keys.press(desk.locator("#fold-about > summary"))
    keys.press(desk.locator('[name="themes"][value="keep-the-ball"]'), "Space")
    keys.press(desk.locator("#fold-variations > summary"))
    keys.fill("variations-0-title", "Room to breathe")
    keys.fill("variations-0-rung", "easier")
    keys.fill("variations-0-kind_0", "grid")
    keys.fill("variations-0-value_0", "36 x 28")
    keys.press(desk.get_by_role("button", name="Save it as a draft"))
    desk.get_by_role("heading", level=1, name="Harbour Bell").wait_for()
    assert desk.get_by_text("Room to breathe").count() > 0
    assert desk.locator("#plan svg, .plan svg").first.is_visible()


@pytest.mark.sweep
def test_a_session_is_suggested_and_used(demo_site: Any, desk: Any) -> None:
    signed_in(desk.context, demo_site, COACH)
    desk.goto(demo_site.address(session_tonight()))
    keys = Keys(desk)
    keys.press(desk.locator(".more-acts > summary"))
    keys.press(desk.get_by_role("link", name="Suggest a session"))
    desk.wait_for_url("**/propose/")
    keys.press(desk.get_by_role("button", name="Suggest a session"))
    desk.get_by_text("Waiting for its turn").wait_for()
    _worker()
    desk.get_by_role("button", name="Use this session").first.wait_for()
    keys.press(desk.get_by_role("button", name="Use this session"))
    keys.press(desk.get_by_role("button", name="Replace them"))
    desk.get_by_text("It is in the session, with tonight's numbers.").wait_for()
