"""Groups are counted: the slots they fill, the numbers they can hold, and how a slot is shared."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from drills.game.document import DrillDocument, decode
from drills.game.document.choices import GroupHome
from drills.game.fit.candidates import formats
from drills.game.format import Format
from drills.game.groups import (
    Bounds,
    FormatSlot,
    group_bounds,
    player_groups,
    slot_bounds,
    slot_players,
    slots_of,
    total,
    written,
)
from drills.game.roster import group_counts, roster_of
from drills.game.variations import BASE, played
from tests.drills.samples import small

FOLDER = Path(__file__).parents[3] / "bibrack" / "demo" / "drills"
DEMO = {path.stem: decode(path.read_bytes()) for path in sorted(FOLDER.glob("*.json"))}
RUNGS = [(name, key) for name, doc in DEMO.items() for key in (BASE, *(each.key for each in doc.variations))]


def group(key: str, least: int, most: int | None = None, plays_for: str = "A", **more: Any) -> dict[str, Any]:
    bounds = {"least": least} if most is None else {"least": least, "most": most}
    return {"key": key, "name": f"the {key}", "plays_for": plays_for, "place": "inside", **bounds, **more}


def drill(format: str, *groups: dict[str, Any], **more: Any) -> DrillDocument:
    return small(format=format, groups=list(groups), **more)


def counts(format: str, *groups: dict[str, Any], tonight: str = "", **more: Any) -> dict[str, int] | None:
    return group_counts(drill(format, *groups, **more), Format.parse(tonight or format))


REDS, BLUES = group("reds", 4), group("blues", 4, plays_for="B")
BALL = "whoever has the ball"


# --- slots -------------------------------------------------------------------------------------------------------


def test_sides_and_neutrals_each_have_their_slot() -> None:
    neutrals = group("yellows", 2, plays_for=BALL, place="every side")
    found = slots_of(drill("4v4v4+2", REDS, BLUES, group("greens", 4, plays_for="C"), neutrals))
    assert found == {
        "reds": FormatSlot("A", "inside"),
        "blues": FormatSlot("B", "inside"),
        "greens": FormatSlot("C", "inside"),
        "yellows": FormatSlot("neutral", "inside"),  # all neutrals: nothing else is told apart
    }


def test_a_group_whose_side_is_not_in_the_format_has_no_slot() -> None:
    found = slots_of(
        drill("4v4", REDS, BLUES, group("greens", 4, plays_for="C"), group("n", 1, plays_for=BALL))
    )
    assert (found["greens"], found["n"]) == (None, None)


def test_inside_and_outside_are_told_apart_where_format_and_groups_do() -> None:
    out = group("out", 2, place="end line")
    assert slots_of(drill("4(+2)v4", REDS, out, BLUES))["out"] == FormatSlot("A", "outside")
    assert slots_of(drill("6v4", REDS, out, BLUES))["out"] == FormatSlot("A", "inside")
    assert slots_of(drill("4(+2)v4", group("reds", 6), BLUES))["reds"] == FormatSlot("A", "inside")
    jokers = group("in", 1, plays_for=BALL), group("round", 2, plays_for=BALL, place="every side")
    found = slots_of(drill("4v4+1in+2", REDS, BLUES, *jokers))
    assert (found["in"], found["round"]) == (
        FormatSlot("neutral", "inside"),
        FormatSlot("neutral", "outside"),
    )


def test_a_keeper_has_a_slot_where_the_side_has_one_in_the_format() -> None:
    keeper = group("k", 1, place="goal", role="keeper")
    assert slots_of(drill("GK+4v4", keeper, REDS, BLUES))["k"] == FormatSlot("A", "keeper")
    assert slots_of(drill("5v4", keeper, REDS, BLUES))["k"] == FormatSlot("A", "inside")
    assert slots_of(drill("3GK", group("all", 3)))["all"] == FormatSlot("A", "keeper")


def test_without_opponents_there_is_one_side_whatever_groups_play_for() -> None:
    found = slots_of(drill("10", group("hens", 8, plays_for="itself"), group("foxes", 2, plays_for="B")))
    assert set(found.values()) == {FormatSlot("A", "inside")}


def test_groups_that_play_for_themselves_are_the_sides_that_nobody_else_is() -> None:
    itself = [group(key, 2, plays_for="itself") for key in ("hens", "foxes", "geese")]
    assert list(slots_of(drill("8v2", *itself)).values()) == [
        FormatSlot("A", "inside"),
        FormatSlot("B", "inside"),
        None,
    ]


def test_adults_and_those_who_play_for_nobody_are_no_players() -> None:
    doc = drill("4v4", REDS, BLUES, group("dad", 1, role="adult"), group("servers", 2, plays_for="nobody"))
    assert [each.key for each in player_groups(doc)] == ["reds", "blues"]
    assert group_counts(doc, Format.parse("4v4")) == {"reds": 4, "blues": 4}


# --- bounds ------------------------------------------------------------------------------------------------------


def test_roles_are_fixed_ranges_hold_and_others_take_more_or_fewer() -> None:
    doc = drill(
        "6v4+2",
        REDS,
        group("backs", 2, role="back"),
        group("blues", 2, 6, "B"),
        group("n", 2, plays_for=BALL),
    )
    assert group_bounds(doc) == {
        "reds": Bounds(1, None),
        "backs": Bounds(2, 2),
        "blues": Bounds(2, 6),
        "n": Bounds(0, None),
    }
    assert slot_bounds(doc)[FormatSlot("A", "inside")] == Bounds(3, None)
    assert total(group_bounds(doc).values()) == Bounds(5, None)


def test_in_a_drill_for_a_range_the_groups_without_one_are_exact_while_others_vary() -> None:
    ranged = {"numbers": {"kind": "range", "least": 6, "most": 12}}
    assert group_bounds(drill("4v4", REDS, group("blues", 2, 8, "B"), **ranged))["reds"] == Bounds(4, 4)
    assert group_bounds(drill("4v4", REDS, BLUES, **ranged))["reds"] == Bounds(1, None)


# --- counting ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "rung"), RUNGS)
def test_the_designs_numbers_are_the_designs_groups(name: str, rung: str) -> None:
    doc = played(DEMO[name], rung)
    fmt = Format.parse(doc.format)
    found = group_counts(doc, fmt)
    assert found is not None
    assert sum(found.values()) == fmt.players
    for each in player_groups(doc):
        assert found[each.key] <= (written(each).most or 0)
        if each.place is not GroupHome.QUEUE:
            assert found[each.key] >= each.least
    assert roster_of(doc).spread(fmt) == found
    assert roster_of(doc).added(fmt) == {}


THREE_WAYS = (group("backs", 2, role="back"), group("middles", 2), group("forwards", 4), BLUES)


@pytest.mark.parametrize(
    ("tonight", "expected"),
    [
        ("8v4", (2, 2, 4)),
        ("9v4", (2, 2, 5)),
        ("10v4", (2, 3, 5)),
        ("7v4", (2, 2, 3)),
        ("5v4", (2, 1, 2)),
        ("4v4", (2, 1, 1)),
    ],
)
def test_a_role_keeps_its_number_and_the_others_keep_their_shares(
    tonight: str, expected: tuple[int, ...]
) -> None:
    found = counts("8v4", *THREE_WAYS, tonight=tonight)
    assert found == dict(zip(("backs", "middles", "forwards"), expected, strict=True)) | {"blues": 4}


def test_bounds_that_cannot_be_met_are_none_and_can_still_be_drawn() -> None:
    assert counts("8v4", *THREE_WAYS, tonight="3v4") is None
    assert roster_of(drill("8v4", *THREE_WAYS)).spread(Format.parse("3v4")) == {
        "backs": 1,
        "middles": 1,
        "forwards": 1,
        "blues": 4,
    }
    assert counts("4v4", group("reds", 3, 5), BLUES, tonight="6v6") is None
    assert counts("4v4") is None  # nobody is described


def test_players_that_the_design_has_no_group_for_are_none_or_left_out() -> None:
    doc, fmt = drill("4v4", REDS, BLUES), Format.parse("4v4+1in")
    assert group_counts(doc, fmt) is None
    assert group_counts(doc, fmt, added=True) == {"reds": 4, "blues": 4}
    assert roster_of(doc).added(fmt) == {FormatSlot("neutral", "inside"): 1}


def test_the_nights_outside_players_come_from_the_side_itself() -> None:
    assert counts("4v4", REDS, BLUES, tonight="3(+1)v4(+1)") == {"reds": 4, "blues": 5}


def test_keepers_are_there_or_not() -> None:
    keepers = (
        group("k1", 1, role="keeper", place="goal"),
        group("k2", 1, None, "B", role="keeper", place="goal"),
    )
    found = counts("GK+4v4+GK", *keepers, REDS, BLUES, tonight="5v(4+GK)")
    assert found == {"k1": 0, "k2": 1, "reds": 5, "blues": 4}


def test_helpers_are_not_traded_for_numbers_but_others_who_are_neutral_may_vanish() -> None:
    wall = group("wall", 2, plays_for=BALL, role="wall player")
    assert counts("4v4+2", REDS, BLUES, wall, tonight="5v5") is None
    assert counts("4v4+2", REDS, BLUES, {**wall, "role": None}, tonight="5v5") == {
        "reds": 5,
        "blues": 5,
        "wall": 0,
    }


def test_the_least_of_a_queue_counts_those_who_wait() -> None:
    doc = drill(
        "4", group("starters", 2, 5, place="queue"), *(group(f"stone{n}", 1, role="stone") for n in range(3))
    )
    assert group_counts(doc, Format.parse("4")) == {"starters": 1, "stone0": 1, "stone1": 1, "stone2": 1}
    assert roster_of(doc).waiting(Format.parse("4"), 3) == {"starters": 3}
    assert roster_of(doc).waiting(Format.parse("4"), 5) is None
    assert roster_of(doc).waiting(Format.parse("3"), 1) is None
    waves = drill("3v2", group("reds", 3, 9, place="queue"), group("blues", 2, 6, "B"))
    assert group_counts(waves, Format.parse("2v2")) is None  # three fly: the rung stays that rung
    assert roster_of(waves).waiting(Format.parse("3v2"), 5) == {"reds": 3, "blues": 2}


# --- properties --------------------------------------------------------------------------------------------------


@st.composite
def members(draw: st.DrawFn) -> tuple[list[dict[str, Any]], int]:
    """Up to four groups of one slot that hold its design number."""
    made, low, high = [], 0, 0
    for n in range(draw(st.integers(1, 4))):
        least = draw(st.integers(0, 4))
        most = draw(st.none() | st.integers(least, least + 4))
        made.append(group(f"g{n}", least, most, role=draw(st.sampled_from([None, "server"]))))
        low, high = low + least, high + (least if most is None else most)
    assume(high)
    return made, draw(st.integers(max(low, 1), high))


def oracle(
    shares: Mapping[str, int | Fraction], bounds: dict[str, Bounds], players: int
) -> dict[str, int] | None:
    """Every way to share, the best kept: sum(count² / share) least, then the first groups largest."""
    ranges = [
        range(each.least, min(players, players if each.most is None else each.most) + 1)
        for each in bounds.values()
    ]
    weights = [max(Fraction(shares[key]), Fraction(1, 2)) for key in bounds]
    ways: list[tuple[int, ...]] = [way for way in itertools.product(*ranges) if sum(way) == players]
    if not ways:
        return None

    def far(way: Iterable[int]) -> Any:
        return sum(Fraction(n * n) / w for n, w in zip(way, weights, strict=True)), [-n for n in way]

    return dict(zip(bounds, min(ways, key=far), strict=True))


@given(members(), st.integers(1, 16))
def test_sharing_is_what_every_way_tried_says(made: tuple[list[dict[str, Any]], int], players: int) -> None:
    groups, designed = made
    doc = drill(str(designed), *groups)
    bounds = group_bounds(doc)
    design = oracle(_middles(doc), {each.key: written(each) for each in player_groups(doc)}, designed)
    assert design is not None
    assert group_counts(doc, Format.of(designed)) == oracle(design, bounds, designed)
    assert group_counts(doc, Format.of(players)) == oracle(design, bounds, players)


def _middles(doc: DrillDocument) -> dict[str, Fraction]:
    """A design's range is shared by the middles of the groups' ranges."""
    return {each.key: Fraction(sum(n or 0 for n in written(each)), 2) for each in player_groups(doc)}


@given(members(), st.integers(1, 15))
def test_sums_and_bounds_hold_and_nobody_leaves_a_group_because_one_more_came(
    made: tuple[list[dict[str, Any]], int], players: int
) -> None:
    groups, designed = made
    doc = drill(str(designed), *groups)
    bounds = group_bounds(doc)
    found, more = (group_counts(doc, Format.of(each)) for each in (players, players + 1))
    assert (found is not None) == total(bounds.values()).holds(players)
    if found is not None:
        assert sum(found.values()) == players
        assert all(bounds[key].holds(count) for key, count in found.items())
    if found is not None and more is not None:
        assert all(more[key] >= count for key, count in found.items())
    assert sum(roster_of(doc).spread(Format.of(players)).values()) == players


@given(st.sampled_from(RUNGS), st.integers(3, 24), st.integers(0, 2))
def test_every_format_that_fit_may_try_is_counted_whole_or_not_at_all(
    rung: tuple[str, str], outfield: int, keepers: int
) -> None:
    doc = played(DEMO[rung[0]], rung[1])
    roster = roster_of(doc)
    for fmt in formats(Format.parse(doc.format), outfield, keepers)[:40]:
        found, added = roster.counts(fmt, added=True), sum(roster.added(fmt).values())
        assert sum(roster.spread(fmt).values()) + added == fmt.players == sum(slot_players(fmt).values())
        if found is not None:
            assert sum(found.values()) + added == fmt.players
        assert roster.counts(fmt) == (None if added else found)
