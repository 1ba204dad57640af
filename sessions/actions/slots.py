"""Slots: the weekly time and place of a squad."""

from collections.abc import Sequence
from datetime import date, time

from django.utils.translation import gettext as _

from club import queries as club
from club.actions import action, hold, lock_row
from club.errors import FieldProblem, Stale
from sessions.actions.booking import refuse_if
from sessions.models import Slot
from sessions.validators import minutes_between


@action
def make_slot(
    *,
    squad_id: int,
    weekday: int,
    starts: time,
    ends: time,
    first_day: date,
    last_day: date,
    zone_ids: Sequence[int],
    coach_ids: Sequence[int] = (),
) -> Slot:
    """A weekly slot. Refused with the field when times or days are the wrong way round, or another slot holds it."""
    hold(zone_ids=zone_ids)  # whoever gives the same place to another squad is looked at afterwards
    refuse_if(_problems(weekday, starts, ends, first_day, last_day, zone_ids, None))
    slot = Slot.objects.create(
        squad_id=squad_id,
        weekday=weekday,
        starts=starts,
        ends=ends,
        first_day=first_day,
        last_day=last_day,
    )
    slot.zones.set(zone_ids)
    slot.coaches.set(coach_ids)
    return slot


@action
def change_slot(
    *,
    slot: Slot,
    version: int,
    weekday: int,
    starts: time,
    ends: time,
    first_day: date,
    last_day: date,
    zone_ids: Sequence[int],
    coach_ids: Sequence[int] = (),
) -> Slot:
    """Another time or place from now on. Sessions that stand already keep theirs."""
    locked = _locked(slot, version)
    hold(zone_ids=zone_ids)
    refuse_if(_problems(weekday, starts, ends, first_day, last_day, zone_ids, slot))
    locked.weekday, locked.starts, locked.ends = weekday, starts, ends
    locked.first_day, locked.last_day = first_day, last_day
    locked.save()
    locked.zones.set(zone_ids)
    locked.coaches.set(coach_ids)
    return locked


@action
def end_slot(*, slot: Slot, version: int, on: date | None = None) -> Slot:
    """The squad gives the slot up: today (or `on`) is its last day, what was planned in it stays."""
    locked = _locked(slot, version)
    locked.last_day = max(locked.first_day, on or club.today())
    locked.save()
    return locked


def _locked(slot: Slot, version: int) -> Slot:
    locked = lock_row(Slot, slot.pk)
    if locked.version != version:
        raise Stale(theirs=locked, version=locked.version)
    locked.version += 1
    return locked


def _problems(
    weekday: int,
    starts: time,
    ends: time,
    first_day: date,
    last_day: date,
    zone_ids: Sequence[int],
    but: Slot | None,
) -> list[FieldProblem]:
    found = []
    if not 1 <= weekday <= 7:
        found.append(FieldProblem("weekday", _("Choose a day of the week.")))
    if minutes_between(starts, ends) <= 0:
        found.append(FieldProblem("ends", _("The end must be after the start.")))
    if last_day < first_day:
        found.append(FieldProblem("last_day", _("The last day is before the first.")))
    if not zone_ids:
        found.append(FieldProblem("zones", _("Choose at least one space.")))
    if found:
        return found
    other = (
        Slot.objects.filter(
            weekday=weekday,
            starts__lt=ends,
            ends__gt=starts,
            first_day__lte=last_day,
            last_day__gte=first_day,
            zones__in=zone_ids,
        )
        .exclude(pk=but.pk if but else None)
        .select_related("squad")
        .first()
    )
    if other:
        text = _("{team} have this space on {slot} to {ends}.").format(
            team=other.squad.name, slot=other, ends=f"{other.ends:%H:%M}"
        )
        found.append(FieldProblem("zones", text))
    return found
