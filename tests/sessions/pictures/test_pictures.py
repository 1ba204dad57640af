import xml.etree.ElementTree as ET
from datetime import datetime

import pytest

from sessions.pictures.skyline import skyline, text_alternative
from sessions.pictures.week import DayEntry, WeekDay, rows, week_picture
from sessions.planning.account import account
from sessions.planning.plan import PlannedPart, SessionPlan

PLAN = SessionPlan(
    75,
    (
        PlannedPart("a", 10, 3, "Arrival game"),
        PlannedPart("b", 12, 4, "Rondo", bouts=3, rest_s=60, changeover_s=60),
        PlannedPart("c", 30, 6.5, "Game <to> & fro", bouts=2, rest_s=90, changeover_s=120),
    ),
    datetime(2026, 3, 3, 18, 0),
)
DAYS = [
    WeekDay("Mon 2 Mar"),
    WeekDay("Tue 3 Mar", (DayEntry("training", 340, 75),)),
    WeekDay("Thu 5 Mar", (DayEntry("training", 320, 75, estimated=True),)),
    WeekDay("Sat 7 Mar", (DayEntry("match", 360, 60), DayEntry("elsewhere", 20, 10))),
]
SVG = "{http://www.w3.org/2000/svg}"


def rects(svg: str, cls: str) -> list[dict[str, float]]:
    found = [e for e in ET.fromstring(svg).iter(f"{SVG}rect") if cls in e.get("class", "").split()]
    return [{name: float(e.get(name, 0)) for name in ("x", "y", "width", "height")} for e in found]


def area(boxes: list[dict[str, float]]) -> float:
    return sum(box["width"] * box["height"] for box in boxes)


@pytest.mark.parametrize("size", ["large", "phone", "small"])
def test_area_is_load(size: str) -> None:
    svg = skyline(PLAN, budget_au=300, size=size)
    costs = account(PLAN)
    one_au = area(rects(svg, "budget")) / 300
    assert area(rects(svg, "outline")) == pytest.approx(
        sum(part.load_au for part in costs.parts) * one_au, rel=0.01
    )
    assert area(rects(svg, "changeover")) == pytest.approx(costs.changeovers_au * one_au, rel=0.02)


def test_the_budget_is_drawn_in_planned_load() -> None:
    plain, harder = skyline(PLAN, budget_au=300), skyline(PLAN, budget_au=300, k=1.2)
    assert area(rects(plain, "budget")) == pytest.approx(1.2 * area(rects(harder, "budget")), rel=0.01)


def test_rests_are_notches_inside_their_part() -> None:
    svg = skyline(PLAN)
    parts, rests = rects(svg, "outline"), rects(svg, "rest")
    assert len(rests) == 2 + 1
    minute = parts[0]["width"] / 10
    assert [round(rest["width"] / minute, 1) for rest in rests] == [1, 1, 1.5]
    assert rests[0]["y"] == parts[1]["y"]


def test_too_hard_and_over_budget_are_said_in_words_and_hatched() -> None:
    svg = skyline(PLAN, budget_au=250, hardest_cr10=6)
    assert 'class="over"' in svg
    assert "276 of 250 AU, 26 over" in svg
    assert 'class="over"' not in skyline(PLAN, budget_au=300, hardest_cr10=7)
    assert "24 to spare" in skyline(PLAN, budget_au=300)


def test_clock_times_stand_below() -> None:
    assert ">18:15<" in skyline(PLAN)
    assert ">15<" in skyline(SessionPlan(60, PLAN.parts))


def test_text_alternative() -> None:
    title, desc = text_alternative(PLAN, budget_au=300, name="Tue 3 Mar")
    assert title == "Tue 3 Mar: 3 parts, 75 min, 276 AU planned, 276 AU expected of 300 AU."
    assert desc.startswith(
        "1 Arrival game: 10 min at CR10 3, 30 AU. 2 Rondo: 12 min at CR10 4, 48 AU, 3 bouts."
    )
    assert desc.endswith("Changeovers: 3 min, 3 AU.")


@pytest.mark.parametrize(
    "svg",
    [
        *[
            skyline(PLAN, budget_au=250, hardest_cr10=6, size=size, prefix="p")
            for size in ("large", "phone", "small")
        ],
        week_picture(DAYS, budget_au=900, prefix="p"),
    ],
)
def test_pictures_are_allowed_under_a_strict_policy(svg: str) -> None:
    tree = ET.fromstring(svg)
    assert tree.get("role") == "img"
    for element in tree.iter():
        assert element.get("style") is None
        assert element.tag != f"{SVG}style"
        assert not any(name.startswith("on") for name in element.attrib)
    ids = [element.get("id") for element in tree.iter() if element.get("id")]
    assert ids == ["ptitle", "pdesc"]
    assert tree.get("aria-labelledby") == "ptitle pdesc"


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert skyline(PLAN, budget_au=300) == skyline(PLAN, budget_au=300)
    assert len(skyline(PLAN, budget_au=300, size="small")) < 4_000


def test_an_empty_plan_is_drawn() -> None:
    assert rects(skyline(SessionPlan(0, ())), "outline") == []


def test_pictures_beside_each_other_share_a_scale() -> None:
    short = SessionPlan(45, PLAN.parts[:1])
    one = rects(skyline(PLAN, size="small", minutes_shown=90), "outline")[0]["width"]
    assert rects(skyline(short, size="small", minutes_shown=90), "outline")[0]["width"] == one


def test_week_bars_are_to_scale() -> None:
    svg = week_picture(DAYS, budget_au=900)
    entry_heights = [box["height"] for box in rects(svg, "work") if box["height"] != 18] + [
        rects(svg, "match")[0]["height"]
    ]
    assert entry_heights[-1] / entry_heights[0] == pytest.approx(360 / 340, rel=0.01)
    pieces = [box["width"] for box in rects(svg, "work") if box["height"] == 18]
    assert pieces[0] / pieces[1] == pytest.approx(340 / 320, rel=0.01)
    assert rects(svg, "budget")[0]["width"] / pieces[0] == pytest.approx(900 / 340, rel=0.01)
    assert "1040 of 900 AU, 140 over" in svg


def test_week_rows_for_the_table() -> None:
    found = rows(DAYS)
    assert [row.kinds for row in found] == ["rest", "training", "training", "match, elsewhere"]
    assert [row.estimated for row in found] == [False, False, True, False]


def test_impossible_weeks_name_their_field() -> None:
    with pytest.raises(ValueError, match="days"):
        week_picture([])
    with pytest.raises(ValueError, match="load_au"):
        DayEntry("training", -1)
    with pytest.raises(ValueError, match="k"):
        skyline(PLAN, k=0)


def test_the_legend_names_only_what_is_drawn() -> None:
    assert "pale: rest · dashed: budget · hatched: over CR10 6 · a square: 5 AU" in skyline(
        PLAN, budget_au=250, hardest_cr10=6
    )
    assert ">a square: 5 AU<" in skyline(SessionPlan(60, PLAN.parts[:1]))
    assert "T training · M match · E elsewhere · dashed: estimated" in week_picture(DAYS)
    assert "estimated" not in week_picture(DAYS[:2])
