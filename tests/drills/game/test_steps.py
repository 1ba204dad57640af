"""Easier and harder both ways: every step has its way back, and every rung one to the drill as written."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.game.document import DrillDocument
from drills.game.evening import Evening, typed_ground
from drills.game.fits import fits
from drills.game.format import Format
from drills.game.steps import Steps, in_order, steps
from drills.game.variations import apply
from tests.bibrack.demo.documents import SLUGS, demo_document
from tests.drills.samples import harbour

WAYS = st.lists(st.sampled_from(["easier", "harder", "sideways"]), max_size=9)


CHANGE = [{"type": "set_format", "format": "5v5"}]


def drill(ways: list[str]) -> DrillDocument:
    variations = [
        {"key": f"v{n}", "title": f"V {n}", "rung": way, "changes": CHANGE} for n, way in enumerate(ways)
    ]
    return harbour(variations)


@given(WAYS)
def test_each_step_is_undone_by_the_other_and_all_rungs_lie_on_one_way(ways: list[str]) -> None:
    document = drill(ways)
    keys = in_order(document)
    assert sorted(keys) == sorted(["", *(f"v{n}" for n, way in enumerate(ways) if way != "sideways")])
    for key in keys:
        found = steps(document, key)
        if found.easier is not None:
            assert steps(document, found.easier).harder == key
        if found.harder is not None:
            assert steps(document, found.harder).easier == key
    walked, at = [], keys[0]
    while True:
        walked.append(at)
        if (up := steps(document, at).harder) is None:
            break
        at = up
    assert walked == list(keys)


@given(WAYS)
def test_from_every_rung_one_comes_back_to_the_drill_as_written(ways: list[str]) -> None:
    document = drill(ways)
    for number, way in enumerate(ways):
        key = f"v{number}"
        assert steps(document, key).back == ""
        if way == "sideways":
            assert steps(document, key) == Steps(steps(document, "").easier, steps(document, "").harder, "")
            continue
        seen, at = [key], key
        while at:
            to = steps(document, at).harder if way == "easier" else steps(document, at).easier
            assert to is not None
            assert to not in seen
            seen.append(to)
            at = to
    assert steps(document, "").back is None


def test_the_order_is_the_documents_nearest_first() -> None:
    document = drill(["easier", "easier", "harder", "sideways", "harder"])
    assert in_order(document) == ("v1", "v0", "", "v2", "v4")
    assert steps(document, "v4") == Steps("v2", None, "")
    assert steps(document, "base") == steps(document, "") == Steps("v0", "v2", None)
    with pytest.raises(KeyError):
        steps(document, "v9")


@pytest.mark.parametrize("players", range(7, 21))
def test_a_variation_keeps_the_two_helpers_that_it_fixes_and_the_way_back_has_its_own(players: int) -> None:
    two = {
        "key": "two",
        "title": "Two helpers",
        "rung": "harder",
        "changes": [{"type": "set_format", "format": "4v4+2"}],
    }
    document = harbour([two])
    up = steps(document, "").harder
    assert up == "two"
    for setup in fits(document, up, Evening(players)):
        assert {each.neutrals for each in setup.grid_formats} == {2}
    back = steps(document, up).easier
    assert back == ""
    assert fits(document, back, Evening(players)).setups == fits(drill([]), "", Evening(players)).setups


def helpers(fmt: Format) -> tuple[int, int]:
    """Those who play for whoever has the ball, and a side's own players outside."""
    return fmt.neutrals, sum(each.outside for each in fmt.sides)


def test_no_demo_drill_trades_the_helpers_that_a_variation_fixes_for_numbers() -> None:
    looked_at = 0
    for slug in SLUGS:
        document = demo_document(slug)
        for variation in document.variations:
            fixed, written = (
                helpers(Format.parse(each.format)) for each in (apply(document, variation), document)
            )
            for players in range(5, 25) if fixed != written else ():
                for setup in fits(document, variation.key, Evening(players, pieces=typed_ground(60, 40))):
                    looked_at += 1
                    for found in map(helpers, setup.grid_formats):
                        assert all(
                            now == kept or kept == before
                            for now, kept, before in zip(found, fixed, written, strict=True)
                        ), (slug, variation.key, players, setup.numbers)
    assert looked_at > 100
