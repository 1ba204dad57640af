"""Whole pieces of work in a real browser: write a game and share it, plan an evening, come in by link or password."""

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.addresses import COACH, DIRECTOR
from tests.harness.accessible import complaints
from tests.harness.browsers import DESK, PATIENCE_MS, PHONE
from tests.harness.people import signed_in

OTHER_COACH = "coach.nines@demo.example"
BOTH_SIZES = pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
GAME = {
    "title": "Bell Tower",
    "activity": "possession",
    "moment": "in possession",
    "purpose": "Keep the ball until the bell rings, then race for the goal that has opened.",
    "themes": ["keep-the-ball", "finish"],
    "format": "4v4+2in",
    "grids-0-length_m": "24",
    "grids-0-width_m": "18",
    "grids-0-purpose": "a short rope: the bell is three strides from any goal",
    "+grid 1": "One more grid",
    "grids-1-length_m": "30",
    "grids-1-width_m": "22",
    "grids-1-purpose": "a long rope: whoever sets off first gets there",
    "say_this": "Keep it until the bell.\nIt rings: whoever has it goes for the goal on the right.\nThe ringers help whoever has the ball.",
    "restarts-0-after": "side-out",
    "restarts-0-who": "the nearer ringer",
    "restarts-0-how": "pass in",
    "+restart": "One more restart",
    "restarts-1-after": "goal",
    "restarts-1-who": "the side that let it in",
    "restarts-1-how": "next ball from the supply",
    "groups-0-name": "reds",
    "groups-0-bib": "red",
    "groups-0-least": "4",
    "groups-1-name": "blues",
    "groups-1-bib": "blue",
    "groups-1-least": "4",
    "groups-1-plays_for": "B",
    "+group": "One more group",
    "groups-2-name": "the ringers",
    "groups-2-bib": "yellow",
    "groups-2-least": "2",
    "groups-2-plays_for": "whoever has the ball",
    "groups-2-place": "inside",
    "under_from": "12",
    "under_to": "16",
    "start_trigger": "the coach rolls one in to the side called",
    "goals-0-edge": "left",
    "goals-0-shut": True,
    "+goals": "One more goal",
    "goals-1-edge": "right",
    "goals-1-shut": True,
    "scoring-0-what": "a goal after the bell",
    "scoring-0-points": "1",
    "phases-0-name": "the race",
    "phases-0-format": "4v4",
    "phases-0-ends": "a goal or the ball out",
    "phases-0-within_s": "10",
    "whens-0-when": "call",
    "whens-0-then": "goals open",
    "whens-0-goals": "right",
    "whens-0-then_1": "phase",
    "whens-0-phase_1": "#1",
    "limits-0-kind": "touches",
    "limits-0-group": "N",
    "limits-0-number": "2",
    "variations-0-title": "Four heartbeats",
    "variations-0-rung": "harder",
    "variations-0-kind_0": "seconds on the ball",
    "variations-0-who_0": "A",
    "variations-0-value_0": "4",
    "+variation 1": "One more variation",
    "variations-1-title": "Room to breathe",
    "variations-1-rung": "easier",
    "variations-1-kind_0": "grid",
    "variations-1-value_0": "36 x 28",
    "+variation 2": "One more variation",
    "variations-2-title": "Three and away",
    "variations-2-rung": "harder",
    "variations-2-kind_0": "touches",
    "variations-2-who_0": "A",
    "variations-2-value_0": "3",
    "points-0-role": "player on the ball",
    "points-0-looks_like": "Looks over a shoulder before the ball comes.",
}
QUESTIONS = (
    ("player on the ball", "between bouts", "Who did you see before the ball came?", "A name, or a free ringer."),
    ("ringer", "when the ball is out", "Where do you stand to see both goals?", "Side-on, off the line."),
    ("nearest team-mate", "between bouts", "When do you set off?", "At the fourth pass."),
    ("nearest defender", "one to one", "What do you close first?", "The way to the goal that opens."),
    ("whole team", "at the end", "How did you know the bell was near?", "Somebody counted aloud."),
)  # fmt: skip


@pytest.fixture
def enter(demo_site: Any, browser: Any) -> Iterator[Callable[..., Page]]:
    """Opens a browser of its own at a size, for somebody signed in or for nobody."""
    contexts = []

    def opened(who: str, size: Any = DESK) -> Page:
        context = browser.new_context(
            **size,
            locale="en-GB",
            timezone_id="Europe/London",
            reduced_motion="reduce",
            base_url=demo_site.url,
        )
        context.set_default_timeout(PATIENCE_MS)
        contexts.append(context)
        signed_in(context, demo_site, who)
        return context.new_page()

    yield opened
    for context in contexts:
        context.close()


def nothing_in_the_way(page: Page) -> None:
    """What stands there now keeps nobody out, and is no wider than the screen.

    Asked of the phone's size alone, which is the narrower one: what a page means does not change with its width.
    """
    if page.viewport_size["width"] < DESK["viewport"]["width"]:
        assert complaints(page) == []


