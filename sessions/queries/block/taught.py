"""What sessions teach, theme by theme: as they were run where they are done, as planned where they are to come."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from club import queries as club
from drills import queries as drills
from sessions import bridge
from sessions.choices import TOOK_PLACE, State
from sessions.models import Part, Station, TrainingSession
from sessions.planning.account import Account, account
from sessions.planning.fold import DeliveryState
from sessions.planning.taught import TaughtPart, theme_minutes
from sessions.queries.rows import sessions_between


@dataclass(frozen=True)
class Taught:
    """A session with its minutes on each theme, by the theme's key, and all its minutes.

    `is_late` says that its time is over and nothing was recorded: it counts as planned.
    """

    session: TrainingSession
    is_done: bool
    is_late: bool = False
    minutes: float = 0.0
    themes: Mapping[str, float] = field(default_factory=dict)


def taught_between(
    first: date, last: date, *, age_group_ids: Iterable[int] | None = None, squad_id: int | None = None
) -> list[Taught]:
    """Sessions of these days, both included, without those that were called off; in order of time.

    Three queries, one more where another drill was played in a part's place.
    """
    return taught_by(sessions_between(first, last, age_group_ids=age_group_ids, squad_id=squad_id))


def taught_by(sessions: Iterable[TrainingSession]) -> list[Taught]:
    """The same of sessions that are at hand with their parts. One query, two where another drill was played."""
    rows = [each for each in sessions if each.state != State.CANCELLED]
    states = {each.pk: bridge.state_of(each) if each.state in TOOK_PLACE else None for each in rows}
    stations = _themes_of_stations([each.pk for each in rows])
    swapped = _themes_of_swaps(state for state in states.values() if state)
    today = club.today()
    return [_taught(each, states[each.pk], stations, swapped, today) for each in rows]


def _taught(
    session: TrainingSession,
    state: DeliveryState | None,
    stations: Mapping[int, list[list[str]]],
    swapped: Mapping[tuple[str, int], list[str]],
    today: date,
) -> Taught:
    is_done = session.state in TOOK_PLACE
    is_late = not is_done and session.day < today
    rows: Sequence[Part] = list(session.parts.all())
    if not rows:
        minutes = float(session.delivered_minutes or bridge.minutes_of(session))
        themes = {session.theme.key: minutes} if session.theme else {}
        return Taught(session, is_done, is_late, minutes, themes)
    cost = _account(session, rows, state)
    swaps = {each.key: each.swap for each in state.parts if each.swap} if state else {}
    parts = []
    for row in rows:
        swap = swaps.get(str(row.public_id))
        played = [swapped.get((swap.drill, swap.revision), [])] if swap else stations.get(row.pk, [])
        parts.append(TaughtPart(cost.part(str(row.public_id)).minutes, played))
    return Taught(session, is_done, is_late, sum(each.minutes for each in parts), theme_minutes(parts))


def _account(session: TrainingSession, rows: Iterable[Part], state: DeliveryState | None) -> Account:
    settings = club.club_settings()
    parts = [bridge.part_of(each, title="") for each in rows]
    plan = bridge.plan_of(session, parts, zone=settings.time_zone, clear_minutes=settings.clear_minutes)
    return account(plan, state)


def _themes_of_stations(session_pks: Iterable[int]) -> dict[int, list[list[str]]]:
    """By a part's inner id the themes of what each of its stations plays."""
    found: dict[int, list[list[str]]] = {}
    rows = Station.objects.filter(part__session__in=list(session_pks)).order_by("part", "position", "pk")
    for part, themes in rows.values_list("part_id", "revision__document__themes"):
        found.setdefault(part, []).append(themes or [])
    return found


def _themes_of_swaps(states: Iterable[DeliveryState]) -> dict[tuple[str, int], list[str]]:
    wanted = {(part.swap.drill, part.swap.revision) for state in states for part in state.parts if part.swap}
    documents: Mapping[tuple[str, int], Any] = drills.documents_of_revisions(wanted) if wanted else {}
    return {key: list(each.themes) for key, each in documents.items()}
