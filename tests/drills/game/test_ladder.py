"""Whether a harder rung is harder on anything measurable: worked by hand from the numbers in each test."""

from math import inf
from typing import Any

import pytest

from drills.game.document import Variation, decode
from drills.game.ladder import doubtful, measured
from drills.game.validate import problems
from drills.game.variations import apply
from tests.drills.samples import SMALL, outside, small, whole


def rung(
    *changes: dict[str, Any], side: str = "harder", game: Any = whole, **base: Any
) -> tuple[Any, Variation]:
    variation = {"key": "v", "title": "This one", "rung": side, "changes": list(changes)}
    document = game(variations=[variation], **base)
    return document, document.variations[0]


def touches(count: int) -> dict[str, Any]:
    limit = {"type": "limit", "key": "few", "kind": "touches", "number": count, "scope": {"group": "A"}}
    return {"type": "add_condition", "condition": limit}


def test_less_room_is_harder_with_the_ball() -> None:
    # 25 × 20 m for 8 inside: 62.5 m²; 20 × 16 m: 40 m².
    document, smaller = rung({"type": "set_grid", "length_m": 20, "width_m": 16}, game=outside)
    found = measured(document, apply(document, smaller))
    assert [(each.what, each.before, each.after, each.way) for each in found] == [
        ("m² per player", 62.5, 40.0, "harder")
    ]
    assert doubtful(document, smaller) is None


def test_and_easier_without_it() -> None:
    smaller_grid = {"type": "set_grid", "length_m": 20, "width_m": 16}
    document, smaller = rung(smaller_grid, game=outside, moment="out of possession")
    assert (
        doubtful(document, smaller)
        == "“This one” is called harder, but what can be measured is easier: m² per player 62.5 → 40."
    )


def test_overload_goes_the_way_of_the_theme() -> None:
    # 4v4+4: (4 + 4) ÷ 4 = 2.0; 4v4+2: 1.5. The area per inside player stays.
    document, fewer = rung({"type": "set_format", "format": "4v4+2"}, game=outside)
    found = measured(document, apply(document, fewer))
    assert [(each.what, each.before, each.after, each.way) for each in found] == [
        ("overload", 2.0, 1.5, "harder")
    ]


def test_a_limit_that_was_not_there_is_harder_and_one_lifted_easier() -> None:
    document, two = rung(touches(2))
    assert [(each.what, each.before, each.after) for each in measured(document, apply(document, two))] == [
        ("touches A", inf, 2)
    ]
    document, freed = rung({"type": "remove_condition", "key": "two"})
    assert (
        doubtful(document, freed)
        == "“This one” is called harder, but what can be measured is easier: touches N 2 → any."
    )


@pytest.mark.parametrize(("side", "said"), [("harder", True), ("easier", True), ("sideways", False)])
def test_nothing_measurable_gives_a_hint_unless_it_is_another_theme(side: str, said: bool) -> None:
    document, same = rung({"type": "set_start", "start": {"trigger": "a throw"}}, side=side)
    assert (doubtful(document, same) is not None) is said


def test_the_coachs_own_words_are_not_judged() -> None:
    document, own = rung(
        {"type": "add_condition", "condition": {"type": "free", "key": "own", "text": "Silence."}}
    )
    assert doubtful(document, own) is None


def test_limits_that_help_the_other_side_are_not_judged() -> None:
    limit = {"type": "limit", "key": "stay", "kind": "may not tackle", "scope": {"group": "B"}}
    document, untold = rung({"type": "add_condition", "condition": limit})
    assert doubtful(document, untold) is None


def test_a_change_that_can_not_be_measured_is_left_open() -> None:
    document, mixed = rung(
        {"type": "set_grid", "length_m": 35, "width_m": 30}, {"type": "set_start", "start": {"trigger": "x"}}
    )
    assert (
        doubtful(document, mixed)
        == "“This one” is called harder, but nothing that can be measured is harder."
    )


def test_one_harder_thing_is_enough() -> None:
    document, mixed = rung({"type": "set_grid", "length_m": 35, "width_m": 30}, touches(1))
    assert {each.way for each in measured(document, apply(document, mixed))} == {"harder", "easier"}
    assert doubtful(document, mixed) is None


def test_the_hint_stands_beside_the_rung_and_stops_nothing() -> None:
    document, _same = rung({"type": "set_start", "start": {"trigger": "a throw"}})
    found = [each for each in problems(document) if each.field == "variations[0].rung"]
    assert [each.severity for each in found] == ["hint"]


def test_the_same_drill_has_nothing_to_measure() -> None:
    assert measured(decode(SMALL), decode(SMALL)) == []


@pytest.mark.parametrize(
    ("base", "changes"),
    [
        ({}, [{"type": "set_balls", "balls": {"number": 2}}]),
        ({"activity": "fun game", "format": "9"}, [{"type": "set_grid", "length_m": 20, "width_m": 9}]),
        ({"activity": "finishing"}, [{"type": "set_grid", "length_m": 7, "width_m": 7}]),
        ({"format": "8"}, [{"type": "set_format", "format": "8v2"}]),
        (
            {},
            [
                {
                    "type": "add_condition",
                    "condition": {
                        "type": "when",
                        "key": "w",
                        "when": {"kind": "goal"},
                        "then": [{"kind": "new ball"}],
                    },
                }
            ],
        ),
    ],
)
def test_a_rung_is_not_doubted_where_nobody_can_tell(base: dict, changes: list[dict]) -> None:
    rung = {"key": "v", "title": "V", "rung": "harder", "changes": changes}
    document = small(**base, variations=[rung])
    assert doubtful(document, document.variations[0]) is None


def test_an_unclear_format_is_no_reason_to_stumble() -> None:
    rung = {
        "key": "v",
        "title": "V",
        "rung": "harder",
        "changes": [{"type": "set_balls", "balls": {"number": 2}}],
    }
    document = small(format="4v", variations=[rung])
    assert doubtful(document, document.variations[0]) is None
