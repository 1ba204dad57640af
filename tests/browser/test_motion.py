"""The plan in motion in a real browser: where everybody is at a time, by thumb and by keyboard, and with less motion."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from tests.harness.accessible import complaints
from tests.harness.browsers import DESK, PATIENCE_MS, PHONE
from tests.harness.people import signed_in

COACH = "coach@demo.example"
NEAR_M = 0.05
TITLE = "Post and Return"
# Where each figure is drawn, in units of the drawing: what the reader sees, animation and turn included.
SEEN = """svg => {
  const away = svg.getScreenCTM().inverse();
  return Object.fromEntries([...svg.querySelectorAll('.players [data-key], :scope > [data-key]')].map(figure => {
    const drawn = away.multiply(figure.getScreenCTM());
    return [figure.dataset.key, [drawn.e, drawn.f]];
  }));
}"""


class Plan:
    """The page of a drill at a plan that moves."""

    def __init__(self, page: Any, scene: Any) -> None:
        self.page, self.scene = page, scene

    def key(self, key: str) -> None:
        self.page.locator("figure.plan").press(key)

    def at(self, time_s: float) -> None:
        """Drag the slider to a time."""
        self.page.locator("[data-time]").fill(str(time_s))
        self.moves()

    def moves(self) -> None:
        self.page.wait_for_selector("[data-sheet] svg[data-moving]")

    def said(self) -> str:
        return str(self.page.locator("[data-now]").text_content())

    def lanes(self) -> list[str]:
        found = self.page.locator("svg .lanes[display=inline]")
        return sorted({each.get_attribute("data-step") for each in found.all()})

    def off_m(self, time_s: float, turn: int = 0) -> float:
        """How far anybody is from where the scene says, at most."""
        from drills.drawing.pose import pose_at
        from drills.drawing.svg import DrawingOptions
        from drills.drawing.svg.sheet import lay

        sheet, pose = lay(self.scene, DrawingOptions(turn=turn)), pose_at(self.scene, time_s)
        seen = self.page.locator("[data-sheet] > svg").evaluate(SEEN)
        spots = pose.players | {key: (ball.x_m, ball.y_m) for key, ball in pose.balls.items()}
        assert set(spots) <= set(seen)
        apart = [
            abs(a - b) for key, spot in spots.items() for a, b in zip(seen[key], sheet.at(spot), strict=True)
        ]
        return max(apart) / sheet.unit_per_m


@pytest.fixture
def plan(demo_site: Any, browser: Any) -> Iterator[Callable[..., Plan]]:
    """Opens the page at a size; closes everything afterwards."""
    from drills.drawing.picture import scene_as_written
    from drills.models import Drill
    from drills.queries import typed

    drill = Drill.objects.select_related("current_revision").get(title=TITLE)
    scene = scene_as_written(typed(drill.current_revision.document))
    contexts = []

    def opened(
        *, size: Any = DESK, motion: str = "no-preference", script: bool = True, query: str = ""
    ) -> Plan:
        context = browser.new_context(
            **size, locale="en-GB", reduced_motion=motion, java_script_enabled=script
        )
        context.set_default_timeout(PATIENCE_MS)
        contexts.append(context)
        signed_in(context, demo_site, COACH)
        page = context.new_page()
        page.goto(demo_site.address(f"/library/{drill.public_id}/{query}"))
        page.locator(".motion-more > summary").click()
        return Plan(page, scene)

    yield opened
    for context in contexts:
        context.close()


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_everybody_is_where_the_scene_says_at_any_time(
    plan: Callable[..., Plan], size: dict[str, Any]
) -> None:
    opened = plan(size=size)
    for time_s in (0.9, 2.0, 2.4, 3.0, 5.1, 6.5, 7.0):
        opened.at(time_s)
        assert opened.off_m(time_s) < NEAR_M
    assert opened.said() == "step 3 of 3, 7.0 s"
    opened.page.click('[data-turn-to="90"]')
    opened.page.wait_for_selector('svg[data-moving="90"]')
    opened.at(3.0)
    assert opened.off_m(3.0, turn=90) < NEAR_M


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_every_key_of_the_plan_is_large_enough_for_a_thumb(
    plan: Callable[..., Plan], size: dict[str, Any]
) -> None:
    opened = plan(size=size)
    boxes = [
        each.bounding_box()
        for each in opened.page.locator(".motion :is(button, .button, select, input)").all()
    ]
    assert len(boxes) == 4 + 3 + 5 + 4 + 3
    assert [box for box in boxes if box["height"] < 44 or box["width"] < 44] == []
    assert opened.page.evaluate(
        "document.documentElement.scrollWidth <= document.documentElement.clientWidth"
    )


def test_by_keyboard_alone(plan: Callable[..., Plan]) -> None:
    opened = plan()
    opened.key("ArrowRight")
    opened.moves()
    assert opened.said() == "step 2 of 3, 2.4 s"
    assert (opened.lanes(), opened.page.locator("[data-moment][open]").count()) == (["2"], 1)
    assert opened.off_m(2.4) < NEAR_M
    opened.key("ArrowRight")
    opened.key("ArrowRight")
    opened.key("ArrowRight")
    assert (opened.said(), opened.lanes()) == ("step 3 of 3, 7.0 s", [])
    opened.key("ArrowLeft")
    assert opened.said() == "step 3 of 3, 4.0 s"
    opened.key(" ")
    opened.page.wait_for_selector('[data-do="play"]:text-is("Pause")')
    opened.page.wait_for_function("() => Number(document.querySelector('[data-time]').value) > 4.2")
    opened.key(" ")
    held = opened.said()
    assert opened.page.locator('[data-do="play"]').inner_text() == "Play"
    opened.page.wait_for_timeout(120)
    assert opened.said() == held


def test_play_runs_to_the_end_at_the_speed_that_is_chosen_and_starts_again(plan: Callable[..., Plan]) -> None:
    opened = plan()
    opened.page.clock.install(time=0)
    opened.page.clock.pause_at(60_000)  # else it runs on beside what the test makes it run
    opened.page.select_option("[data-speed] select", "2")
    opened.at(0)
    opened.page.click('[data-do="play"]')
    opened.page.wait_for_selector('[data-do="play"]:text-is("Pause")')
    opened.page.clock.run_for(2000)
    time_s = float(opened.page.locator("[data-time]").input_value())
    assert time_s == pytest.approx(4.0, abs=0.1)
    opened.page.clock.run_for(3000)
    assert (opened.said(), opened.page.locator('[data-do="play"]').inner_text()) == (
        "step 3 of 3, 7.0 s",
        "Play",
    )
    assert opened.off_m(7.0) < NEAR_M
    opened.page.click('[data-do="play"]')
    opened.page.clock.run_for(500)
    assert opened.said().startswith("step 1 of 3")


def test_what_is_saved_is_the_step_and_turn_that_are_seen(plan: Callable[..., Plan]) -> None:
    opened = plan()
    opened.page.click('[data-to="2"]')
    opened.page.click('[data-turn-to="90"]')
    links = opened.page.locator("[data-file]")
    for number, kind in enumerate((b"\x89PNG", b"<svg")):
        assert links.nth(number).get_attribute("href").endswith("lanes=1&step=2&turn=90")
        with opened.page.expect_download() as saved:
            links.nth(number).click()
        assert saved.value.path().read_bytes().startswith(kind)


def test_nothing_moves_before_somebody_asks_for_it(plan: Callable[..., Plan]) -> None:
    opened = plan()
    assert opened.page.locator("svg animateTransform").count() == 0
    assert opened.page.locator("svg .number").count() > 0  # the whole, with its steps numbered


def test_with_less_motion_there_are_steps_only(plan: Callable[..., Plan]) -> None:
    opened = plan(motion="reduce")
    assert opened.page.locator('[data-do="play"]').is_hidden()
    assert opened.page.locator("[data-speed]").is_hidden()
    opened.key(" ")
    opened.at(3.1)
    assert opened.said() == "step 2 of 3, 2.4 s"
    opened.page.click('[data-do="on"]')
    assert opened.said() == "step 3 of 3, 4.0 s"
    assert opened.off_m(4.0) < NEAR_M


def test_without_a_script_each_step_is_a_link(plan: Callable[..., Plan]) -> None:
    opened = plan(script=False)
    assert opened.page.locator("[data-bar]").is_hidden()
    opened.page.click('[data-to="2"]')
    assert opened.page.url.endswith("?step=2#plan")
    assert opened.page.locator("svg .lane-shut").count() == 3
    assert opened.page.locator('[data-said="2"]').is_visible()
    opened.page.locator(".motion-more > summary").click()
    opened.page.click('[data-turn-to="90"]')
    assert opened.page.url.endswith("?step=2&turn=90#plan")


def test_without_a_connection_the_page_says_so_and_the_links_stay(plan: Callable[..., Plan]) -> None:
    opened = plan()
    opened.page.context.set_offline(True)
    opened.page.click('[data-do="on"]')
    opened.page.wait_for_selector("[data-lost]:not([hidden])")
    opened.page.context.set_offline(False)
    opened.page.click('[data-to="3"]')
    opened.moves()
    assert (opened.page.locator("[data-lost]").is_hidden(), opened.said()) == (True, "step 3 of 3, 4.0 s")


@pytest.mark.parametrize("query", ["", "?step=2"], ids=["in motion", "still"])
def test_seconds_of_lanes_are_there_while_the_checks_are_looked_at(
    plan: Callable[..., Plan], query: str
) -> None:
    opened = plan(query=query)

    def seen(selector: str) -> list[str]:
        found = [
            each for each in opened.page.locator(f"[data-sheet] > svg {selector}").all() if each.is_visible()
        ]
        return [str(each.text_content()) for each in found]

    said = ".legend text"
    if not query:
        opened.page.click('[data-to="2"]')
        opened.moves()
    assert {"open lane", "closed lane", "where they start"} <= set(seen(said))
    assert (seen(".seconds text"), "seconds to spare" in seen(said)) == ([], False)
    opened.page.get_by_text("Sizes, figures and checks").click()
    opened.page.locator("#plan-checks").wait_for()
    assert (len(seen(".seconds text")), "seconds to spare" in seen(said)) == (2, True)
    opened.page.click('[data-do="play"]')
    opened.page.wait_for_selector('[data-do="play"]:text-is("Pause")')
    lanes = {"open lane", "closed lane", "seconds to spare"}
    assert (seen(".seconds text"), lanes & set(seen(said))) == ([], set())


def test_nobody_is_kept_out_while_a_step_is_shown(plan: Callable[..., Plan]) -> None:
    opened = plan(size=PHONE)
    opened.page.click('[data-to="2"]')
    opened.moves()
    assert complaints(opened.page) == []


def test_the_page_breaks_no_policy_while_it_moves(plan: Callable[..., Plan]) -> None:
    opened = plan()
    broken: list[str] = []
    opened.page.on("console", lambda message: broken.append(message.text))
    opened.page.on("pageerror", lambda error: broken.append(str(error)))
    opened.page.click('[data-to="2"]')
    opened.moves()
    opened.page.click('[data-turn-to="180"]')
    opened.page.wait_for_selector('svg[data-moving="180"]')
    assert opened.off_m(2.4, turn=180) < NEAR_M
    assert broken == []
