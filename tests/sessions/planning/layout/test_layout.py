import random

import pytest

from drills.game.document.choices import GoalSize
from drills.game.evening import STANDS, FixedGoal, Piece
from drills.game.space import ALL_EDGES
from sessions.planning.layout import GridToLay, LayOut, lay_out
from tests.sessions.planning.layout.by_hand import by_hand, fenced, sound

FIELD = fenced("field", 60, 40)


def text(answer: LayOut) -> list[str]:
    return [each.text for each in answer.reasons]


def test_one_grid_stands_a_run_off_from_the_corner_and_says_its_paces() -> None:
    answer = lay_out([GridToLay("a", 25, 20)], [FIELD], pace_m=0.8)
    assert answer.proven
    assert (answer.placed[0].grid.x_m, answer.placed[0].grid.y_m) == (3.0, 3.0)
    assert (answer.placed[0].corner, answer.placed[0].paces) == ("lower left", (4, 4))
    assert answer.reasons == ()


def test_grids_are_turned_where_only_that_fits() -> None:
    answer = lay_out([GridToLay("a", 30, 20)], [fenced("strip", 26, 36)])
    assert answer.placed[0].turned == 1
    assert (answer.placed[0].grid.length_m, answer.placed[0].grid.width_m) == (20.0, 30.0)


@pytest.mark.parametrize(
    ("length_m", "width_m", "run_off", "said"),
    [
        (24, 14, (3, 3), []),
        (24, 16, (3, 2), ["The fence is 2 m away: slow down at the edge."]),
        (26, 17, (2, 1), ["The fence is 1 m away: slow down at the edge."]),
        (28, 18, (1, 1), ["The fence is 1 m away: slow down at the edge."]),
    ],
)
def test_the_run_off_is_the_widest_whole_metre_along_and_across(
    length_m: int, width_m: int, run_off: tuple[int, int], said: list[str]
) -> None:
    answer = lay_out([GridToLay("a", length_m, width_m)], [fenced("cage", 30, 20)])
    assert (answer.margins.along_m, answer.margins.across_m) == run_off
    assert text(answer) == said


@pytest.mark.parametrize(
    ("length_m", "width_m", "piece", "said"),
    [
        (28, 19, fenced("cage", 30, 20), "Too close to the fence: make it 18 m wide."),
        (29, 18, fenced("cage", 30, 20), "Too close to the fence: make it 28 m long."),
        (31, 21, fenced("cage", 30, 20), "Too close to the fence: make it 28 × 18 m."),
        (19, 28, fenced("cage", 30, 20), "Too close to the fence: make it 18 m long."),
        (30, 21, Piece("free", 30, 20), "Too big for your space: make it 20 m wide."),
        (31, 20, Piece("free", 30, 20), "Too big for your space: make it 30 m long."),
        (31, 21, Piece("free", 30, 20), "Too big for your space: make it 30 × 20 m."),
        (5, 5, fenced("yard", 2, 2), "Your space is too small for a grid: book more of it."),
    ],
)
def test_what_is_nearer_to_a_fence_than_a_metre_is_refused_with_the_size_that_would_do(
    length_m: int, width_m: int, piece: Piece, said: str
) -> None:
    answer = lay_out([GridToLay("a", length_m, width_m)], [piece])
    assert (answer.placed, answer.proven, text(answer)) == ((), True, [said])


def test_too_many_grids_are_refused_with_the_number_that_would_do() -> None:
    answer = lay_out([GridToLay(str(n), 14, 18) for n in range(3)], [fenced("cage", 32, 20)])
    assert text(answer) == ["Room for 2 of 3 grids: make them smaller, or use fewer at a time."]
    assert answer.proven


def test_an_open_edge_takes_the_run_off_outside_and_a_fixed_goal_is_as_hard_as_a_fence() -> None:
    whole = GridToLay("a", 30, 20)
    assert lay_out([whole], [Piece("free", 30, 20)]).placed
    goal = FixedGoal("left", 0.5, GoalSize.FULL)
    assert not lay_out([whole], [Piece("free", 30, 20, goals=(goal,))]).placed
    answer = lay_out([GridToLay("a", 29, 20)], [Piece("free", 30, 20, goals=(goal,))])
    assert (answer.placed[0].grid.x_m, answer.margins.along_m) == (1.0, 1)


