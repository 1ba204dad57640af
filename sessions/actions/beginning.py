"""A new session with something in it, and a session saved whole: its frame and its parts in one step."""

from collections.abc import Sequence
from typing import Any

from club import queries as club
from club.actions import action
from club.actor import Actor
from sessions.actions.booking import DayAndTimes, change_session, plan_session
from sessions.actions.parts import PartInput, replace_parts, save_parts, take_parts_of
from sessions.actions.ready import use_ready
from sessions.choices import PartKind
from sessions.models import PartOrder, TrainingSession
from sessions.planning.order import LEAST_MINUTES, slices, usual_changeover_s
from sessions.queries.rows import session_by_id
from sessions.validators import minutes_between


@action
def begin_session(
    *,
    actor: Actor,
    when: DayAndTimes,
    source: TrainingSession | None = None,
    in_order: bool = False,
    order: PartOrder | None = None,
    **frame: Any,
) -> TrainingSession:
    """Plan a session and fill it from `source`, with a session template (every drill of it set up), in the club's order of
    parts, or leave it blank.
    """
    session = plan_session(when=when, **frame)
    if source is not None:
        return take_parts_of(actor=actor, session=session, version=session.version, source=source)
    if order is not None and order.minutes is not None:
        fresh = session_by_id(session.public_id)
        assert fresh is not None
        return use_ready(actor=actor, session=fresh, version=fresh.version, template=order)
    if order is not None:
        parts = parts_in_kept_order(order, when)
        return save_parts(actor=actor, session=session, version=session.version, parts=parts)
    if in_order:
        parts = parts_in_order(when)
        return save_parts(actor=actor, session=session, version=session.version, parts=parts)
    return session


def parts_in_kept_order(order: PartOrder, when: DayAndTimes) -> list[PartInput]:
    """Empty parts in an order that the club keeps, its minutes shared out over the session's."""
    settings = club.club_settings()
    minutes = minutes_between(when.starts, when.ends)
    room = max(0.0, minutes - settings.clear_minutes - (len(order.parts) - 1) * settings.changeover_s / 60)
    whole = sum(each["minutes"] for each in order.parts) or 1
    made = []
    for index, each in enumerate(order.parts):
        mine = max(LEAST_MINUTES, int(each["minutes"] * room / whole))
        made.append(
            PartInput(
                kind=PartKind(each["kind"]),
                title=each["title"],
                minutes=mine,
                bout_s=mine * 60,
                changeover_s=usual_changeover_s(index, settings.changeover_s),
                effort=each["cr10"],
            )
        )
    return made


def parts_in_order(when: DayAndTimes) -> list[PartInput]:
    """Empty parts in the club's order, the minutes shared out."""
    settings = club.club_settings()
    known = [kind for kind in settings.part_order if kind in PartKind.values]
    made = slices(
        known,
        minutes=minutes_between(when.starts, when.ends),
        clear_minutes=settings.clear_minutes,
        changeover_s=settings.changeover_s,
    )
    return [
        PartInput(
            kind=PartKind(each.kind),
            minutes=each.minutes,
            bout_s=each.minutes * 60,
            changeover_s=each.changeover_s,
            effort=each.cr10,
        )
        for each in made
    ]


@action
def plan_whole(*, actor: Actor, parts: Sequence[PartInput] | None, **frame: Any) -> TrainingSession:
    """A new session with its parts; nothing is kept when any of it is refused."""
    session = begin_session(actor=actor, **frame)
    if not parts:
        return session
    return save_parts(actor=actor, session=session, version=session.version, parts=parts)


@action
def save_whole(
    *, actor: Actor, session: TrainingSession, version: int, parts: Sequence[PartInput] | None, **frame: Any
) -> TrainingSession:
    """Frame and parts in one step; parts that aren't sent stay as they are."""
    saved = change_session(session=session, version=version, **frame)
    if parts is not None:
        replace_parts(actor=actor, locked=saved, parts=parts)
    return saved
