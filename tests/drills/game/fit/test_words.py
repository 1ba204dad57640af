"""What the coach reads: changes, warnings, rotation, first answers and refusals."""

import pytest

from drills.game.design import Design
from drills.game.evening import Evening, Piece
from drills.game.fit import explain_none, first_answers, fit, fit_on
from drills.game.format import Format
from tests.drills.game.fit.evenings import evening

AMPLE = {"length_m": 120, "width_m": 90}


def design(text: str, length_m: float, width_m: float, **facts: object) -> Design:
    return Design(Format.parse(text), length_m, width_m, **facts)  # type: ignore[arg-type]


POSSESSION = design("4v4+4", 25, 20)
MATCH = design("GK+5v5+GK", 40, 30, kit={"moveable goals": 2})


def sentences(game: Design, players: int, **asked: object) -> list[str]:
    best = fit(game, players=players, **(AMPLE | asked))[0]  # type: ignore[arg-type]
    return [reason.text for reason in best.reasons]


def test_growing() -> None:
    assert sentences(POSSESSION, 15) == [
        "One more on each side and one more outside.",
        "Grid 28 × 22 m instead of 25 × 20 m: the same room for each player inside.",
    ]


def test_a_tight_space_says_how_tight_and_how_narrow() -> None:
    assert sentences(POSSESSION, 15, length_m=30, width_m=20)[1:] == [
        "Grid 28 × 18 m instead of 25 × 20 m: a little tighter, 50 instead of 62 m² for each player inside.",
        "Only 1 m beside the grid for those outside; 2 m is better.",
    ]


def test_splitting() -> None:
    assert sentences(POSSESSION, 24, adults=2) == ["Two grids of 4v4+4 side by side."]
    assert sentences(POSSESSION, 25) == [
        "Two grids side by side: 4v4+5 and 4v4+4.",
        "4v4+5: one more outside.",
        "Two grids and one adult: stand where you see them all.",
    ]


def test_off_in_turn() -> None:
    game = design("4v4", 12, 10, neutrals_fixed=True, outside_fixed=True, sides_fixed=True)
    best = fit(game, players=10, length_m=12, width_m=10)[0]
    assert (best.numbers, best.kind, best.waiting) == ("4v4", "wait", 2)
    assert [reason.text for reason in best.reasons] == ["Two are off in turn: change after every round."]


def test_a_fence_or_another_group_close_by_is_said() -> None:
    game = design("4v4", 24, 18)
    for stands, text in (
        ("fence", "The fence is 2 m away: slow down at the edge."),
        ("group", "Another group is 2 m away: keep the ball on your side."),
    ):
        piece = Piece("", 24, 20, top=stands)  # type: ignore[arg-type]
        best = fit_on(game, Evening(8, adults=1, pieces=(piece,)))[0]
        assert (best.length_m, best.width_m, best.run_off_m) == (24, 18, 2)
        assert [reason.text for reason in best.reasons][-1] == text


def test_keepers() -> None:
    assert sentences(MATCH, 11, keepers=1) == ["One keeper: one goal is kept, a small goal at the other end."]
    assert sentences(MATCH, 10, keepers=0) == ["No keeper: small goals instead of the goals."]
    finishing = design("8+GK", 30, 30, area_matters=False, kit={"moveable goals": 1})
    assert sentences(finishing, 8, keepers=0) == [
        "No keeper: the goal stays empty, so corners and low balls count."
    ]
    assert fit(finishing, players=8, keepers=0, **AMPLE)[0].kit == {"moveable goals": 1}
    assert fit(finishing, players=8, **AMPLE)[0].numbers == "7+GK"
    assert sentences(MATCH, 13, keepers=3) == ["One keeper serves the balls in turn."]
    assert sentences(POSSESSION, 12, keepers=1) == [
        "No goals here: keepers play out, best outside the grid with their feet."
    ]


