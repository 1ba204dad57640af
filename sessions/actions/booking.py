"""Writing a session's time, place and people; a clash names the other booking."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC
from typing import Any

from django.db import IntegrityError, transaction
from django.db.backends.postgresql.psycopg_any import DateTimeTZRange
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from club import queries as club
from club.actions import action, constraint_of, hold, lock_row
from club.errors import Clash, FieldProblem, Refused, Stale
from club.validators import line_problems, text_problems
from sessions.actions.calendar.marking import mark_calendar
from sessions.actions.company import leave, leave_if_apart
from sessions.actions.frames import NOWHERE, DayAndTimes, ZonesAndStaff
from sessions.actions.heeding import heed_slots
from sessions.bridge import period_of
from sessions.choices import STILL_TO_COME, Kind, StaffPart, State, WhyCancelled
from sessions.models import SessionStaff, SessionZone, Slot, TrainingSession
from sessions.queries.together import key_of
from sessions.validators import SHORTEST_MINUTES, players_problems, when_problems


@action
def plan_session(
    *,
    age_group_id: int,
    squad_id: int,
    when: DayAndTimes,
    place: ZonesAndStaff = NOWHERE,
    slot: Slot | None = None,
    title: str = "",
    theme_id: int | None = None,
    players_expected: int = 14,
    kind: Kind = Kind.TRAINING,
    note: str = "",
    confirm: str = "",
) -> TrainingSession:
    """Put a session on a day with its bookings. Raises Refused, and Clash when a place or person is taken.

    `confirm` is the yes to taking another team's empty slot; without it AskFirst is raised.
    """
    refuse_if([*_when_problems(when), *players_problems(players_expected), *_words_problems(title, note)])
    heed_slots(squad_id=squad_id, when=when, place=place, confirm=confirm)
    with naming_the_clash(place, when):
        session = TrainingSession.objects.create(
            age_group_id=age_group_id,
            squad_id=squad_id,
            slot=slot,
            slot_day=when.day if slot else None,
            day=when.day,
            starts=when.starts,
            ends=when.ends,
            period=_range(when),
            title=title.strip(),
            theme_id=theme_id,
            players_expected=players_expected,
            kind=kind,
            note=note.strip(),
        )
        _book(session, place)
    mark_calendar(session)
    return session


@action
def change_session(
    *,
    session: TrainingSession,
    version: int,
    when: DayAndTimes,
    place: ZonesAndStaff,
    title: str,
    theme_id: int | None,
    players_expected: int,
    note: str = "",
    confirm: str = "",
) -> TrainingSession:
    """Save the frame of a session: what it is called, when, where, who. Another day or time marks it moved.

    Raises AskFirst where a new time or place is another team's empty slot; `confirm` is the yes.
    """
    refuse_if([*_when_problems(when), *players_problems(players_expected), *_words_problems(title, note)])
    locked = lock(session, version)
    moves = (locked.day, locked.starts, locked.ends) != (when.day, when.starts, when.ends)
    if moves and locked.state not in STILL_TO_COME:
        raise Refused(_("This session has taken place or was cancelled; it can't be moved any more."), "day")
    if moves or not set(place.zone_ids) <= set(locked.bookings.values_list("zone_id", flat=True)):
        heed_slots(squad_id=locked.squad_id, when=when, place=place, confirm=confirm)
    if moves and locked.slot_id and locked.state == State.PLANNED:
        locked.state, locked.moved_from = State.MOVED, locked.period
    locked.day, locked.starts, locked.ends, locked.period = when.day, when.starts, when.ends, _range(when)
    locked.title, locked.theme_id, locked.note = title.strip(), theme_id, note.strip()
    locked.players_expected = players_expected
    with naming_the_clash(place, when, but=locked):
        locked.bookings.all().delete()
        locked.staff.all().delete()
        locked.save()
        leave_if_apart(locked)
        _book(locked, place)
    mark_calendar(locked)
    return locked


@action
def move_session(
    *, session: TrainingSession, version: int, when: DayAndTimes, confirm: str = ""
) -> TrainingSession:
    """Move a session to another day or time with the same zones and people."""
    place = ZonesAndStaff(
        tuple(session.bookings.values_list("zone_id", flat=True)),
        tuple(session.staff.order_by("-part", "id").values_list("user_id", flat=True)),  # who leads, first
    )
    return put_session(session=session, version=version, when=when, place=place, confirm=confirm)


@action
def put_session(
    *, session: TrainingSession, version: int, when: DayAndTimes, place: ZonesAndStaff, confirm: str = ""
) -> TrainingSession:
    """Another time or place or other people for a session that stays what it is."""
    return change_session(
        session=session,
        version=version,
        when=when,
        place=place,
        title=session.title,
        theme_id=session.theme_id,
        players_expected=session.players_expected,
        note=session.note,
        confirm=confirm,
    )


@action
def cancel_session(*, session: TrainingSession, version: int, why: WhyCancelled) -> TrainingSession:
    """Cancel a session that has not taken place: its places and people are free again."""
    locked = lock(session, version)
    if locked.state not in STILL_TO_COME:
        raise Refused(_("Only a session that is still to come can be cancelled."))
    locked.state, locked.why_cancelled = State.CANCELLED, why
    locked.bookings.all().delete()
    locked.staff.all().delete()
    locked.save()
    leave(locked)
    mark_calendar(locked)
    return locked


def lock(session: TrainingSession, version: int) -> TrainingSession:
    """The session's row, locked, with its version raised in memory. Raises Stale when it has moved on."""
    locked = lock_row(TrainingSession, session.pk)
    if locked.version != version:
        raise Stale(theirs=locked, version=locked.version)
    locked.version += 1
    return locked


