"""What sessions put into the ledger: one entry for the team, one for each player who took part.

An entry depends on what happened, never on the order in which it became known: its ingredients are stored with it, and
whatever changes a team's factor works out anew the later entries that lean on it. A team's entries are written one
transaction at a time, so that nobody reads half of somebody else's.
"""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from club.actions.conflicts import lock_name
from sessions.choices import TOOK_PLACE, Kind
from sessions.models import LedgerEntry, TrainingSession
from sessions.planning import load
from sessions.planning.account import Account, account
from sessions.planning.fold import DeliveryState, minutes_taking_part
from sessions.planning.plan import SessionPlan
from sessions.queries.guides import goes_by_load
from sessions.queries.ledger import LOOK_BACK_DAYS, factor_of, ledger_rows
from sessions.queries.recorded.as_run import plan_as_run

NO_HEADING = "no_heading"


def write_accounts(
    session: TrainingSession, state: DeliveryState, plan: SessionPlan, players: Mapping[str, Any]
) -> None:
    """The session's entries anew, and the estimates of later sessions that lean on its rating. The caller holds the session."""
    lock_name(f"ledger of {session.squad_id}")
    before = LedgerEntry.objects.filter(session=session).delete()[0]
    if session.state in TOOK_PLACE:
        LedgerEntry.objects.bulk_create(_entries(session, state, plan, players))
    if before or session.state in TOOK_PLACE:
        estimate_anew(session.squad_id, after=session.day)


def _entries(
    session: TrainingSession, state: DeliveryState, plan: SessionPlan, players: Mapping[str, Any]
) -> list[LedgerEntry]:
    ran = account(plan_as_run(session, plan, state), state)
    team = _of_the_team(session, state, ran)
    found = [team]
    for key, line in state.register.items():
        player = players.get(key)
        if player is None or line.state == "absent":
            continue
        taken = minutes_taking_part(state, key)
        heads = taken > 0 and NO_HEADING not in line.limits
        found.append(_of_a_player(session, team, player, taken, ran if heads else None))
    return found


def _of_the_team(session: TrainingSession, state: DeliveryState, ran: Account) -> LedgerEntry:
    minutes = _tenths(state.minutes_delivered)
    as_run = _tenths(ran.load_au)
    rating = state.effort()
    k = factor_of(_rows_before(session.squad_id, session.day), session.squad_id, before=session.day)
    return LedgerEntry(
        squad_id=session.squad_id,
        session=session,
        day=session.day,
        kind=Kind.TRAINING,
        minutes=minutes,
        load_au=_load(rating, minutes, as_run, k),
        as_run_au=as_run,
        is_estimated=rating is None,
        headers=ran.headers,
        heading_minutes=_tenths(ran.heading_minutes),
    )


def _of_a_player(
    session: TrainingSession, team: LedgerEntry, player: Any, taken: float, headed: Account | None
) -> LedgerEntry:
    minutes = _tenths(taken)
    with_load = goes_by_load(session.age_group)
    return LedgerEntry(
        squad_id=player.squad_id,
        player=player,
        session=session,
        day=session.day,
        kind=Kind.TRAINING,
        minutes=minutes,
        load_au=_share(team, minutes) if with_load else None,
        is_estimated=team.is_estimated,
        headers=headed.headers if headed else 0,
        heading_minutes=_tenths(headed.heading_minutes) if headed else Decimal(0),
    )


def _load(rating: float | None, minutes: Decimal, as_run: Decimal, k: float) -> Decimal:
    """Rating × minutes, or what was to be expected of what was run. From the figures as they are stored, so that working it
    out again comes to the same."""
    found = load.delivered(rating, float(minutes), load.expected(float(as_run), k))
    return _tenths(found.load_au)


def _share(team: LedgerEntry, minutes: Decimal) -> Decimal:
    """A player's part of the team's load, by minutes taking part."""
    if not team.minutes or team.load_au is None:
        return Decimal(0)
    return _tenths(float(team.load_au) * float(minutes) / float(team.minutes))


def _tenths(value: float) -> Decimal:
    return Decimal(str(round(value, 1)))


def _rows_before(squad_id: int, day: date) -> list[LedgerEntry]:
    return ledger_rows([squad_id], day - timedelta(days=LOOK_BACK_DAYS), day - timedelta(days=1))


def estimate_anew(squad_id: int, *, after: date) -> None:
    """Work out the estimates of a team's later sessions by its ratings as they now are; the caller holds the team's ledger."""
    leaning = LedgerEntry.objects.filter(
        squad_id=squad_id, player__isnull=True, session__isnull=False, is_estimated=True, day__gt=after
    )
    teams = {each.session_id: each for each in leaning}
    if not teams:
        return
    last = max(each.day for each in teams.values())
    rows = ledger_rows([squad_id], after - timedelta(days=LOOK_BACK_DAYS), last)
    changed = [each for each in teams.values() if _estimated(each, rows)]
    LedgerEntry.objects.bulk_update(changed, ["load_au"])
    _share_anew(changed)


def _estimated(team: LedgerEntry, rows: Iterable[LedgerEntry]) -> bool:
    """Give an entry its estimate; False where it had it already."""
    first = team.day - timedelta(days=LOOK_BACK_DAYS)
    k = factor_of([row for row in rows if row.day >= first], team.squad_id, before=team.day)
    found = _load(None, team.minutes, team.as_run_au or Decimal(0), k)
    changed = found != team.load_au
    team.load_au = found
    return changed


def _share_anew(teams: Iterable[LedgerEntry]) -> None:
    by_session = {each.session_id: each for each in teams}
    rows = LedgerEntry.objects.filter(session_id__in=by_session, player__isnull=False, load_au__isnull=False)
    for row in rows:
        row.load_au = _share(by_session[row.session_id], row.minutes)
    LedgerEntry.objects.bulk_update(rows, ["load_au"])