def test_every_reason_has_a_class_and_a_key() -> None:
    reasons = [r for n in range(6, 28) for a in fit(MATCH, players=n, **AMPLE) for r in a.reasons]
    assert {r.change_class for r in reasons} == {"space", "equipment", "people"}
    assert {r.text[-1] for r in reasons} == {"."}
    assert {r.key for r in reasons} == {
        "as_planned", "split", "numbers", "goals_without_keeper", "grid", "few_adults",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("game", "players", "rotation"),
    [
        (POSSESSION, 12, "Three teams of four: two play, one is a floater; change after every round."),
        (
            POSSESSION,
            13,
            "Teams of five, four and four: change after every round; when the five come in, one of them stays outside "
            "on loan.",
        ),
        (
            design("5v5+5", 28, 22),
            14,
            "Teams of five, five and four: change after every round; when the four come in, one of those going out "
            "stays in with them on loan.",
        ),
        (design("5v2", 10, 10), 7, "Change roles after every round, so that everyone has each of them."),
        (
            design("4(+2)v4(+2)", 30, 25),
            12,
            "Inside and outside change places within each side after every round.",
        ),
    ],
)
def test_rotation(game: Design, players: int, rotation: str) -> None:
    assert fit(game, players=players, **AMPLE)[0].rotation == rotation


def test_first_answers_differ_in_kind_and_the_best_is_first() -> None:
    for players in range(6, 28):
        answers = fit(POSSESSION, players=players, **AMPLE)
        first = first_answers(answers)
        assert first[0] is answers[0]
        assert len({each.kind for each in first}) == len(first) <= 3
    thirteen = first_answers(fit(POSSESSION, players=13, **AMPLE))
    assert [(each.kind, each.numbers, each.waiting) for each in thirteen] == [
        ("grow", "4v4+5", 0),
    ]
    waves = design("3v2+GK", 25, 20, planned_waiting=0.5, area_matters=False)
    twelve = first_answers(fit(waves, players=12, **AMPLE))
    assert [(each.kind, each.numbers, each.waiting) for each in twelve] == [
        ("same", "3v2+GK", 6),
        ("split", "2 × 3v2+GK", 0),
    ]
    assert first_answers([]) == []


def refusals(game: Design, **asked: object) -> list[tuple[str, str]]:
    tonight = evening(**(AMPLE | asked))  # type: ignore[arg-type]
    assert fit_on(game, tonight) == []
    return [(reason.key, reason.text) for reason in explain_none(game, tonight)]


def test_too_few() -> None:
    assert refusals(POSSESSION, players=5) == [
        ("too_few", "Too few: this needs at least 6 players, and 5 came.")
    ]


def test_too_many_would_wait() -> None:
    assert refusals(design("2v2", 15, 12, max_players=5), players=50) == [
        (
            "would_wait",
            "20 of 50 would wait: another grid, another station or another drill takes them in.",
        )
    ]


def test_too_little_space_says_what_would_do() -> None:
    found = refusals(POSSESSION, players=12, length_m=10, width_m=8)
    assert found == [("too_little_space", "Too little space: 3v3+6 needs about 16 × 12 m free.")]
    assert fit(POSSESSION, players=12, length_m=16, width_m=12) != []


def test_what_a_fence_takes_is_said_with_the_space() -> None:
    piece = Piece("", 10, 8, "fence", "fence", "fence", "fence")
    (reason,) = explain_none(POSSESSION, Evening(12, pieces=(piece,)))
    assert reason.text == "Too little space: 3v3+6 needs about 18 × 14 m free."


def test_too_little_kit_names_the_kind() -> None:
    game = design("4v4+4", 25, 20, kit={"marker cones": 8})
    assert refusals(game, players=12, kit={"marker cones": 6}) == [
        ("too_little_kit", "Too little kit: marker cones (2 more).")
    ]


def test_one_adult_for_every_two_grids_of_the_youngest() -> None:
    game = design("4v4", 20, 15, max_players=8)
    assert refusals(game, players=24, under=9) == [
        ("adults_for_grids", "Too few adults: three grids would do, one adult for every two.")
    ]


def test_the_wrong_age() -> None:
    game = design("4v4+4", 25, 20, under_from=12, under_to=16)
    assert refusals(game, players=12, under=9) == [("too_young", "This is for U12 and older.")]
    assert refusals(game, players=12, under=18) == [("too_old", "This is for U16 and younger.")]


def test_nothing_to_explain_when_something_works() -> None:
    assert explain_none(POSSESSION, evening(12, 30, 24)) == ()
