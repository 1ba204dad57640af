"""A variation with another format: its groups follow, and what was a contradiction is none."""

import msgspec
from hypothesis import given
from hypothesis import strategies as st

from drills.game.agreement import disagreements
from drills.game.document import DrillDocument
from drills.game.document.choices import Rung
from drills.game.document.operations import PutGroup, RemoveGroup, SetFormat, Variation
from drills.game.fit.candidates import formats
from drills.game.follow import groups_follow
from drills.game.format import Format
from drills.game.variations import apply
from tests.drills.game.test_groups import BALL, BLUES, DEMO, REDS, drill, group

KEEPER = group("keeper", 1, role="keeper", place="goal")
NAMES = "the {0.side} {0.where}".format
WALLS = group("walls", 2, plays_for=BALL, place="every side", role="wall player")


def followed(document: DrillDocument, text: str) -> list[tuple[str, int | None]]:
    """Which groups change, and to how many; None for one that goes."""
    made = groups_follow(document, Format.parse(text), NAMES)
    return [
        (each.group.key, each.group.least) if isinstance(each, PutGroup) else (each.key, None)
        for each in made
        if isinstance(each, PutGroup | RemoveGroup)
    ]


def test_sizes_follow_and_a_range_that_holds_them_stays() -> None:
    assert followed(drill("4v4", REDS, BLUES), "5v4") == [("reds", 5)]
    assert followed(drill("4v4", group("reds", 3, 5), BLUES), "5v3") == [("blues", 3)]
    assert followed(drill("4v4", group("reds", 3, 5), BLUES), "6v4") == [("reds", 6)]
    assert followed(drill("4v4"), "5v5") == []


def test_helpers_and_keepers_come_and_go() -> None:
    assert followed(drill("4v4+2", REDS, BLUES, WALLS), "4v4") == [("walls", None)]
    assert followed(drill("4v4+2", REDS, BLUES, WALLS), "4v4+3") == [("walls", 3)]
    assert followed(drill("GK+4v4", KEEPER, REDS, BLUES), "4v4") == [("keeper", None)]
    (put,) = groups_follow(drill("4v4", REDS, BLUES), Format.parse("4v4+1in"), NAMES)
    assert isinstance(put, PutGroup)
    assert (put.group.name, put.group.place.value, put.group.least) == ("the neutral inside", "inside", 1)
    assert followed(drill("4v4", REDS, BLUES), "GK+4v4v3+GK") == [("K", 1), ("C", 3), ("K2", 1)]
    (put,) = groups_follow(drill("4v4", {**REDS, "key": "N"}, BLUES), Format.parse("4v4+2"), NAMES)
    assert isinstance(put, PutGroup)
    assert (put.group.key, put.group.place.value) == ("N2", "every side")


@given(st.sampled_from(sorted(DEMO)), st.integers(2, 20), st.integers(0, 2), st.integers(0, 30))
def test_nothing_of_the_format_contradicts_the_groups_that_followed(
    name: str, outfield: int, keepers: int, place: int
) -> None:
    document = msgspec.structs.replace(DEMO[name], variations=())
    found = formats(Format.parse(document.format), outfield, keepers)
    if not found:
        return
    fmt = found[place % len(found)]
    changes = (SetFormat(format=str(fmt)), *groups_follow(document, fmt, NAMES))
    rung = Variation(key="other", title="Other", rung=Rung.SIDEWAYS, changes=changes)
    exact = msgspec.structs.replace(apply(document, rung), numbers=type(document.numbers)())
    assert [each.text for each in disagreements(exact, fmt)] == []
