"""Who is in play at once: places for the players, waiting by design, several stations."""

from sessions.planning.inplay import InPlay, in_play_of, playing_share


def test_places_waiting_by_design_and_games_that_anyone_joins() -> None:
    assert [playing_share(players, 12) for players in (0, 10, 12, 16)] == [None, 1.0, 1.0, 0.75]
    assert playing_share(16, 4, anyone_can_join=True) == 1.0
    assert playing_share(4, 4, planned_waiting=0.5) == 0.5


def test_a_part_is_the_mean_of_its_stations_and_as_written_while_one_is() -> None:
    assert in_play_of([(1.0, True), (0.5, False), (None, False)]) == InPlay(0.75, True)
    assert in_play_of([(0.5, True)]) == InPlay(0.5, False)
    assert in_play_of([]) is None
