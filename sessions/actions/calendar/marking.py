"""What calendars show of a session is looked at after each write that could change it: their SEQUENCE rises by itself, here alone."""

from collections.abc import Iterable
from datetime import UTC
from typing import Any

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import OuterRef
from django.utils import timezone

from sessions.choices import State
from sessions.models import CalendarMark, SessionStaff, SessionZone, TrainingSession


def mark_calendar(*sessions: TrainingSession) -> None:
    """Count the change of each that calendars show otherwise now: day, time, place, on or off, title. Two queries and the writes.

    Who is down for it is noted too, for the calendars of people, but raises nothing. A session that is off keeps place and people
    of before, so that they read of it. The caller holds the sessions' locks.
    """
    rows = _now(sessions)
    marks = {each.pk: each for each in CalendarMark.objects.filter(session__in=sessions)}
    for session in sessions:
        _mark(session, marks.get(session.pk), *rows[session.pk])


def _mark(session: TrainingSession, before: CalendarMark | None, zones: list[int], people: list[int]) -> None:
    is_off = session.state == State.CANCELLED
    if is_off and before:
        zones, people = before.zones, before.people
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


def _now(sessions: Iterable[TrainingSession]) -> dict[int, tuple[list[int], list[int]]]:
    """Zones in order of their numbers, and people, the leader first."""
    zones = SessionZone.objects.filter(session=OuterRef("pk")).values("zone_id")
    people = SessionStaff.objects.filter(session=OuterRef("pk")).order_by("-part", "pk").values("user_id")
    found = TrainingSession.objects.filter(pk__in=[each.pk for each in sessions]).annotate(
        now_zones=ArraySubquery(zones), now_people=ArraySubquery(people)
    )
    return {
        pk: (sorted(zone_ids), people_ids)
        for pk, zone_ids, people_ids in found.values_list("pk", "now_zones", "now_people")
    }


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
