"""What is different, for the coach: one sentence for each thing that changed, and none for what did not."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from drills.game.evening import PlayerAges
from drills.game.fit import SetUp
from drills.game.playable import design_of
from drills.game.variations import played
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.refit.model import PlayedStation, StationToReuse
from sessions.planning.refit.rounds import length_words
from sessions.planning.rounds import Rounds


def of_age(code: str, of_adults: str, players: PlayerAges | None, **values: Any) -> PlanningReason:
    """A reason that names who it is for; adults have a wording of their own."""
    if players is None or players.under_high is None:
        return reason(of_adults, **values)
    return reason(code, under=players.under_high, **values)


def rounds_changes(
    title: str, before: Rounds, after: Rounds, *, minutes: int, ages: PlayerAges | None
) -> Iterator[PlanningReason]:
    """Their length, the rest between them, how many. `ages` are those for which they changed; None: for the minutes."""
    length, rest = length_words(after.bout_s), length_words(after.rest_s)
    if after.bout_s != before.bout_s:
        was = length_words(before.bout_s)
        if ages is None:
            yield reason("carry_round_fill", title=title, before=was, after=length, minutes=minutes)
        else:
            yield of_age("carry_round", "carry_round_adults", ages, title=title, before=was, after=length)
    if after.bouts > 1 and before.bouts == 1:
        yield reason("carry_rest_new", title=title, after=rest)
    elif after.bouts > 1 and after.rest_s != before.rest_s:
        yield reason("carry_rest", title=title, before=length_words(before.rest_s), after=rest)
    if after.bouts != before.bouts:
        yield reason("carry_bouts", title=title, bouts=after.bouts, before=before.bouts)


def setup_changes(station: StationToReuse, setup: SetUp, players: int) -> Iterator[PlanningReason]:
    """Other numbers or other grids than were played, and how many are off in turn."""
    before, after = was_played(station), PlayedStation(setup.numbers, setup.grid_sizes)
    if before != after:
        yield reason(
            "carry_setup",
            title=station.title,
            before=before.numbers,
            before_length_m=float(before.sizes_m[0][0]),
            before_width_m=float(before.sizes_m[0][1]),
            numbers=setup.numbers,
            length_m=float(setup.length_m),
            width_m=float(setup.width_m),
            players=players,
        )
    if setup.waiting:
        yield reason("carry_off", title=station.title, waiting=setup.waiting, players=players)


def was_played(station: StationToReuse) -> PlayedStation:
    """The accepted set-up, else the drill as its rung has it."""
    if station.played is not None:
        return station.played
    assert station.document is not None
    grid = played(station.document, station.variation_key).grids[0]
    design = design_of(station.document, station.variation_key)
    return PlayedStation(str(design.format), ((grid.length_m, grid.width_m),))


def drill_changes(station: StationToReuse) -> Iterator[PlanningReason]:
    """What the library has otherwise since the drill was put into the session."""
    if station.newer:
        yield reason("carry_newer", title=station.title)
    if station.lost_rung:
        yield reason("carry_rung_gone", title=station.title, rung=station.lost_rung)


def place_changes(station: StationToReuse, place: str, *, elsewhere: bool) -> Iterator[PlanningReason]:
    """Where it stands now, and that its adult is to be chosen again where another group has it."""
    if place and place != station.place:
        yield reason("carry_place", title=station.title, place=place)
    elif place != station.place:
        yield reason("carry_place_left", title=station.title, place=station.place)
    if elsewhere and station.has_adult:
        yield reason("carry_adult", title=station.title)
