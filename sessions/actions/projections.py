"""What follows from a session's events, worked out anew: state, register, ratings, and what it put into the ledger.

A projection that may be thrown away: the same events leave the same rows, in whatever order they came in.
"""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

import msgspec

from club import queries as club
from club.actions import action, lock_row
from sessions import bridge
from sessions.actions.accounts import write_accounts
from sessions.actions.booking import give_free, leave_filled_slot, take_back
from sessions.actions.calendar.marking import mark_calendar
from sessions.choices import TOOK_PLACE, Attendance, State, WhyCancelled
from sessions.models import DeliveryEvent, Rating, Register, TrainingSession
from sessions.planning.account import account
from sessions.planning.fold import DeliveryState, Event, fold, minutes_taking_part
from sessions.planning.plan import SessionPlan
from sessions.planning.rotation import Shares
from sessions.planning.rotation.as_run import NOBODY, in_play
from sessions.queries.helping.news import HEADS, RUN
from sessions.queries.recorded.as_run import plan_as_run
from sessions.queries.recorded.in_play import parts_played


@action
def rebuild(*, session: TrainingSession, last_seq: int | None = None) -> DeliveryState:
    """Work out register, ratings, ledger and state from the events; a projection that may be thrown away."""
    if last_seq is None:
        session = lock_row(TrainingSession, session.pk)
    plan = _plan(session)
    rows = list(DeliveryEvent.objects.filter(session=session))
    state = fold(plan, [event_of(row) for row in rows])
    _write_state(session, state, last_seq if last_seq is not None else session.last_seq, _helped(rows, state))
    players = {
        str(each.public_id): each
        for each in club.players_by_id(
            [*state.register, *(each.player for each in state.guests)], on=session.day
        )
    }
    _write_register(session, state, players, _in_play(session, state, plan))
    _write_ratings(session, state, players)
    write_accounts(session, state, plan, players)
    return state


def _helped(rows: Iterable[DeliveryEvent], state: DeliveryState) -> list[str]:
    """What helpers without an account did, and did not undo."""
    stands = [each for each in rows if each.actor_id is None and str(each.event_id) not in state.undone]
    said = [("run", RUN), ("heads", {HEADS})]
    return [word for word, kinds in said if any(each.kind in kinds for each in stands)]


def event_of(row: DeliveryEvent) -> Event:
    """A stored event as the fold takes it."""
    return Event(
        id=str(row.event_id),
        kind=row.kind,
        at=row.at,
        skew_ms=row.skew_ms,
        v=row.form,
        body=row.body,
        device=row.device,
    )


def _plan(session: TrainingSession) -> SessionPlan:
    settings = club.club_settings()
    parts = [bridge.part_of(row, title=row.title) for row in session.parts.all()]
    return bridge.plan_of(session, parts, zone=settings.time_zone, clear_minutes=settings.clear_minutes)


_STATES = {"delivered": State.DELIVERED, "shortened": State.SHORTENED, "cancelled": State.CANCELLED}


def _write_state(session: TrainingSession, state: DeliveryState, last_seq: int, helped: list[str]) -> None:
    before = session.state
    still = State.MOVED if session.moved_from else State.PLANNED
    called_off_at_the_desk = (
        session.state == State.CANCELLED and session.delivery.get("status") != "cancelled"
    )
    if not (called_off_at_the_desk and state.status in ("planned", "running")):
        session.state = _STATES.get(state.status, still)
        session.why_cancelled = (
            WhyCancelled((state.reason or "weather").replace("_", " "))
            if session.state == State.CANCELLED
            else ""
        )
    took_place = session.state in TOOK_PLACE
    session.delivered_minutes = round(state.minutes_delivered) if took_place else None
    held = _let_go_or_taken_back(session, before)
    session.delivery = {
        **_slim(state),
        **({"held": held} if held else {}),
        **({"helped": helped} if helped else {}),
    }
    session.last_seq = last_seq
    session.version += 1
    session.save()
    if (before == State.CANCELLED) != (session.state == State.CANCELLED):
        mark_calendar(session)


def _slim(state: DeliveryState) -> dict[str, Any]:
    """The state without whole set-ups, which stations keep, and without the teams of a night that is over."""
    plain: dict[str, Any] = msgspec.to_builtins(state)
    for part in plain["parts"]:
        part["setup"] = bridge.headline(part["setup"])
        part["setups"] = {key: bridge.headline(each) for key, each in part["setups"].items()}
    if state.status in ("delivered", "shortened"):
        plain["teams"] = {}
    return plain


def _let_go_or_taken_back(session: TrainingSession, before: str) -> Any:
    """Place and people go with a session that is called off, and come back with one that is on after all.

    What was let go is kept with the delivery for as long as the session is off.
    """
    held = session.delivery.get("held")
    if session.state == State.CANCELLED:
        return give_free(session) if before != State.CANCELLED else held
    if before == State.CANCELLED:
        leave_filled_slot(session)
    if held:
        take_back(session, held)
    return None


def _in_play(session: TrainingSession, state: DeliveryState, plan: SessionPlan) -> Mapping[str, Shares]:
    """Minutes in play of each player of the register, by the outer id; nothing before the session is done."""
    if session.state not in TOOK_PLACE:
        return {}
    run = plan_as_run(session, plan, state)
    return in_play(parts_played(session, run, account(run, state), state), state.register)


def _write_register(
    session: TrainingSession, state: DeliveryState, players: Mapping[str, Any], shares: Mapping[str, Shares]
) -> None:
    over = session.state in TOOK_PLACE
    guests = {each.player for each in state.guests}
    Register.objects.filter(session=session).delete()
    Register.objects.bulk_create(
        Register(
            session=session,
            player=players[key],
            state=Attendance.WATCHING if line.taking == "watching" and line.state != "absent" else line.state,
            came_at=line.from_at,
            left_at=line.to_at,
            # Tonight's limits are nobody's business tomorrow.
            limits=[]
            if over
            else [*line.limits, *([f"at most {line.at_most_min} min"] if line.at_most_min else [])],
            was_limited=line.taking == "limited",
            is_guest=key in guests,
            minutes=_tenths(minutes_taking_part(state, key)) if over else 0,
            in_play_min=_tenths(shares.get(key, NOBODY).in_play_min),
            known_min=_tenths(shares.get(key, NOBODY).present_min),
        )
        for key, line in state.register.items()
        if key in players
    )


def _tenths(minutes: float) -> Decimal:
    return Decimal(str(round(minutes, 1)))


def _write_ratings(session: TrainingSession, state: DeliveryState, players: Mapping[str, Any]) -> None:
    Rating.objects.filter(session=session).delete()
    Rating.objects.bulk_create(
        Rating(session=session, player=players.get(each.player or ""), cr10=Decimal(str(each.cr10)))
        for each in state.ratings
        if each.part is None and (each.player is None or each.player in players)
    )


def rebuild_all() -> int:
    """Work out every session that has events anew, each in a transaction of its own; how many there were."""
    keys = list(
        TrainingSession.objects.filter(last_seq__gt=0)
        .order_by("day", "starts", "pk")
        .values_list("pk", flat=True)
    )
    for pk in keys:
        rebuild(session=TrainingSession.objects.get(pk=pk))
    return len(keys)
