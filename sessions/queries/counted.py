"""What a session counts for, in the one way that page, list, week, ledger and API read: as it was recorded, else as expected."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sessions import bridge
from sessions.choices import STILL_TO_COME
from sessions.models import LedgerEntry, Part, TrainingSession
from sessions.planning import load
from sessions.planning.account import account
from sessions.planning.plan import SessionPlan


@dataclass(frozen=True)
class Counted:
    """Minutes, AU and headers of a player. `is_estimated` where nobody has rated it, `is_to_come` where it was not recorded."""

    minutes: float
    load_au: float
    headers: int
    is_estimated: bool
    is_to_come: bool


NOTHING = Counted(0.0, 0.0, 0, is_estimated=False, is_to_come=False)
LEDGER_ROW = ("minutes", "load_au", "headers", "is_estimated")


def planned_au(parts: Iterable[Part]) -> float:
    """Planned load of a session's parts, whatever they play. No query."""
    plan = SessionPlan(0, tuple(bridge.part_of(each, title=each.title) for each in parts))
    return account(plan).load_au


def factor_at_hand(session: TrainingSession) -> float:
    """k for a session that was read with its squad's last ratios; 1.0 where it wasn't."""
    return load.squad_factor([each for each in reversed(getattr(session, "load_ratios", [])) if each])


def counted(session: TrainingSession, *, k: float | None = None) -> Counted:
    """What stands in the ledger for it; before it is recorded what its plan will come to; nothing for one that is off.

    No query for a session that was read with its frame and parts. `k` is the squad's own factor where not given.
    """
    row = _ledger_row(session)
    if row is not None:
        return Counted(
            minutes=float(row["minutes"]),
            load_au=float(row["load_au"] or 0),
            headers=row["headers"],
            is_estimated=row["is_estimated"],
            is_to_come=False,
        )
    if session.state not in STILL_TO_COME:
        return NOTHING
    factor = factor_at_hand(session) if k is None else k
    return Counted(
        minutes=bridge.minutes_of(session),
        load_au=load.expected(planned_au(session.parts.all()), factor),
        headers=0,
        is_estimated=True,
        is_to_come=True,
    )


def _ledger_row(session: TrainingSession) -> dict[str, Any] | None:
    """The squad's row of this session: read along with it, else asked for."""
    if hasattr(session, "ledger_row"):
        found: dict[str, Any] | None = session.ledger_row
        return found
    rows = LedgerEntry.objects.filter(session=session, squad=session.squad_id, player__isnull=True)
    return rows.values(*LEDGER_ROW).first()
