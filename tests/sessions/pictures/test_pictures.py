import xml.etree.ElementTree as ET
from datetime import datetime

import pytest

from sessions.pictures.section import plan_and_section
from sessions.pictures.week import DayEntry, WeekDay, rows, week_picture
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


@pytest.mark.parametrize(
    "svg",
    [
        *[
            plan_and_section(PLAN, budget_au=250, hardest_cr10=6, size=size, prefix="p")
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


def test_the_legend_names_only_what_is_drawn() -> None:
    assert "T training · M match · E elsewhere · dashed: estimated" in week_picture(DAYS)
    assert "estimated" not in week_picture(DAYS[:2])
