"""Two teams in one session: put together on purpose, and apart again. Each stays the session of its own team."""

import uuid
from contextlib import AbstractContextManager
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from club.actions import action, constraint_of, hold, lock_rows
from club.actor import Actor
from club.errors import Clash, Refused, Stale
from sessions.actions.booking import lock, naming_the_clash
from sessions.actions.calendar.marking import mark_calendar
from sessions.actions.company import leave
from sessions.actions.frames import DayAndTimes, ZonesAndStaff
from sessions.choices import STILL_TO_COME, StaffPart
from sessions.models import SessionStaff, SessionZone, Together, TrainingSession
from sessions.queries.together import key_of, members_of, shared_words

OTHERS = "with"


@action
def put_together(
    *,
    actor: Actor,
    session: TrainingSession,
    version: int,
    other: TrainingSession,
    share_place: bool = False,
    share_people: bool = False,
) -> TrainingSession:
    """Make two sessions at the same time share on purpose; whoever is together with either comes along.

    `share_place` gives each the zones of all, `share_people` puts everybody down for all. Whoever does it plans for
    every age group in it. Raises Refused, Stale, or Clash where somebody else has what is shared.
    """
    if other.pk == session.pk:
        raise Refused(_("Choose another session: this is the same one."), OTHERS)
    members = _locked(session, version, other)
    mine, theirs = (next(each for each in members if each.pk == row.pk) for row in (session, other))
    if not all(each.state in STILL_TO_COME for each in members):
        raise Refused(_("Only sessions that are still to come can be joined."), OTHERS)
    if mine.period.lower >= theirs.period.upper or theirs.period.lower >= mine.period.upper:
        raise Refused(_("They aren't at the same time: move one of them first."), OTHERS)
    if not all(actor.plans_for(each.age_group_id) for each in members):
        raise Refused(_("A coach of both age groups can do this, or the director."), OTHERS)
    key = _share_a_key(members)
    if share_place:
        _share_zones(members, key)
    if share_people:
        _share_people(members, key)
    for each in members:
        each.version += 1
        each.save(update_fields=["version"])
    mark_calendar(*members)
    return mine


@action
def take_apart(*, session: TrainingSession, version: int) -> TrainingSession:
    """A session goes its own way again. Raises Clash, with names, while it shares a zone or an adult with another."""
    locked = lock(session, version)
    try:
        with transaction.atomic():
            leave(locked)
    except IntegrityError as error:
        if constraint_of(error) not in ("zone_booked_once", "coach_in_one_place"):
            raise
        what, team = shared_words(locked)
        text = _("{what} is shared with {team}. Change it in one of the two sessions first.")
        raise Clash(text.format(what=what, team=team), field=OTHERS) from error
    locked.save(update_fields=["version"])
    return locked


def _locked(session: TrainingSession, version: int, other: TrainingSession) -> list[TrainingSession]:
    """Both and all that either is together with, locked in one order, as they are now."""
    wanted = {each.pk for row in (session, other) for each in (row, *members_of(key_of(row)))}
    members = lock_rows(TrainingSession.objects.filter(pk__in=wanted))
    mine = next((each for each in members if each.pk == session.pk), None)
    if mine is None or len(members) != len(wanted):
        raise Clash(_("This is no longer there. Look again."))
    if mine.version != version:
        raise Stale(theirs=mine, version=mine.version)
    return members


def _share_a_key(members: list[TrainingSession]) -> UUID:
    key = uuid.uuid4()
    Together.objects.filter(session__in=members).delete()
    Together.objects.bulk_create(Together(session=each, key=key) for each in members)
    for bookings in (SessionZone, SessionStaff):
        bookings._default_manager.filter(session__in=members).update(together=key)
    return key


def _share_zones(members: list[TrainingSession], key: UUID) -> None:
    rows = list(SessionZone.objects.filter(session__in=members).order_by("pk"))
    has = {(row.session_id, row.zone_id) for row in rows}
    zones = list(dict.fromkeys(row.zone_id for row in rows))
    hold(zone_ids=zones)
    with _naming(members[0], ZonesAndStaff(zone_ids=tuple(zones))):
        SessionZone.objects.bulk_create(
            SessionZone(session=each, zone_id=zone, period=each.period, together=key)
            for each in members
            for zone in zones
            if (each.pk, zone) not in has
        )


def _share_people(members: list[TrainingSession], key: UUID) -> None:
    """Everybody is down for all of them; who led one leads it still, and whoever leads another helps."""
    rows = list(SessionStaff.objects.filter(session__in=members).order_by("-part", "pk"))
    people = list(dict.fromkeys(row.user_id for row in rows))
    hold(user_ids=people)
    new = [row for each in members for row in _joining(each, people, rows, key)]
    with _naming(members[0], ZonesAndStaff(staff_ids=tuple(people))):
        SessionStaff.objects.bulk_create(new)


def _joining(
    session: TrainingSession, people: list[int], rows: list[SessionStaff], key: UUID
) -> list[SessionStaff]:
    """Those who aren't down for a session yet; the first of them leads where nobody does."""
    own = {row.user_id: row.part for row in rows if row.session_id == session.pk}
    led = StaffPart.LEADS in own.values()
    new = [user for user in people if user not in own]
    parts = [StaffPart.HELPS if led or index else StaffPart.LEADS for index in range(len(new))]
    return [
        SessionStaff(session=session, user_id=user, part=part, period=session.period, together=key)
        for user, part in zip(new, parts, strict=True)
    ]


def _naming(session: TrainingSession, place: ZonesAndStaff) -> AbstractContextManager[None]:
    return naming_the_clash(place, DayAndTimes(session.day, session.starts, session.ends), but=session)