def refuse_if(problems: Iterable[FieldProblem]) -> None:
    found = list(problems)
    if found:
        raise Refused(found)


@contextmanager
def naming_the_clash(
    place: ZonesAndStaff, when: DayAndTimes, *, but: TrainingSession | None = None
) -> Iterator[None]:
    """Turn the database's refusal of an overlap into words that name the other booking.

    The constraint is the rule; what is looked up afterwards only finds the words for it.
    """
    try:
        with transaction.atomic():
            yield
    except IntegrityError as error:
        name = constraint_of(error)
        if name == "zone_booked_once":
            raise _zone_clash(place.zone_ids, when, but) from error
        if name == "coach_in_one_place":
            raise _coach_clash(place.staff_ids, when, but) from error
        raise


def _zone_clash(zone_ids: Iterable[int], when: DayAndTimes, but: TrainingSession | None) -> Clash:
    other = (
        SessionZone.objects.filter(zone_id__in=list(zone_ids), period__overlap=_range(when))
        .exclude(together=key_of(but) if but else None)
        .select_related("zone__pitch", "session__squad")
        .first()
    )
    if other is None:
        return Clash(_("One of the spaces is taken at that time."), field="zones")
    text = _("{space} is taken {when} by {team}.").format(
        space=other.zone, when=_said(other.session), team=other.session.squad.name
    )
    return Clash(text, str(other.session.public_id), "zones")


def _coach_clash(user_ids: Iterable[int], when: DayAndTimes, but: TrainingSession | None) -> Clash:
    other = (
        SessionStaff.objects.filter(user_id__in=list(user_ids), period__overlap=_range(when))
        .exclude(together=key_of(but) if but else None)
        .select_related("user", "session__squad")
        .first()
    )
    if other is None:
        return Clash(_("One of the coaches is somewhere else at that time."), field="staff")
    text = _("{coach} is with {team} {when}.").format(
        coach=other.user.name, team=other.session.squad.name, when=_said(other.session)
    )
    return Clash(text, str(other.session.public_id), "staff")


def _said(session: TrainingSession) -> str:
    return _("on {day} {from_time}–{to_time}").format(
        day=date_format(session.day, "D j M"),
        from_time=f"{session.starts:%H:%M}",
        to_time=f"{session.ends:%H:%M}",
    )


def _book(session: TrainingSession, place: ZonesAndStaff) -> None:
    hold(zone_ids=place.zone_ids, user_ids=place.staff_ids)
    key = key_of(session)
    SessionZone.objects.bulk_create(
        SessionZone(session=session, zone_id=zone, period=session.period, together=key)
        for zone in dict.fromkeys(place.zone_ids)
    )
    SessionStaff.objects.bulk_create(
        SessionStaff(
            session=session,
            user_id=user,
            part=StaffPart.HELPS if index else StaffPart.LEADS,
            period=session.period,
            together=key,
        )
        for index, user in enumerate(dict.fromkeys(place.staff_ids))
    )


def _range(when: DayAndTimes) -> DateTimeTZRange:
    starts, ends = period_of(when.day, when.starts, when.ends, club.club_settings().time_zone)
    return DateTimeTZRange(starts, ends)


def _words_problems(title: str, note: str) -> list[FieldProblem]:
    return [*line_problems(title=title.strip()), *text_problems(note=note)]


def _when_problems(when: DayAndTimes) -> list[FieldProblem]:
    season = club.current_season(when.day)
    limits = (season.period.lower, season.period.upper) if season else None
    if limits is None:
        return [FieldProblem("day", _("No season runs on that day."))]
    return when_problems(when.day, when.starts, when.ends, season=limits) or _clock_problems(when)


def _clock_problems(when: DayAndTimes) -> list[FieldProblem]:
    """What the clock says may not be what passes: in a night in which the clocks go forward an hour is not there."""
    zone = club.club_settings().time_zone
    lower, upper = (each.astimezone(UTC) for each in period_of(when.day, when.starts, when.ends, zone))
    minutes = round((upper - lower).total_seconds() / 60)
    if minutes >= SHORTEST_MINUTES:
        return []
    text = "The clocks go forward that night, so this would last {n} minutes. Choose an end at least {least} minutes later."
    return [FieldProblem("ends", text.format(n=max(0, minutes), least=SHORTEST_MINUTES - minutes))]


def give_free(session: TrainingSession) -> dict[str, Any]:
    """Let go of every zone and person, as calling off at the desk does; what they were, for `take_back`."""
    held = {
        "zones": list(session.bookings.order_by("pk").values_list("zone_id", flat=True)),
        "staff": [list(row) for row in session.staff.order_by("pk").values_list("user_id", "part")],
    }
    session.bookings.all().delete()
    session.staff.all().delete()
    return held


def take_back(session: TrainingSession, held: dict[str, Any]) -> None:
    """Book again what nobody else has taken since; the rest stays with whoever has it now."""
    period = session.period
    hold(zone_ids=held["zones"], user_ids=[user for user, _part in held["staff"]])
    key = key_of(session)
    zones = [
        SessionZone(session=session, zone_id=zone, period=period, together=key) for zone in held["zones"]
    ]
    staff = [
        SessionStaff(session=session, user_id=user, part=part, period=period, together=key)
        for user, part in held["staff"]
    ]
    for row in (*zones, *staff):
        try:
            with transaction.atomic():
                row.save()
        except IntegrityError:
            continue


def leave_filled_slot(session: TrainingSession) -> None:
    """A slot's day that another session has filled since stays with that one; this one is on without a slot."""
    others = TrainingSession.objects.filter(slot_id=session.slot_id, slot_day=session.slot_day)
    if session.slot_id and others.exclude(pk=session.pk).exclude(state=State.CANCELLED).exists():
        session.slot, session.slot_day = None, None