def test_to_another_group_stay_two_metres_or_three_where_a_ball_is_shot() -> None:
    between = fenced("third", 30, 26, bottom="group", top="group")
    answer = lay_out([GridToLay("a", 24, 22)], [between])
    assert (answer.placed[0].grid.y_m, answer.margins.across_m) == (2.0, 2)
    assert answer.reasons == ()  # it is said of fences alone
    assert not lay_out([GridToLay("a", 24, 22, shot_at=(("left", 5.0),))], [between]).placed
    assert lay_out([GridToLay("a", 24, 20, shot_at=(("left", 5.0),))], [between]).placed


@pytest.mark.parametrize(
    ("first", "second", "gap_m"),
    [
        (GridToLay("a", 10, 10), GridToLay("b", 10, 10), 2),
        (GridToLay("a", 10, 10), GridToLay("b", 10, 10, shot_at=(("left", 3.0),)), 3),
        (GridToLay("a", 10, 10, shares_edges=True), GridToLay("b", 10, 10), 2),
        (GridToLay("a", 10, 10, shares_edges=True), GridToLay("b", 10, 10, shares_edges=True), 0),
    ],
)
def test_between_two_grids(first: GridToLay, second: GridToLay, gap_m: float) -> None:
    assert lay_out([first, second], [fenced("strip", 22 + gap_m, 16)]).placed
    assert not lay_out([first, second], [fenced("strip", 21.9 + gap_m, 16)]).placed


def test_nobody_stands_behind_a_goal_that_is_shot_at() -> None:
    both_ends = GridToLay("shot", 24, 20, shot_at=(("left", 15.0), ("right", 15.0)))
    other = GridToLay("other", 10, 20)
    assert lay_out([both_ends, other], [fenced("strip", 1 + 24 + 15 + 10 + 1, 22)]).placed
    assert not lay_out([both_ends, other], [fenced("strip", 24 + 15 + 10 + 1, 22)]).placed
    one_end = GridToLay("shot", 24, 20, shot_at=(("right", 15.0),))  # turned, so that it shoots at the fence
    assert lay_out([one_end, other], [fenced("strip", 1 + 24 + 3 + 10 + 1, 22)]).placed


def test_goals_back_to_back_share_the_clear_ground() -> None:
    two = [GridToLay(key, 20, 20, shot_at=(("left", 15.0), ("right", 15.0))) for key in "ab"]
    strip = fenced("strip", 3 + 20 + 15 + 20 + 3, 26)
    answer = lay_out(two, [strip])
    assert answer.margins.least_m == 3
    assert sound(answer, two, strip)


def test_towards_another_group_the_ground_behind_a_goal_is_kept_and_given_up_only_where_it_must_be() -> None:
    grid = GridToLay("a", 20, 14, shot_at=(("left", 15.0), ("right", 5.0)))
    roomy = lay_out([grid], [fenced("half", 33, 20, right="group")])
    # Not turned round: the goal that asks for 5 m is at the group's end.
    assert (roomy.placed[0].turned, roomy.margins.behind_groups, text(roomy)) == (0, True, [])
    tight = lay_out([grid], [fenced("half", 25, 20, right="group")])
    assert tight.placed
    assert text(tight)[-1] == ("Not enough room behind 1 goal: use the fence or a net, keep everyone clear.")
    between = lay_out([grid], [fenced("third", 26, 20, left="group", right="group")])
    assert text(between) == ["Not enough room behind 2 goals: use the fence or a net, keep everyone clear."]


