"""The clock, the plan and the fold of the page at the pitch, and that nobody is kept out of it."""

from collections.abc import Callable
from datetime import datetime, timedelta
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

from tests.browser.at_the_pitch import Pitch
from tests.harness.accessible import complaints, pale_in_other_schemes

VIEWS = ("part", "register", "numbers", "after", "more")


def test_bouts_and_rests_run_on_by_themselves(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open()
    phone.page.click("#begin")
    seen = []
    for _ in range(9):
        seen.append((phone.part(".bout").inner_text(), phone.part(".clock").get_attribute("data-run")))
        phone.page.clock.run_for(100_000)
    # four bouts of 150 s with rests of 40 s, looked at every 100 s
    assert seen == [
        ("Round 1/4", "play"),
        ("Round 1/4", "play"),
        ("Round 2/4", "play"),
        ("Round 2/4", "play"),
        ("Round 3/4", "play"),
        ("Round 3/4", "play"),
        ("Round 4/4", "play"),
        ("Round 4/4", "play"),
        ("Time is up", "over"),
    ]


def test_the_plan_turns_and_its_words_stay_upright(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    drawn = phone.part("[data-plan]:not([hidden]) svg").first
    flat = [float(each) for each in drawn.get_attribute("viewBox").split()]
    for turns in (1, 2, 3, 4):
        phone.part(".turn").click()
        box = [float(each) for each in drawn.get_attribute("viewBox").split()]
        assert box[2:] == (flat[2:] if turns % 2 == 0 else flat[:1:-1])
        # every name and number is read from below: wider than it is tall is how "Coach" shows it
        coach = drawn.locator("text", has_text="Coach").bounding_box()
        assert coach["width"] > coach["height"]
        frame, sheet = phone.part("figure.plan").bounding_box(), drawn.locator(".grid").bounding_box()
        edges = [frame["y"], sheet["y"], sheet["y"] + sheet["height"], frame["y"] + frame["height"]]
        assert edges == sorted(edges)


def test_nobody_is_kept_out(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    phone.part('[data-do="harder"]').click()
    found = []
    for view in VIEWS:
        if view == "numbers":
            phone.go("part")
            phone.part('[data-do="numbers"]').click()
            phone.page.wait_for_selector(".answer")
        else:
            phone.go(view)
        if view == "register":
            phone.page.locator("#names .more").first.click()
        found += complaints(phone.page, view) + pale_in_other_schemes(phone.page, view)
    assert found == []


def test_the_phone_folds_as_the_server_does(pitch: Callable[..., Pitch]) -> None:
    from sessions.planning.fold import Event, fold
    from sessions.planning.plan import PlannedPart, SessionPlan

    phone = pitch()
    phone.open("part")
    random, start = Random(11), datetime(2026, 3, 3, 18, tzinfo=ZoneInfo("UTC"))
    plan = SessionPlan(60, (PlannedPart("a", 20, 3), PlannedPart("b", 30, 6)), starts_at=start)
    evenings = [[_any_event(random, number) for number in range(25)] for _ in range(40)]
    flat = [
        [
            {"id": e["id"], "kind": e["kind"], "ms": int((start.timestamp() + e["s"]) * 1000), **e["body"]}
            for e in each
        ]
        for each in evenings
    ]
    base = phone.url.split("/sessions/")[0]
    shown = phone.page.evaluate(
        """async ([url, evenings]) => {
          const { fold } = await import(url);
          return evenings.map((events) => {
            const state = fold(events, ["a", "b"]);
            const parts = [...state.parts.values()].map((p) => [p.started, p.ended, p.held, p.heldSince, p.rung, p.extras.length]);
            return { register: Object.fromEntries([...state.register].map(([k, l]) => [k, [l.state, l.taking, l.limits, l.most]])), parts };
          });
        }""",
        [f"{base}/static/sessions/pitch/fold.js", flat],
    )
    for evening, theirs in zip(evenings, shown, strict=True):
        state = fold(
            plan,
            [
                Event(id=e["id"], kind=e["kind"], at=start + timedelta(seconds=e["s"]), body=e["body"])
                for e in evening
            ],
        )
        ours = {
            key: [line.state, line.taking, list(line.limits), line.at_most_min]
            for key, line in state.register.items()
        }
        assert {k: [s, t, sorted(li), m] for k, (s, t, li, m) in theirs["register"].items()} == ours
        assert theirs["parts"] == [
            [
                _ms(p.started_at),
                _ms(p.ended_at),
                p.held_s * 1000,
                _ms(p.held_since),
                p.variation,
                p.extra_minutes,
            ]
            for p in state.parts
        ]


def _ms(moment: datetime | None) -> int | None:
    return None if moment is None else int(moment.timestamp() * 1000)


def _any_event(random: Random, number: int) -> dict[str, Any]:
    kind = random.choice(
        [
            "arrived",
            "late",
            "left",
            "limited",
            "watching",
            "absent",
            "guest",
            "part_started",
            "next_part",
            "part_ended",
            "bout_held",
            "bout_resumed",
            "harder",
            "minute_more",
        ]
    )
    body: dict[str, Any] = {"player": random.choice("xyz")}
    if kind == "limited" and random.random() < 0.6:
        body |= {"limits": random.sample(["no_contact", "no_heading"], random.randint(1, 2))}
    if kind not in ("arrived", "late", "left", "limited", "watching", "absent", "guest"):
        body = {"part": random.choice("ab")}
    if kind == "harder":
        body["to"] = random.choice(["tight", "quick"])
    return {"id": f"e{number:02}", "kind": kind, "s": random.randint(0, 3600), "body": body}
