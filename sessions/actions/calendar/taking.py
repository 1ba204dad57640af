"""Matches and closed days from a file or by hand: what can be taken of it is taken in one go, what can't is left as it is."""

from collections.abc import Sequence
from datetime import date, timedelta
from uuid import UUID

from django.db.backends.postgresql.psycopg_any import DateRange
from django.http import Http404
from django.utils import timezone
from django.utils.translation import gettext as _

from club import queries as club
from club.actions import action, lock_row
from club.actions.conflicts import lock_name, lock_rows
from club.errors import Refused
from sessions.ics.table import Row
from sessions.models import ClosedDays, Fixture
from sessions.queries.calendar.taking import Judged, judge_closed, judge_matches, match_facts


@action
def take_matches(*, squad_id: int, rows: Sequence[Row]) -> list[Judged]:
    """Save the matches that are new or changed, and say what became of each row. One that was moved keeps its place in calendars."""
    lock_name(f"matches of {squad_id}")
    judged = judge_matches(rows, squad_id)
    for each in judged:
        if each.outcome == "new":
            Fixture.objects.create(
                squad_id=squad_id,
                source_uid=each.row.uid,
                changed_at=timezone.now(),
                **match_facts(each.row),
            )
        elif each.outcome == "changed":
            _change(each)
    return judged


def _change(judged: Judged) -> None:
    row = lock_row(Fixture, judged.was.pk)
    for name, value in match_facts(judged.row).items():
        setattr(row, name, value)
    row.sequence += 1
    row.changed_at = timezone.now()
    row.save()


@action
def call_off_match(*, fixture: Fixture) -> Fixture:
    """It is off, and calendars say so. Twice changes nothing."""
    row = lock_row(Fixture, fixture.pk)
    if not row.is_off:
        row.is_off, row.changed_at = True, timezone.now()
        row.sequence += 1
        row.save()
    return row


@action
def close_days(*, title: str, first_day: date, last_day: date, pitch_id: int | None = None) -> ClosedDays:
    """One stretch of days. The database refuses one that overlaps another of the same pitch, or of all."""
    return ClosedDays.objects.create(
        title=title,
        period=DateRange(first_day, last_day + timedelta(days=1)),
        pitch_id=pitch_id,
        changed_at=timezone.now(),
    )


@action
def take_closed(*, rows: Sequence[Row], pitch_id: int | None = None) -> list[Judged]:
    """Save the stretches that are new, and say what became of each row."""
    lock_name(f"closed days of {pitch_id}")
    judged = judge_closed(rows, pitch_id)
    for each in judged:
        first, last = each.row.first, each.row.last
        if each.outcome == "new" and first and last:
            close_days(title=each.row.cells.what, first_day=first, last_day=last, pitch_id=pitch_id)
    return judged


@action
def open_days_again(*, public_id: UUID | str) -> None:
    """Delete a stretch of closed days. Raises Http404; Refused where it is over, since it says why nobody trained."""
    row = next(iter(lock_rows(ClosedDays.objects.filter(public_id=public_id))), None)
    if row is None:
        raise Http404
    if row.last_day < club.today():
        raise Refused(_("These days are over."))
    row.delete()
