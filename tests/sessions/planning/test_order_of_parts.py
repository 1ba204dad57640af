"""Parts in another order: what stays at a place, what goes along. Order of parts of an evening: common practice, no source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sessions.planning.order import (
    GOES_ALONG,
    Place,
    filled_by,
    inserted,
    moved,
    removed,
    usual_changeover_s,
)

KINDS = ("arrival", "warm-up", "practice", "game", "cool-down")
EVENING = ("arrival", "practice", "practice", "game")


@st.composite
def evenings(draw: st.DrawFn) -> tuple[list[tuple[str, int]], int, int]:
    """Kind and changeover of each part, and two places."""
    parts = draw(st.lists(st.tuples(st.sampled_from(KINDS), st.integers(0, 600)), min_size=1, max_size=9))
    at, to = (draw(st.integers(0, len(parts) - 1)) for _ in range(2))
    return parts, at, to


def put(parts: list[tuple[str, int]], places: tuple[Place, ...]) -> list[tuple[int | None, str, int]]:
    """Number, kind and changeover of each part where it stands now; a new one is a practice, the usual changeover 90 s."""
    return [
        (
            each.part,
            "practice" if each.kind is None else parts[each.kind][0],
            usual_changeover_s(at, 90) if each.changeover is None else parts[each.changeover][1],
        )
        for at, each in enumerate(places)
    ]


def test_the_closing_game_moved_to_the_front_leaves_changeovers_and_the_other_kinds_where_they_were() -> None:
    parts = list(zip(EVENING, (0, 120, 60, 180), strict=True))
    assert put(parts, moved(EVENING, 3, 0)) == [
        (3, "game", 0),
        (0, "arrival", 120),
        (1, "practice", 60),
        (2, "practice", 180),
    ]


def test_two_parts_that_change_places_change_their_kinds_unless_one_is_a_game() -> None:
    assert [(each.part, EVENING[each.kind or 0]) for each in moved(EVENING, 0, 1)][:2] == [
        (1, "arrival"),
        (0, "practice"),
    ]
    assert [(each.part, EVENING[each.kind or 0]) for each in moved(EVENING, 2, 3)][2:] == [
        (3, "game"),
        (2, "practice"),
    ]


@given(evenings())
def test_a_move_is_that_of_a_list_and_the_changeovers_stay(
    found: tuple[list[tuple[str, int]], int, int],
) -> None:
    parts, at, to = found
    after = put(parts, moved([kind for kind, _s in parts], at, to))
    order = list(range(len(parts)))
    order.insert(to, order.pop(at))
    assert [number for number, _kind, _s in after] == order
    assert [s for _number, _kind, s in after] == [s for _kind, s in parts]


@given(evenings())
def test_games_keep_their_kind_and_the_others_their_order(
    found: tuple[list[tuple[str, int]], int, int],
) -> None:
    parts, at, to = found
    after = put(parts, moved([kind for kind, _s in parts], at, to))
    assert [kind for _n, kind, _s in after if kind != GOES_ALONG] == [k for k, _s in parts if k != GOES_ALONG]
    assert {n for n, kind, _s in after if kind == GOES_ALONG} == {
        n for n, (kind, _s) in enumerate(parts) if kind == GOES_ALONG
    }


@given(evenings())
def test_there_and_back_is_as_before(found: tuple[list[tuple[str, int]], int, int]) -> None:
    parts, at, to = found
    there = put(parts, moved([kind for kind, _s in parts], at, to))
    back = put([(kind, s) for _n, kind, s in there], moved([kind for _n, kind, _s in there], to, at))
    assert [(there[n or 0][0], kind, s) for n, kind, s in back] == [
        (n, kind, s) for n, (kind, s) in enumerate(parts)
    ]


@given(evenings())
def test_one_taken_out_takes_one_changeover_along_and_never_that_before_the_first(
    found: tuple[list[tuple[str, int]], int, int],
) -> None:
    parts, at, _to = found
    after = put(parts, removed(len(parts), at))
    assert [(n, kind) for n, kind, _s in after] == [
        (n, kind) for n, (kind, _s) in enumerate(parts) if n != at
    ]
    left = [s for _kind, s in parts]
    del left[at or (1 if len(left) > 1 else 0)]
    assert [s for _n, _kind, s in after] == left
    assert not after or after[0][2] == parts[0][1]


@given(evenings())
def test_a_new_part_taken_out_again_leaves_all_as_before(
    found: tuple[list[tuple[str, int]], int, int],
) -> None:
    parts, at, _to = found
    with_new = put(parts, inserted(len(parts), at))
    assert with_new[at][:2] == (None, "practice")
    assert with_new[0][2] == parts[0][1]
    assert with_new[at or 1][2] == 90
    again = put([(kind, s) for _n, kind, s in with_new], removed(len(with_new), at))
    assert [(kind, s) for _n, kind, s in again] == parts


def test_the_first_part_of_all_needs_no_changeover_and_one_at_the_end_the_usual_one() -> None:
    assert put([], inserted(0, 0)) == [(None, "practice", 0)]
    assert put([("game", 0)], inserted(1, 1)) == [(0, "game", 0), (None, "practice", 90)]
    assert removed(1, 0) == ()


@pytest.mark.parametrize(
    "ask", [lambda: moved(EVENING, 4, 0), lambda: moved(EVENING, 0, -1), lambda: removed(0, 0)]
)
def test_a_place_that_is_not_there_is_refused(ask: object) -> None:
    with pytest.raises(IndexError, match="there is no place"):
        ask()  # type: ignore[operator]
    with pytest.raises(IndexError, match="there is no place"):
        inserted(2, 3)


@pytest.mark.parametrize(
    ("waits", "kind", "at"),
    [
        ((True, True, True, True), "practice", 1),
        ((True, False, True, True), "practice", 2),
        ((True, False, False, True), "practice", 0),
        ((False, False, False, True), "warm-up", 3),
        ((False, False, False, False), "game", None),
    ],
)
def test_a_drill_fills_the_first_part_of_its_kind_that_waits_else_the_first(
    waits: tuple[bool, ...], kind: str, at: int | None
) -> None:
    assert filled_by(EVENING, waits, kind) == at