def test_outside_players_take_ground_and_a_waiting_line_takes_none() -> None:
    outside = GridToLay("a", 20, 10, strips_m=(("left", 2.0),))
    assert lay_out([outside], [fenced("s", 24, 12)]).placed[0].body.length_m == 22.0
    assert not lay_out([outside], [fenced("s", 23.9, 12)]).placed
    line = GridToLay("a", 20, 10, waits_m=(("left", 3.0),))
    placed = lay_out([line], [fenced("s", 22, 12)]).placed[0]
    assert (placed.body, placed.lines[0].length_m, placed.lines[0].x_m) == (placed.grid, 1.0, 0.0)


def test_a_line_stands_between_grids_and_neither_on_the_next_one_nor_behind_its_goal() -> None:
    line = GridToLay("b", 12, 14, waits_m=(("left", 3.0), ("right", 3.0)))
    two = [GridToLay("a", 12, 14), line]
    answer = lay_out(two, [fenced("s", 30, 18)])
    # Outside it has the 2 m that the fence leaves, towards the other grid the 2 m between them.
    assert [each.length_m for each in answer.placed[1].lines] == [2.0, 2.0]
    assert answer.placed[0].lines == ()
    shot = GridToLay("a", 20, 14, shot_at=(("left", 5.0), ("right", 5.0)))
    beside = lay_out([shot, line], [fenced("s", 20 + 12 + 5 + 4, 18)])
    assert [each.length_m for each in beside.placed[1].lines] == [2.0]


@pytest.mark.parametrize("seed", range(40))
def test_placed_with_the_margins_that_trying_every_metre_finds(seed: int) -> None:
    chance = random.Random(seed)
    edges = {edge: chance.choice(STANDS) for edge in ALL_EDGES}
    many = chance.randint(1, 3)
    longest = 18 if many < 3 else 12
    piece = fenced("s", chance.randint(8, longest), chance.randint(6, 9), **edges)
    grids = [
        GridToLay(
            str(number),
            chance.randint(2, 6),
            chance.randint(2, 4),
            strips_m=((chance.choice(ALL_EDGES), 1.0),) if chance.random() < 0.3 else (),
            shot_at=((chance.choice(ALL_EDGES), float(chance.randint(3, 6))),)
            if chance.random() < 0.4
            else (),
            shares_edges=chance.random() < 0.2,
        )
        for number in range(many)
    ]
    answer, expected = lay_out(grids, [piece], seconds=10), by_hand(grids, piece)
    assert answer.proven
    assert bool(answer.placed) == (expected is not None)
    if expected is not None:
        run_off, behind_groups = expected
        assert answer.margins.behind_groups == behind_groups
        # Of (3, 2) and (2, 3), which are equally wide, either is right.
        assert sorted((answer.margins.along_m, answer.margins.across_m)) == sorted(run_off)
        assert sound(answer, grids, piece)


def test_what_a_packer_places_is_placed() -> None:
    from rectpack import newPacker

    for seed in range(6):
        chance = random.Random(seed)
        sides = [(chance.randint(8, 20), chance.randint(6, 14)) for _ in range(4)]
        packer = newPacker(rotation=True)
        for length, width in sides:
            packer.add_rect(length + 2, width + 2)
        packer.add_bin(60 - 2 * 3 + 2, 40 - 2 * 3 + 2)
        packer.pack()
        grids = [GridToLay(str(n), *each) for n, each in enumerate(sides)]
        answer = lay_out(grids, [FIELD], seconds=5)
        assert answer.margins.least_m == 3 or len(packer.rect_list()) < 4
        assert sound(answer, grids, FIELD)


def test_impossible_input_names_its_field() -> None:
    with pytest.raises(ValueError, match="length_m"):
        GridToLay("a", -1, 5)
    with pytest.raises(ValueError, match="shot_at left"):
        GridToLay("a", 5, 5, shot_at=(("left", -1.0),))
    with pytest.raises(ValueError, match="pace_m"):
        lay_out([GridToLay("a", 5, 5)], [FIELD], pace_m=0.1)
    with pytest.raises(ValueError, match="same key"):
        lay_out([GridToLay("a", 5, 5), GridToLay("a", 5, 5)], [FIELD])
