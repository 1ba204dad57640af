"""What calendars show of a session is looked at after each write that could change it: their SEQUENCE rises by itself, here alone."""

from datetime import UTC
from typing import Any

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import OuterRef
from django.utils import timezone

from sessions.choices import State
from sessions.models import CalendarMark, SessionStaff, SessionZone, TrainingSession


def mark_calendar(session: TrainingSession) -> None:
    """Count the change if calendars show the session otherwise now: day, time, place, on or off, title. Two queries.

    Who is down for it is noted too, for the calendars of people, but raises nothing. A session that is off keeps place and people
    of before, so that they read of it. The caller holds the session's lock.
    """
    row = _now(session)
    before: CalendarMark | None = CalendarMark.objects.filter(session=session).first()
    is_off = session.state == State.CANCELLED
    zones = before.zones if is_off and before else sorted(row["zones"])
    people = before.people if is_off and before else row["people"]
    facts = _facts(session, zones, is_off=is_off)
    if before is None:
        CalendarMark.objects.create(
            session=session, facts=facts, zones=zones, people=people, changed_at=timezone.now()
        )
        return
    if (before.facts, before.zones, before.people) == (facts, zones, people):
        return
    before.sequence += before.facts != facts
    before.facts, before.zones, before.people, before.changed_at = facts, zones, people, timezone.now()
    before.save()


def _now(session: TrainingSession) -> dict[str, Any]:
    zones = SessionZone.objects.filter(session=OuterRef("pk")).values("zone_id")
    people = SessionStaff.objects.filter(session=OuterRef("pk")).order_by("-part", "pk").values("user_id")
    found = TrainingSession.objects.filter(pk=session.pk).annotate(
        now_zones=ArraySubquery(zones), now_people=ArraySubquery(people)
    )
    zone_ids, people_ids = found.values_list("now_zones", "now_people").get()
    return {"zones": zone_ids, "people": people_ids}


def _facts(session: TrainingSession, zones: list[int], *, is_off: bool) -> dict[str, Any]:
    """What counts; by numbers, since another name for a theme, a team or a pitch moves nobody."""
    lower, upper = (each.astimezone(UTC).isoformat() for each in (session.period.lower, session.period.upper))
    return {
        "from": lower,
        "to": upper,
        "zones": zones,
        "is_off": is_off,
        "title": session.title or f"{session.theme_id or ''}",
        "kind": str(session.kind),
    }
