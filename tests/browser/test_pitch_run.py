"""Running a part at the pitch: the whistle, pause, a round fewer, skipped, finished early, and undo for each tap."""

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.templatetags.static import static
from playwright.sync_api import expect

from sessions.planning.account import account
from sessions.planning.fold import Event, fold
from sessions.planning.plan import PlannedPart, SessionPlan
from tests.browser.at_the_pitch import Pitch
from tests.browser.running import LOUD, begun, blasts, changed, shaken, undo
from tests.harness.accessible import complaints

MUTE = """
  delete globalThis.AudioContext; delete globalThis.webkitAudioContext; delete Navigator.prototype.vibrate;
"""
CLOCK = """async ([url, asked]) => {
  const { spells } = await import(url);
  return asked.map(({ part, dropped, at }) => {
    const all = spells(part, [], dropped);
    const play = all.filter((spell) => spell.kind === "bout");
    return [play.reduce((sum, spell) => sum + Math.max(0, Math.min(at, spell.to) - spell.from), 0), all.at(-1).to];
  });
}"""
SIX = datetime(2026, 3, 3, 18, tzinfo=UTC)


def test_the_whistle_is_tried_before_start_and_sounds_at_each_end(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.page.add_init_script(LOUD)
    phone.open("more")
    said = phone.page.locator("#whistle-said")
    expect(said).to_have_text("Off: at the end of a round or rest the phone vibrates only.")
    phone.page.click("#try-whistle")
    assert (blasts(phone), shaken(phone)) == (1, 1)
    phone.page.click("#whistle")
    expect(said).to_contain_text("It sounds and vibrates")
    assert complaints(phone.page, "more") == []
    begun(phone)
    seen = []
    phone.page.clock.run_for(2000)
    for seconds in (
        140,
        10,
        30,
        12,
        300,
    ):  # before the end, after it, in the rest, after it, two rounds and more
        phone.page.clock.run_for(seconds * 1000)
        seen.append((blasts(phone), shaken(phone)))
    # the first round ends at 150 s with one blast, its rest at 190 s with two; then 340 s (one), 380 s (two)
    assert seen == [(0, 0), (1, 1), (1, 1), (3, 2), (6, 4)]


def test_a_whistle_that_is_on_is_remembered_and_waits_for_the_first_tap(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.page.add_init_script(LOUD)
    phone.open("more")
    phone.page.click("#whistle")
    phone.page.reload()
    expect(phone.page.locator("#whistle")).to_have_attribute("aria-pressed", "true")
    expect(phone.page.locator("#whistle-said")).to_contain_text("Tap anywhere once")
    phone.page.click("#more h2")
    expect(phone.page.locator("#whistle-said")).to_contain_text("It sounds and vibrates")


def test_two_ends_while_the_page_slept_are_not_whistled_twice(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.page.add_init_script(LOUD)
    phone.open("more")
    phone.page.click("#whistle")
    begun(phone)
    phone.page.clock.run_for(2000)
    phone.page.clock.fast_forward(189_000)  # past the ends of a round and of its rest; timers fire once
    expect(phone.part(".bout")).to_have_text("Round 2/4")
    assert (blasts(phone), shaken(phone)) == (2, 1)  # the rest, which has just ended
    phone.page.clock.fast_forward(120_000 + 60_000)  # the second round, 20 s ago
    expect(phone.part(".bout")).to_have_text("Rest")
    assert (blasts(phone), shaken(phone)) == (2, 1)
    assert phone.page.evaluate(
        """() => {
          const digits = document.querySelector("article:not([hidden]) .digits");
          digits.textContent = "stale";
          document.dispatchEvent(new Event("visibilitychange"));
          return digits.textContent;
        }"""
    ).startswith("0:")


def test_a_tap_that_moves_the_clock_does_not_whistle(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.page.add_init_script(LOUD)
    begun(phone)
    phone.page.clock.run_for(2000)
    changed(phone, "drop").click()
    phone.part('[data-do="minute"]').click()
    phone.hold("#next")
    phone.says(".line span", "Part 2 of 4")
    phone.page.clock.run_for(2000)
    assert shaken(phone) == 0


def test_a_phone_that_can_neither_sound_nor_shake_says_so(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.page.add_init_script(MUTE)
    phone.open("more")
    expect(phone.page.locator("#whistle-said")).to_contain_text("can neither sound nor vibrate")
    expect(phone.page.locator("#more")).to_contain_text("A phone that is locked can't be trusted to sound.")


def test_pause_is_a_button_that_says_what_it_does(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    begun(phone)
    pause = phone.part(".pause")
    box = pause.bounding_box()
    assert min(box["width"], box["height"]) >= 44
    pause.click()
    expect(phone.part(".clock")).to_have_attribute("data-run", "held")
    expect(pause).to_have_text("Go on")
    expect(phone.part(".bout")).to_have_text("Paused · Round 1/4")
    pause.click()
    expect(phone.part(".clock")).to_have_attribute("data-run", "play")
    expect(pause).to_have_text("Pause")


def test_a_short_tap_on_the_button_to_hold_says_how(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    begun(phone)
    expect(phone.page.locator("#next")).to_have_text("Press and hold: part 2")
    phone.hold("#next", 200)
    expect(phone.page.locator("#tapped p")).to_have_text("Press and hold, until the button is full.")
    expect(phone.page.locator("#tapped button")).to_be_hidden()
    phone.says(".line span", "Part 1 of 4")


def test_rounds_are_dropped_only_while_some_are_to_come(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    begun(phone)
    drop = changed(phone, "drop")
    for left in (3, 2, 1):
        expect(drop).to_contain_text(f"{left} to come")
        drop.click()
    expect(drop).to_be_disabled()
    expect(phone.part(".bout")).to_have_text("Round 1/1")
    assert phone.part(".times").text_content().count("Round") == 1
    undo(phone, "One round fewer: 1.")
    expect(phone.part(".bout")).to_have_text("Round 1/2")
    phone.page.clock.run_for((150 + 40 + 5) * 1000)
    expect(drop).to_be_disabled()
    phone.page.clock.run_for(150_000)
    expect(phone.part(".clock")).to_have_attribute("data-run", "over")


def test_phone_and_server_agree_on_rounds_that_were_dropped(pitch: Callable[..., Pitch]) -> None:
    """Seconds of play after any time, and the minutes that a part has which nobody ended."""
    phone = pitch()
    phone.open("register")
    parts = [
        {"minutes": 12, "bouts": 4, "bout_s": 150, "rest_s": 40},
        {"minutes": 20, "bouts": 3, "bout_s": 300, "rest_s": 60},
        {"minutes": 10, "bouts": 1, "bout_s": 600, "rest_s": 0},
    ]
    asked = [
        {"part": part, "dropped": dropped, "at": at}
        for part in parts
        for dropped in range(part["bouts"] + 2)
        for at in range(0, 1300, 70)
    ]
    found = phone.page.evaluate(CLOCK, [static("sessions/pitch/clock.js"), asked])
    for each, (play_s, ends_s) in zip(asked, found, strict=True):
        part = each["part"]
        planned = PlannedPart(
            "a", part["minutes"], 4, bouts=part["bouts"], rest_s=part["rest_s"], bout_s=part["bout_s"]
        )
        plan = SessionPlan(60, (planned,), starts_at=SIX)
        ran = account(
            plan, fold(plan, [*dropping(each["dropped"]), tapped("part_ended", each["at"], part="a")])
        )
        assert play_s == pytest.approx(ran.parts[0].work_share * part["bouts"] * part["bout_s"]), each
        left = account(plan, fold(plan, [*dropping(each["dropped"]), tapped("delivered", 7200)]))
        assert ends_s == pytest.approx(left.parts[0].minutes * 60), each


def dropping(rounds: int) -> list[Event]:
    begins = tapped("part_started", 0, part="a")
    return [begins, *([tapped("bout_dropped", 0, part="a", bouts=rounds)] if rounds else [])]


def tapped(kind: str, seconds: int, **body: Any) -> Event:
    return Event(id=f"{kind}{seconds}", kind=kind, at=SIX + timedelta(seconds=seconds), body=body)


def test_a_part_is_skipped_and_the_clock_goes_to_the_next(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    begun(phone)
    skip = changed(phone, "skip")
    expect(skip).to_have_text("Skip the rest of it")
    title = phone.part(".further h2").inner_text()
    skip.click()
    phone.says(".line span", "Part 2 of 4")
    expect(phone.part(".clock")).to_have_attribute("data-run", "wait")
    undo(phone, f"Skipped: {title}")
    phone.says(".line span", "Part 1 of 4")
    phone.go("more")
    third = phone.page.locator("[data-go]").nth(2)
    third.click()
    changed(phone, "skip").click()
    phone.says(".line span", "Part 1 of 4")
    phone.go("more")
    expect(third).to_have_class("skipped")
    third.click()
    expect(phone.part(".bout")).to_contain_text("Skipped: ")
    expect(changed(phone, "skip")).to_have_text("Don't skip it")
    changed(phone, "skip").click()
    expect(phone.part(".bout")).not_to_contain_text("Skipped: ")
    phone.arrived(5)


def test_skipped_before_it_began_it_is_passed_over(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    begun(phone)
    phone.go("more")
    phone.page.locator("[data-go]").nth(1).click()
    changed(phone, "skip").click()
    expect(phone.page.locator("#next")).to_have_text("Press and hold: part 3")
    phone.hold("#next")
    phone.says(".line span", "Part 3 of 4")
    phone.arrived(3)
    assert [kind for kind, _ in phone.events()] == ["part_started", "part_skipped", "next_part"]


def test_finished_early_it_says_how_much_ran(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    begun(phone)
    phone.page.clock.run_for(25 * 60_000)
    changed(phone, "finish").click()
    expect(phone.page.locator("main")).to_have_attribute("data-view", "after")
    expect(phone.page.locator("#minutes")).to_have_value(re.compile(r"^2[5-9]$"))
    undo(phone, "Finished early.")
    expect(phone.page.locator("main")).to_have_attribute("data-view", "part")
    expect(phone.part(".clock")).to_have_attribute("data-run", "over")
    changed(phone, "finish").click()
    phone.page.click("#shortened")
    expect(phone.page.locator("#tapped p")).to_have_text(re.compile(r"^2[5-9] minutes took place$"))


def test_the_first_part_that_ran_untouched_is_recorded_when_the_second_begins(
    pitch: Callable[..., Pitch],
) -> None:
    phone = pitch()
    phone.open("part")
    phone.hold("#next")
    phone.says(".line span", "Part 2 of 4")
    phone.arrived(2)
    assert [kind for kind, _ in phone.events()] == ["part_started", "next_part"]


def test_the_clock_is_right_when_a_closed_page_is_opened_again(pitch: Callable[..., Pitch]) -> None:
    """From start times and pauses alone: the seconds of a pause are no play."""
    phone = pitch()
    begun(phone)
    phone.part(".pause").click()
    phone.page.wait_for_timeout(5000)
    phone.part(".pause").click()
    phone.arrived(3)
    read = "() => [Date.now() / 1000, document.querySelector('article:not([hidden]) .digits').textContent]"
    then, left = phone.page.evaluate(read)
    context, url = phone.page.context, phone.page.url
    phone.page.close()
    phone.page = context.new_page()
    phone.page.goto(url)
    phone.page.wait_for_selector("main[data-whole]")
    now, still = phone.page.evaluate(read)
    assert abs(seconds(left) - seconds(still) - (now - then)) < 2.5


def seconds(text: str) -> int:
    minutes, rest = re.fullmatch(r"(\d+):(\d\d)", text).groups()
    return int(minutes) * 60 + int(rest)
