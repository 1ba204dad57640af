"""The ledger by hand: matches, tournaments, training elsewhere."""

from datetime import date
from decimal import Decimal

from django.utils.translation import gettext as _

from club import queries as club
from club.actions import action
from club.errors import FieldProblem, Refused
from club.validators import line_problems
from sessions.actions.booking import refuse_if
from sessions.choices import Kind
from sessions.models import LedgerEntry
from sessions.planning import load

FARTHEST_DAYS = 366


@action
def add_ledger_entry(
    *,
    squad_id: int,
    day: date,
    kind: Kind,
    title: str,
    minutes: float,
    effort: float | None,
    entered_by_id: int,
    headers: int = 0,
) -> LedgerEntry:
    """Minutes × CR10 on a day. Without an effort only the minutes count (the youngest have no load)."""
    lines = line_problems(title=title.strip())
    refuse_if([*_problems(kind, minutes, effort, headers), *_day_problems(day), *lines])
    return LedgerEntry.objects.create(
        squad_id=squad_id,
        day=day,
        kind=kind,
        title=title.strip(),
        minutes=Decimal(str(minutes)),
        load_au=None if effort is None else Decimal(str(round(load.actual(effort, minutes), 1))),
        headers=headers,
        entered_by_id=entered_by_id,
    )


@action
def drop_ledger_entry(*, entry: LedgerEntry) -> None:
    """Take back what was entered by hand. What a session brought is changed by recording the session."""
    if entry.session_id is not None:
        raise Refused(_("This came from a session; correct it there."))
    entry.delete()


def _day_problems(day: date) -> list[FieldProblem]:
    if abs((day - club.today()).days) <= FARTHEST_DAYS:
        return []
    return [FieldProblem("day", _("This day is more than a year away."))]


def _problems(kind: Kind, minutes: float, effort: float | None, headers: int) -> list[FieldProblem]:
    checks = (
        (
            kind != Kind.TRAINING,
            "kind",
            "Training is recorded at the pitch; here: match, tournament, elsewhere.",
        ),
        (0 <= minutes <= 600, "minutes", "From 0 to 600 minutes."),
        (effort is None or 0 <= effort <= 10, "effort", "Effort goes from 0 (rest) to 10 (maximal)."),
        (0 <= headers <= 200, "headers", "From 0 to 200 headers."),
    )
    return [FieldProblem(field, text) for fine, field, text in checks if not fine]