def fill(page: Page, typed: dict[str, Any]) -> None:
    """Fill in fields by name, in the order given; a key that begins with + is a button to press."""
    for name, value in typed.items():
        if name.startswith("+"):
            page.get_by_role("button", name=value, exact=True).click()
            continue
        field = page.locator(f'[name="{name}"]')
        if isinstance(value, list):
            for each in value:
                page.check(f'[name="{name}"][value="{each}"]')
        elif isinstance(value, bool):
            field.set_checked(value)
        elif field.evaluate("field => field.tagName") == "SELECT":
            field.select_option(value)
        else:
            field.fill(value)


def told(page: Page, heading: str) -> list[str]:
    """The lines beneath one word of “Rules and restarts”."""
    return [
        text.strip()
        for text in page.locator(f'dl.told > div:has(dt:text-is("{heading}")) li').all_text_contents()
    ]


@BOTH_SIZES
def test_a_coach_writes_a_game_from_nothing_and_another_coach_finds_it(
    enter: Callable[..., Page], size: dict[str, Any]
) -> None:
    coach = enter(COACH, size)
    coach.goto("/library/")
    coach.get_by_role("link", name="Write a drill").click()
    # The last button first: a page that is still arriving would show only some of its folds.
    coach.get_by_role("button", name="Save it as a draft").wait_for()
    for fold in coach.locator("main details.fold > summary").all():
        fold.click()
    fill(coach, GAME)
    for number, (role, moment, ask, listen_for) in enumerate(QUESTIONS):
        if number:
            coach.get_by_role("button", name="One more question").click()
        row = {"role": role, "moment": moment, "ask": ask, "listen_for": listen_for}
        fill(coach, {f"questions-{number}-{name}": value for name, value in row.items()})
    nothing_in_the_way(coach)
    coach.get_by_role("button", name="Save it as a draft").click()

    expect(coach.get_by_role("heading", level=1)).to_have_text("Bell Tower")
    assert told(coach, "Who") == [
        "reds: 4 inside",
        "blues: 4 inside",
        "the ringers: 2 inside, plays for whoever has the ball",
    ]
    assert told(coach, "Rules") == [
        "The ringers: at most 2 touches.",
        "On the coach's call, the right goal opens and the race starts.",
    ]
    assert coach.locator("main").get_by_text("a long rope: whoever sets off first gets there").count() >= 1
    rungs = coach.locator("main").text_content()
    assert [each in rungs for each in ("Four heartbeats", "Room to breathe", "Three and away")] == [True] * 3
    assert [ask in rungs for _role, _moment, ask, _listen in QUESTIONS] == [True] * 5
    nothing_in_the_way(coach)
    address = coach.url

    other = enter(OTHER_COACH, size)
    assert other.goto(address).status == 404  # a draft is its writer's alone

    if not coach.locator("#status").evaluate("fold => fold.open"):
        coach.locator("#status > summary").click()
    coach.get_by_role("button", name="Send for review").click()
    expect(coach.locator(".state").first).to_have_text("for review")

    director = enter(DIRECTOR, size)
    director.goto(address)
    director.get_by_label("Your note").fill("Runs well on both pitches.")
    director.get_by_role("button", name="Make it the club's standard").click()
    expect(director.locator(".state")).to_have_count(0)  # the standard is what is not said

    other.goto("/library/?q=Bell+Tower")
    other.get_by_role("link", name="Bell Tower", exact=True).first.click()
    expect(other.get_by_role("heading", level=1)).to_have_text("Bell Tower")
    nothing_in_the_way(other)


PARTS = (("Colour Chain", "12"), ("Bite Back", "16"), ("All Aboard", "18"), ("Echo", "18"))


def set_minutes(page: Page, minutes: list[str]) -> None:
    """Give each part its minutes, let the bouts share them out, and count again."""
    for number, each in enumerate(minutes):
        fill(page, {f"p{number}-minutes": each, f"p{number}-bout": ""})
    page.get_by_role("button", name="Update", exact=True).last.click()


