"""When each thing of an evening is laid: nothing twice, all of it in time, and never later with more adults."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sessions.planning.laying import Crew, GridAt, PartToLay, PlacedKit, SetUpPlan, set_up_plan
from sessions.planning.laying.plan import in_the_way

SMALL = GridAt("Mill", (30, 30, 100, 100), (30, 30, 100, 100))
LARGE = GridAt("Mill", (30, 30, 300, 200), (30, 30, 300, 200))
BESIDE = GridAt("Mill", (400, 30, 100, 100), (400, 30, 100, 100))


def corners(grid: GridAt, seconds: int = 30) -> tuple[PlacedKit, ...]:
    x, y, length, width = grid.grid
    spots = [(x, y), (x + length, y), (x, y + width), (x + length, y + width)]
    return tuple(PlacedKit("cones", grid.space, (*spot, 0, 0), seconds=seconds) for spot in spots)


def part(key: str, *grids: GridAt, changeover_s: int = 120, **more: object) -> PartToLay:
    things = tuple(dict.fromkeys(each for grid in grids for each in corners(grid)))
    return PartToLay(key, things, grids, play_s=900, changeover_s=changeover_s, **more)  # type: ignore[arg-type]


# --- single evenings ----------------------------------------------------------------------------------------------


def test_what_stands_is_not_carried_twice() -> None:
    plan = set_up_plan([part("1", SMALL), part("2", SMALL)], Crew(1))
    assert [(each.when, each.part) for each in plan.lays] == [("before", 0)]
    assert plan.stays(1) == {"cones": 4}
    assert (plan.before_minutes, plan.changing_s(1), plan.reasons) == (2, 0, ())


def test_a_larger_grid_around_the_same_corner_keeps_that_corner() -> None:
    plan = set_up_plan([part("1", SMALL), part("2", LARGE)], Crew(1))
    assert plan.stays(1) == {"cones": 1}
    assert [(each.when, each.kit) for each in plan.laid_for(1)] == [("changeover", {"cones": 3})]
    assert plan.changeover_minutes(1) == 1.5


def test_both_sets_of_corners_are_laid_before_the_start_where_the_break_is_too_short() -> None:
    plan = set_up_plan([part("1", SMALL), part("2", LARGE, changeover_s=30)], Crew(1))
    assert [(each.when, each.part, each.kit) for each in plan.lays] == [
        ("before", 0, {"cones": 4}),
        ("before", 1, {"cones": 2}),
        ("changeover", 1, {"cones": 1}),
    ]
    assert (plan.before_minutes, plan.most, plan.reasons) == (3, {"cones": 6}, ())


def test_what_would_stand_inside_the_first_game_waits_and_the_part_says_how_much_is_missing() -> None:
    plan = set_up_plan([part("1", LARGE), part("2", SMALL, changeover_s=30)], Crew(1))
    # Three corners of the small grid lie on or inside the large one; on its edge a flat cone is in nobody's way.
    assert plan.reasons == ()
    inner = GridAt("Mill", (100, 100, 100, 80), (100, 100, 100, 80))
    (found,) = set_up_plan([part("1", LARGE), part("2", inner, changeover_s=30)], Crew(1)).reasons
    assert found.part == "2"
    assert found.text == ("Setting up this part takes 2 min and the changeover has 0.5 min: 1.5 min short.")
    assert [each.text for each in found.clears] == [
        "2 min for the changeover would do, or a drill on the grid that is there already."
    ]


def test_a_spare_adult_lays_the_next_part_while_this_one_is_played() -> None:
    parts = [part("1", SMALL, needed=2), part("2", BESIDE, needed=2, changeover_s=0)]
    alone = set_up_plan(parts, Crew(2))
    assert [(each.when, each.part) for each in alone.lays] == [("before", 0), ("before", 1)]
    assert alone.before_minutes == 2  # 8 cones of half a minute, two adults
    helped = set_up_plan(parts, Crew(3))
    assert [(each.when, each.at, each.part, each.adults) for each in helped.lays] == [
        ("before", 0, 0, 3),
        ("during", 0, 1, 1),
    ]
    assert helped.before_minutes == 1


def test_kit_that_the_club_has_once_is_moved_in_the_changeover() -> None:
    parts = [part("1", SMALL), part("2", BESIDE, changeover_s=60)]
    plan = set_up_plan(parts, Crew(1), {"cones": 5})
    assert [(each.when, each.kit) for each in plan.laid_for(1)] == [
        ("before", {"cones": 1}),
        ("changeover", {"cones": 3}),
    ]
    assert plan.short_s(1) == 30
    assert plan.most == {"cones": 5}


def test_goals_stand_well_clear_of_a_game_that_does_not_need_them() -> None:
    near, far = (PlacedKit("mini goals", "Mill", (x, 80, 0, 0), seconds=60) for x in (145, 150))
    assert in_the_way(near, part("1", SMALL))
    assert not in_the_way(far, part("1", SMALL))
    assert not in_the_way(PlacedKit("cones", "Mill", (130, 80, 0, 0)), part("1", SMALL))
    assert not in_the_way(PlacedKit("cones", "Lane", (80, 80, 0, 0)), part("1", SMALL))


def test_goals_that_come_back_stay_standing_through_a_part_that_does_not_use_them() -> None:
    goal = PlacedKit("mini goals", "Mill", (600, 80, 0, 0), seconds=60)
    ends = PartToLay("1", (goal,), (BESIDE,), 900, 60)
    middle = part("2", SMALL)
    again = PartToLay("3", (goal,), (BESIDE,), 900, 60)
    plan = set_up_plan([ends, middle, again], Crew(1))
    assert (plan.stays(2), plan.laid_for(2)) == ({"mini goals": 1}, ())
    over_it = GridAt("Mill", (500, 30, 200, 100), (500, 30, 200, 100))
    moved = set_up_plan([ends, part("2", over_it), again], Crew(1))
    assert (moved.stays(2), moved.changeover_minutes(2)) == ({}, 1)


def test_two_things_in_one_place_are_refused() -> None:
    with pytest.raises(ValueError, match="things"):
        PartToLay("1", corners(SMALL) * 2)


# --- any evening --------------------------------------------------------------------------------------------------

KINDS = st.sampled_from(["cones", "mini goals", "poles"])
SPOTS = st.tuples(st.sampled_from([0, 50, 200, 420]), st.sampled_from([0, 60, 150]), st.just(0), st.just(0))
SECONDS = st.integers(0, 9).map(lambda n: n * 7)


@st.composite
def any_part(draw: st.DrawFn, key: str, most: int = 6) -> PartToLay:
    things = draw(st.lists(st.tuples(KINDS, SPOTS, SECONDS), max_size=most, unique_by=lambda each: each[:2]))
    grids = draw(st.lists(st.sampled_from([SMALL, LARGE, BESIDE]), max_size=2, unique=True))
    return PartToLay(
        key,
        tuple(PlacedKit(kind, "Mill", spot, seconds=seconds) for kind, spot, seconds in things),
        tuple(grids),
        play_s=draw(st.sampled_from([0, 60, 900])),
        changeover_s=draw(st.sampled_from([0, 30, 60, 120])),
        needed=draw(st.integers(0, 3)),
    )


@st.composite
def evenings(draw: st.DrawFn, most_parts: int = 4, most: int = 6) -> tuple[PartToLay, ...]:
    return tuple(draw(any_part(str(n), most)) for n in range(draw(st.integers(0, most_parts))))


STOCK = st.dictionaries(KINDS, st.integers(0, 8))


def standing_at(plan: SetUpPlan) -> list[set[PlacedKit]]:
    """What is out at the start of each part, followed step by step from what the plan says is laid and stays."""
    found = []
    for index, each in enumerate(plan.parts):
        laid = {thing for lay in plan.laid_for(index) for thing in lay.things}
        before = {thing for other in found for thing in other}
        stays = set(plan.stands[index]) - laid
        assert stays <= before, "nothing stands that was never laid"
        found.append((laid | stays) & set(each.things))
    return found


@given(evenings(), st.integers(0, 5), STOCK)
def test_all_that_a_part_needs_stands_at_its_start_and_nothing_is_laid_twice_for_it(
    parts: tuple[PartToLay, ...], adults: int, stock: dict[str, int]
) -> None:
    plan = set_up_plan(parts, Crew(adults), stock)
    assert standing_at(plan) == [set(each.things) for each in parts]
    for index in range(len(parts)):
        laid = [thing for lay in plan.laid_for(index) for thing in lay.things]
        assert len(laid) == len(set(laid))
        if index:  # what the part before has out is never carried again
            assert not set(laid) & set(parts[index - 1].things)
    for lay in plan.lays:
        until = lay.part
        first = {"before": 0, "during": lay.at, "changeover": until}[lay.when]
        for n in range(first, until):
            assert not any(in_the_way(each, parts[n]) for each in lay.things if each not in parts[n].things)
        if lay.when == "during":
            assert lay.at == lay.part - 1
            assert lay.adults <= adults - parts[lay.at].needed
            assert lay.seconds <= parts[lay.at].play_s + 1e-9


@given(evenings(), st.integers(0, 4), STOCK)
def test_no_more_is_out_than_the_club_has_unless_a_part_alone_needs_more(
    parts: tuple[PartToLay, ...], adults: int, stock: dict[str, int]
) -> None:
    plan = set_up_plan(parts, Crew(adults), stock)
    for kind, count in plan.most.items():
        alone = max((sum(each.kind == kind for each in one.things) for one in parts), default=0)
        assert alone <= count <= max(alone, stock.get(kind, count))


@given(evenings(), st.integers(0, 4), STOCK)
def test_more_adults_never_take_longer(
    parts: tuple[PartToLay, ...], adults: int, stock: dict[str, int]
) -> None:
    few, many = (set_up_plan(parts, Crew(each), stock) for each in (adults, adults + 1))
    short = [round(sum(plan.short_s(n) for n in range(len(parts))), 6) for plan in (few, many)]
    assert (short[1], many.before_minutes) <= (short[0], few.before_minutes)


@given(evenings(), st.integers(0, 4), STOCK)
def test_the_same_evening_has_the_same_plan(
    parts: tuple[PartToLay, ...], adults: int, stock: dict[str, int]
) -> None:
    assert set_up_plan(parts, Crew(adults), stock) == set_up_plan(parts, Crew(adults), dict(stock))


@given(evenings(), st.integers(0, 4), STOCK)
def test_a_part_says_so_exactly_where_its_changeover_is_too_short(
    parts: tuple[PartToLay, ...], adults: int, stock: dict[str, int]
) -> None:
    plan = set_up_plan(parts, Crew(adults), stock)
    short = {
        each.key for n, each in enumerate(parts) if n and plan.changing_s(n) > each.changeover_s + 15.0001
    }
    assert {each.part for each in plan.reasons} == short


# --- the oracle: every way to share the laying out ----------------------------------------------------------------


def least(parts: tuple[PartToLay, ...], crew: Crew) -> tuple[float, int]:
    """The least (seconds short, minutes before the start) of all plans, where the club has enough of everything."""
    free = []
    for index, each in enumerate(parts):
        for thing in each.things:
            uses = [n for n in range(index) if thing in parts[n].things]
            between = range(uses[-1] + 1, index) if uses else range(0)
            if not uses or any(in_the_way(thing, parts[n]) for n in between):
                free.append((index, thing))
    best = (float("inf"), 0)
    for ways in product(("before", "during", "changeover"), repeat=len(free)):
        before = 0.0
        changing, during = [0.0] * len(parts), [0.0] * len(parts)
        for (index, thing), way in zip(free, ways, strict=True):
            first = {"before": 0, "during": index - 1, "changeover": index}[way]
            stands = range(max(0, first), index)
            if any(thing not in parts[n].things and in_the_way(thing, parts[n]) for n in stands):
                break
            if index == 0 and way != "before":
                break
            if way == "before":
                before += thing.seconds / crew.before
            elif way == "changeover":
                changing[index] += thing.seconds / crew.between
            else:
                during[index - 1] += thing.seconds
        else:
            if all(
                seconds <= crew.spare(each) * each.play_s + 1e-9
                for seconds, each in zip(during, parts, strict=True)
            ):
                over = [seconds - each.changeover_s for seconds, each in zip(changing, parts, strict=True)]
                short = sum(each for each in over[1:] if each > 15 + 1e-6)
                minutes = -int(-(before - 1e-9) // 60)
                best = min(best, (round(short, 6), minutes))
    return best


@given(evenings(most_parts=3, most=3), st.integers(0, 3))
def test_no_plan_is_shorter(parts: tuple[PartToLay, ...], adults: int) -> None:
    plan = set_up_plan(parts, Crew(adults))
    reached = round(sum(plan.short_s(n) for n in range(len(parts))), 6), plan.before_minutes
    oracle = min(least(parts, Crew(each)) for each in range(min(1, adults), adults + 1))
    assert reached >= oracle
    if all(Crew(adults).spare(each) == 0 or each.play_s in (0, 900) for each in parts):
        assert reached == oracle  # while others play there is time for all of it, or for none
