"""A gap closed in one tap: somebody takes a session over, or it goes to a pitch that is open."""

from contextlib import AbstractContextManager

from django.utils.translation import gettext as _

from club import queries as club
from club.actions import action, hold
from club.errors import Refused
from sessions.actions.booking import lock, naming_the_clash
from sessions.actions.calendar.marking import mark_calendar
from sessions.actions.frames import DayAndTimes, ZonesAndStaff
from sessions.actions.heeding import heed_slots
from sessions.choices import STILL_TO_COME, StaffPart
from sessions.models import SessionStaff, SessionZone, TrainingSession
from sessions.queries.together import key_of


@action
def hand_over(*, session: TrainingSession, version: int, user_id: int) -> TrainingSession:
    """Put somebody down instead of those who have gone: to lead where nobody does, else to help. Raises Refused, Stale, Clash."""
    locked = _open(session, version)
    who = club.roster()
    group, day = locked.age_group_id, locked.day
    if not any(each.user_id == user_id for each in who.who_could(group, day)):
        raise Refused(_("This person has no role on that day."), "staff")
    hold(user_ids=[user_id])
    rows = list(locked.staff.all())
    gone = [row.pk for row in rows if not who.stands(row.user_id, group, day)]
    led = any(row.part == StaffPart.LEADS for row in rows if row.pk not in gone)
    with _naming(locked, ZonesAndStaff(staff_ids=(user_id,))):
        SessionStaff.objects.filter(pk__in=gone).delete()
        SessionStaff.objects.create(
            session=locked,
            user_id=user_id,
            part=StaffPart.HELPS if led else StaffPart.LEADS,
            period=locked.period,
            together=key_of(locked),
        )
    locked.save(update_fields=["version"])
    mark_calendar(locked)
    return locked


@action
def put_on(*, session: TrainingSession, version: int, zone_id: int) -> TrainingSession:
    """Give up zones of pitches that have closed for one that is free. Raises Refused, Stale, Clash, AskFirst."""
    locked = _open(session, version)
    place = ZonesAndStaff(zone_ids=(zone_id,))
    when = DayAndTimes(locked.day, locked.starts, locked.ends)
    heed_slots(squad_id=locked.squad_id, when=when, place=place)
    hold(zone_ids=[zone_id])
    with _naming(locked, place):
        locked.bookings.filter(zone__pitch__retired_at__isnull=False).delete()
        SessionZone.objects.create(
            session=locked, zone_id=zone_id, period=locked.period, together=key_of(locked)
        )
    locked.save(update_fields=["version"])
    mark_calendar(locked)
    return locked


def _open(session: TrainingSession, version: int) -> TrainingSession:
    locked = lock(session, version)
    if locked.state not in STILL_TO_COME:
        raise Refused(_("This session has taken place or was cancelled."))
    return locked


def _naming(session: TrainingSession, place: ZonesAndStaff) -> AbstractContextManager[None]:
    return naming_the_clash(place, DayAndTimes(session.day, session.starts, session.ends), but=session)