@BOTH_SIZES
def test_an_empty_slot_becomes_an_evening_and_the_director_moves_it(
    enter: Callable[..., Page], size: dict[str, Any]
) -> None:
    coach = enter(COACH, size)
    coach.goto("/sessions/weeks/")
    nothing_in_the_way(coach)
    if size is PHONE:  # one week at a time; the third has nothing planned yet
        coach.locator("nav.pager .phone-only a").nth(2).click()
    coach.get_by_role("link", name="plan it").first.click()
    fill(coach, {"title": "Steal and go", "start_from": "blank", "players_expected": "13"})
    nothing_in_the_way(coach)
    coach.get_by_role("button", name="Plan it").click()

    for title, _minutes in PARTS:
        if not coach.locator('[name="tonight"]').is_visible():
            coach.locator("#library summary").click()
        fill(coach, {"q": title, "tonight": False})
        coach.get_by_role("button", name="Search", exact=True).click()
        coach.get_by_role("button", name=f"Add {title}", exact=True).click()
        expect(coach.locator(".part-rows h3").last).to_contain_text(title)
    set_minutes(coach, ["20", "24", "24", "26"])
    reasons = coach.locator("aside.tally .reasons, .part-row .reasons")
    expect(coach.locator("output#minutes")).to_contain_text("too many")
    expect(reasons.get_by_text("338 AU for a session").first).to_be_visible()
    nothing_in_the_way(coach)
    set_minutes(coach, [minutes for _title, minutes in PARTS])
    expect(coach.locator("output#minutes")).not_to_contain_text("too many")
    coach.get_by_role("button", name="Save the parts").click()

    expect(coach.get_by_role("heading", level=1)).to_have_text("Steal and go")
    address = coach.url
    carry = coach.locator("aside.by-the-plan")
    assert "4 mini goals of 16" in " ".join(carry.inner_text().split())
    part = coach.locator("section.part", has=coach.locator("h2", has_text="All Aboard"))
    part.locator(".tools > summary").click()
    fill_in = {"players": "14", "length": "40", "width": "30"}
    for name, value in fill_in.items():
        part.locator(f'[name="{name}"]').fill(value)
    part.get_by_role("button", name="Set up", exact=True).click()
    expect(coach.get_by_role("heading", level=1)).to_have_text("All Aboard tonight")
    card = coach.locator("li.card").first
    numbers = card.locator("h3").inner_text()
    assert card.locator(".lines li").count() >= 1
    nothing_in_the_way(coach)
    card.get_by_role("button", name="Play it like this tonight").click()
    part = coach.locator("section.part", has=coach.locator("h2", has_text="All Aboard"))
    part.locator(".tools > summary").click()
    expect(part.get_by_role("button", name="Back to the drill as written")).to_be_visible()
    assert " ".join(numbers.split()) in " ".join(part.inner_text().split())
    expect(part.get_by_text("for 14 players")).to_be_visible()
    nothing_in_the_way(coach)

    director = enter(DIRECTOR, size)
    director.goto(address)
    director.locator(".more-acts > summary").click()
    director.get_by_role("link", name="Move it").click()
    day, starts = director.input_value('[name="day"]'), director.input_value('[name="starts"]')
    before = date.fromisoformat(day) - timedelta(days=7)
    fill(director, {"day": before.isoformat()})
    director.get_by_role("button", name="Move it").click()
    wrong = director.get_by_role("alert")
    expect(wrong).to_contain_text("Herons")
    expect(wrong).to_contain_text(f"{before:%a} {before.day} {before:%b} {starts[:5]}")
    nothing_in_the_way(director)
    later = date.fromisoformat(day) + timedelta(days=1)
    fill(director, {"day": later.isoformat(), "starts": "19:30", "ends": "20:45"})
    director.get_by_role("button", name="Move it").click()
    director.get_by_label("Yes, all the same").check()  # it is another team's weekly slot
    nothing_in_the_way(director)
    director.get_by_role("button", name="Move it").click()
    expect(director.locator(".lead").first).to_contain_text(f"{later:%a} {later.day} {later:%b}, 19:30–20:45")


def test_a_link_lets_somebody_in_once(enter: Callable[..., Page], demo_site: Any) -> None:
    link = demo_site.sign_in_link("helper@demo.example")
    page = enter("", PHONE)
    page.goto(link)
    nothing_in_the_way(page)
    page.get_by_role("button", name="Sign in").click()
    expect(page).to_have_url(f"{demo_site.url}/")
    stranger = enter("", PHONE)
    stranger.goto(link)
    expect(stranger.get_by_role("heading", level=1)).to_have_text("This link no longer works")
    nothing_in_the_way(stranger)


def test_the_director_invites_and_a_password_opens_the_door(
    enter: Callable[..., Page], demo_site: Any
) -> None:
    director = enter(DIRECTOR, PHONE)
    director.goto("/club/staff/")
    director.get_by_role("link", name="Invite somebody").click()
    director.get_by_label("Email").fill("newcomer@demo.example")
    director.get_by_label("Role").select_option("reader")
    nothing_in_the_way(director)
    director.locator("form.form button.go").click()
    link = director.locator("p.code").inner_text().strip()

    page = enter("", PHONE)
    page.goto(link)
    nothing_in_the_way(page)
    password = "a row of plain words"
    fill(page, {"name": "Wren Calloway", "password": password, "again": password})
    page.get_by_role("button", name="Make my account").click()
    expect(page.get_by_text("Wren Calloway").first).to_be_visible()
    page.get_by_text("Wren Calloway").first.click()
    page.get_by_role("button", name="Sign out").click()
    page.goto("/squads/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Sign in")
    fill(page, {"login": "newcomer@demo.example", "password": "not these words"})
    page.get_by_role("button", name="Sign in").click()
    expect(page.locator(".errors, .warning-box").first).to_be_visible()
    assert page.input_value('[name="login"]') == "newcomer@demo.example"
    nothing_in_the_way(page)
    fill(page, {"password": password})
    page.get_by_role("button", name="Sign in").click()
    expect(page).to_have_url(f"{demo_site.url}/squads/")
