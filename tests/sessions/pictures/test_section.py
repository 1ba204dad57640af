"""A session as plan and section. Outside oracle: areas of rectangles are width × height; load is CR10 × minutes (session-RPE)."""

import xml.etree.ElementTree as ET
from datetime import datetime

import pytest

from sessions.pictures.section import in_words, plan_and_section
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
DRAWN = '<svg class="plan" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 160 120" role="img" aria-labelledby="t-title"><title id="t-title">A plan.</title><rect width="160" height="120"/></svg>'
SVG = "{http://www.w3.org/2000/svg}"


def rects(svg: str, cls: str) -> list[dict[str, float]]:
    found = [e for e in ET.fromstring(svg).iter(f"{SVG}rect") if cls in e.get("class", "").split()]
    return [{name: float(e.get(name, 0)) for name in ("x", "y", "width", "height")} for e in found]


def area(boxes: list[dict[str, float]]) -> float:
    return sum(box["width"] * box["height"] for box in boxes)


def level_y(svg: str) -> float:
    path = next(e for e in ET.fromstring(svg).iter(f"{SVG}path") if e.get("class") == "level")
    return float(path.get("d", "").split("H")[0].split(" ")[1])


def inked(svg: str) -> float:
    """How long all strokes of the hatching are together, along the width, per unit of the outlines' area."""
    hatched = [e.get("d", "") for e in ET.fromstring(svg).iter(f"{SVG}path") if e.get("class") == "hatch"]
    ends = [(stroke.split("L")) for d in hatched for stroke in d.split("M")[1:]]
    return sum(float(b.split()[0]) - float(a.split()[0]) for a, b in ends) / area(rects(svg, "outline"))


@pytest.mark.parametrize("size", ["large", "phone", "small"])
def test_area_is_load(size) -> None:
    svg, costs = plan_and_section(PLAN, size=size), account(PLAN)
    tape = rects(svg, "tape")[0]
    cuts = rects(svg, "outline")
    assert {round(cut["y"], 1) for cut in cuts} == {
        round(tape["y"] + tape["height"], 1)
    }  # it hangs from the tape
    one_au = area(cuts) / sum(part.load_au for part in costs.parts)
    for cut, part in zip(cuts, costs.parts, strict=True):
        assert cut["width"] * cut["height"] == pytest.approx(part.load_au * one_au, rel=0.02)
    assert area(rects(svg, "changeover")) == pytest.approx(costs.changeovers_au * one_au, rel=0.06)


@pytest.mark.parametrize("k", [1.0, 1.2])
def test_the_level_lies_where_the_whole_sessions_area_is_the_budget(k: float) -> None:
    svg = plan_and_section(PLAN, budget_au=300, k=k)
    tape, cuts = rects(svg, "tape")[0], rects(svg, "outline")
    one_au = area(cuts) / sum(part.load_au for part in account(PLAN).parts)
    deep = level_y(svg) - tape["y"] - tape["height"]
    assert tape["width"] * deep == pytest.approx(300 / k * one_au, rel=0.02)


def test_a_plan_is_no_wider_than_its_minutes_and_stands_on_the_tape() -> None:
    svg = plan_and_section(PLAN, plans=[DRAWN, "", DRAWN])
    nested = [e for e in ET.fromstring(svg).iter(f"{SVG}svg") if e.get("x")]
    cuts, tape = rects(svg, "outline"), rects(svg, "tape")[0]
    assert len(nested) == 2
    for each, cut in zip(nested, (cuts[0], cuts[2]), strict=True):
        x, y, width, height = (float(each.get(name, 0)) for name in ("x", "y", "width", "height"))
        assert cut["x"] <= x
        assert x + width <= cut["x"] + cut["width"]
        assert y + height == pytest.approx(tape["y"] - 1, abs=0.2)
        assert width / height == pytest.approx(160 / 120, rel=0.01)


def test_a_plan_inside_has_no_words_of_its_own() -> None:
    root = ET.fromstring(plan_and_section(PLAN, plans=[DRAWN], prefix="p-"))
    assert [e.get("id") for e in root.iter(f"{SVG}title")] == ["p-title"]
    assert [e.get("role") for e in root.iter(f"{SVG}svg")] == ["img", None]


def test_harder_is_hatched_closer_and_rest_is_left_blank() -> None:
    def one(cr10: float, **more: int) -> float:
        return inked(plan_and_section(SessionPlan(60, (PlannedPart("a", 20, cr10, **more),))))

    assert one(3) < one(5) < one(7) < one(9)
    assert one(6, bouts=4, rest_s=120) < one(6)


def test_number_and_plan_lead_to_the_part() -> None:
    svg = plan_and_section(PLAN, plans=[DRAWN] * 3, links=["#part-1", "#part-2", "#part-3"])
    assert [e.get("href") for e in ET.fromstring(svg).iter(f"{SVG}a")] == ["#part-1", "#part-2", "#part-3"]


def test_what_is_too_hard_is_crossed() -> None:
    assert 'class="over"' in plan_and_section(PLAN, hardest_cr10=6)
    assert 'class="over"' not in plan_and_section(PLAN, hardest_cr10=7)


def test_it_is_said_in_words_without_figures_of_load() -> None:
    title, desc = in_words(PLAN, budget_au=250, name="Tuesday")
    assert title == "Tuesday: 3 parts, 75 min."
    assert desc.startswith("1 Arrival game: 10 min, effort 3.")
    assert desc.endswith("Changeovers: 3 min. Over the budget by a tenth of it.")
    assert "AU" not in plan_and_section(PLAN, budget_au=250)
    assert "Over" not in in_words(PLAN, budget_au=300)[1]


def test_clock_times_stand_on_the_tape_and_minutes_where_no_time_is_known() -> None:
    assert ">18:15<" in plan_and_section(PLAN)
    assert ">15<" in plan_and_section(SessionPlan(60, PLAN.parts))


def test_pictures_beside_each_other_share_one_scale() -> None:
    short = SessionPlan(45, PLAN.parts[:1])
    wide = [
        rects(plan_and_section(each, size="small", minutes_shown=90), "outline")[0]["width"]
        for each in (PLAN, short)
    ]
    assert wide[0] == wide[1]


def test_the_same_bytes_for_the_same_plan_and_few_in_small() -> None:
    assert plan_and_section(PLAN, budget_au=300) == plan_and_section(PLAN, budget_au=300)
    assert len(plan_and_section(PLAN, budget_au=300, size="small")) < 4_000


def test_an_empty_plan_is_an_empty_tape() -> None:
    svg = plan_and_section(SessionPlan(0, ()))
    assert rects(svg, "outline") == []
    assert len(rects(svg, "tape")) == 1


def test_a_factor_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="k: must be more than 0"):
        plan_and_section(PLAN, k=0)
