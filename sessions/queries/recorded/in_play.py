"""Who was in play, from what is kept of a session: the turns that were worked out, and set-ups that left nobody off."""

from collections.abc import Mapping
from typing import Any

from sessions import bridge
from sessions.models import Part, TrainingSession, Turns
from sessions.planning.account import Account
from sessions.planning.clock import timetable
from sessions.planning.fold import DeliveryState, PartState
from sessions.planning.plan import SessionPlan
from sessions.planning.rotation import PeopleBout
from sessions.planning.rotation.as_run import PartPlayed, Round, WhoPlayed, most_there, rounds_run
from sessions.queries.recorded.station_run import run_of


def parts_played(
    session: TrainingSession, run: SessionPlan, ran: Account, state: DeliveryState
) -> list[PartPlayed]:
    """The parts that were run, in order. `run` is the plan with what was played. One query."""
    rows = {str(each.public_id): each for each in session.parts.all()}
    turns = {str(each.station_id): each for each in Turns.objects.filter(session=session)}
    states = {each.key: each for each in state.parts}
    planned = {each.key: each.starts_at for each in timetable(run).parts}
    found = []
    for part in run.parts:
        cost, at = ran.part(part.key), states.get(part.key, PartState(key=part.key))
        if cost.ran:
            rounds = rounds_run(part, cost, at.started_at or planned[part.key])
            found.append(_played(session, rows[part.key], at, rounds, turns, state))
    return found


def _played(
    session: TrainingSession,
    row: Part,
    at: PartState,
    rounds: tuple[Round, ...],
    turns: Mapping[str, Turns],
    state: DeliveryState,
) -> PartPlayed:
    stations = list(row.stations.all())
    kept = turns.get(str(stations[0].public_id)) if len(stations) == 1 else None
    bouts: dict[int, PeopleBout] = {}
    who: WhoPlayed = "not_known"
    if at.swap is None and kept is not None and kept.bouts:
        who, bouts = "turns", {each.number: each for each in bridge.people_bouts(kept.bouts)}
    elif at.swap is None and _nobody_off(session, stations, rounds, state):
        who = "everybody"
    return PartPlayed(str(row.public_id), rounds, who, bouts)


def _nobody_off(
    session: TrainingSession, stations: list[Any], rounds: tuple[Round, ...], state: DeliveryState
) -> bool:
    """Whether set-ups that were accepted took everybody in who was there at any time of it, and had nobody off."""
    if not stations or any(each.revision_id is None for each in stations):
        return False
    setups = [run_of(session, each).setup for each in stations]
    places = sum(each.players_total for each in setups if each is not None and not each.waiting)
    every = all(each is not None and not each.waiting for each in setups)
    return every and most_there(rounds, state.register) + len(state.trialists) <= places


def known_as(parts: list[PartPlayed]) -> Mapping[str, WhoPlayed]:
    """What is known of each part that was run, by its key."""
    return {each.key: each.who for each in parts}
