"""What the coach reads: changes, warnings, rotation, first answers and refusals."""

import pytest

from drills.game.design import Design
from drills.game.fit import explain_none, first_answers, fit
from drills.game.format import Format

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


def test_resting() -> None:
    best = fit(design("5v2", 10, 10), players=8, **AMPLE)[0]
    assert [reason.text for reason in best.reasons] == ["One rests in turn: change after every bout."]
    assert best.kind == "wait"


def test_keepers() -> None:
    assert sentences(MATCH, 11, keepers=1) == [
        "One keeper: one goal is kept, an end zone to pass into at the other end."
    ]
    assert sentences(MATCH, 10, keepers=0) == ["No keeper: end zones to pass into instead of the goals."]
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
        "as_planned", "split", "numbers", "rest_in_turn", "goals_without_keeper", "grid", "few_adults",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("game", "players", "rotation"),
    [
        (POSSESSION, 12, "Three teams of four: two play, one is neutral; change after every bout."),
        (
            POSSESSION,
            13,
            "Teams of five, four and four: change after every bout; when the five come in, one of them stays outside "
            "on loan.",
        ),
        (
            design("5v5+5", 28, 22),
            14,
            "Teams of five, five and four: change after every bout; when the four come in, one of those going out "
            "stays in with them on loan.",
        ),
        (design("5v2", 10, 10), 7, "Change roles after every bout, so that everyone has each of them."),
        (
            design("4(+2)v4(+2)", 30, 25),
            12,
            "Inside and outside change places within each side after every bout.",
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
        ("wait", "4v4+4", 1),
    ]
    waves = design("3v2+GK", 25, 20, planned_waiting=0.5, area_matters=False)
    twelve = first_answers(fit(waves, players=12, **AMPLE))
    assert [(each.kind, each.numbers, each.waiting) for each in twelve] == [
        ("same", "3v2+GK", 6),
        ("split", "2 × 3v2+GK", 0),
    ]
    assert first_answers([]) == []


def refusals(game: Design, **asked: object) -> list[tuple[str, str]]:
    given = AMPLE | asked
    assert fit(game, **given) == []  # type: ignore[arg-type]
    return [(reason.key, reason.text) for reason in explain_none(game, **given)]  # type: ignore[arg-type]


def test_too_few() -> None:
    assert refusals(POSSESSION, players=5) == [
        ("too_few", "Too few: this needs at least 6 players, and 5 came.")
    ]


def test_too_many() -> None:
    assert refusals(design("2v2", 15, 12, max_players=5), players=50) == [
        ("too_many", "Too many: 50 players are more than three grids of 2v2 hold.")
    ]


def test_too_little_space_says_what_would_do() -> None:
    (key, text) = refusals(POSSESSION, players=12, length_m=10, width_m=8)[0]
    assert (key, text) == ("too_little_space", "Too little space: 2v2+4 needs about 12 × 11 m free.")
    assert fit(POSSESSION, players=12, length_m=12, width_m=11) != []


def test_too_little_kit_names_the_kind() -> None:
    game = design("4v4+4", 25, 20, kit={"marker cones": 8})
    assert refusals(game, players=12, kit={"marker cones": 6}) == [
        ("too_little_kit", "Too little kit: marker cones (2 more).")
    ]


def test_too_few_adults() -> None:
    game = design("4v4+4", 25, 20, adults_needed=2)
    assert refusals(game, players=12) == [
        ("too_few_adults", "Too few adults: this needs two adults, and there is one.")
    ]
    assert refusals(design("4v4", 20, 15, max_players=8, youngest=True), players=16) == [
        ("adults_for_grids", "Too few adults: two grids would do, each with an adult of its own.")
    ]


def test_the_wrong_age() -> None:
    game = design("4v4+4", 25, 20, under_from=12, under_to=16)
    assert refusals(game, players=12, age=9) == [("too_young", "This is for U12 and older.")]
    assert refusals(game, players=12, age=18) == [("too_old", "This is for U16 and younger.")]


def test_nothing_to_explain_when_something_works() -> None:
    assert explain_none(POSSESSION, players=12, length_m=30, width_m=24) == ()
