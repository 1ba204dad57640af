"""What has happened at the pitch, as phones take it in: the events themselves, so that every phone folds the same."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from sessions.models import DeliveryEvent, TrainingSession

# What a phone's page shows nothing of stays on the server.
SHOWN = (
    "arrived",
    "late",
    "left",
    "guest",
    "limited",
    "watching",
    "absent",
    "part_started",
    "part_ended",
    "next_part",
    "bout_held",
    "bout_resumed",
    "easier",
    "harder",
    "fit_accepted",
    "minute_more",
    "effort",
    "delivered",
    "shortened",
    "cancelled",
    "moved",
    "as_planned",
)
# Of an accepted set-up the phone needs its headline; the drawing comes with the page.
HEADLINE = ("numbers", "grids", "players_total", "length_m", "width_m", "waiting")


@dataclass(frozen=True)
class Happened:
    """Events in the order in which they were taken, and the number of the last one."""

    events: list[dict[str, Any]]
    last_seq: int


def happened(session: TrainingSession) -> Happened:
    """Everything so far that a phone shows. One query; none before anything has happened."""
    if not session.last_seq:
        return Happened([], 0)
    return events_since(session, 0)


def events_since(session: TrainingSession, seq: int, *, but: Iterable[str] = ()) -> Happened:
    """What was taken after a number, for a phone that has the rest; `but` are ids that it has sent itself."""
    own = {str(each) for each in but}
    rows = DeliveryEvent.objects.filter(session=session, seq__gt=seq, kind__in=SHOWN).order_by("seq")
    shown = [_flat(row) for row in rows if str(row.event_id) not in own]
    return Happened(shown, session.last_seq)


def next_seq(session: TrainingSession) -> int:
    """The number of the last event, read anew."""
    return TrainingSession.objects.values_list("last_seq", flat=True).get(pk=session.pk)


def _flat(row: DeliveryEvent) -> dict[str, Any]:
    at = row.at - timedelta(milliseconds=row.skew_ms)
    return {
        "id": str(row.event_id),
        "kind": row.kind,
        "ms": int(at.timestamp() * 1000),
        **_slim(row.kind, row.body),
    }


def _slim(kind: str, body: Mapping[str, Any]) -> dict[str, Any]:
    if kind != "fit_accepted":
        return dict(body)
    setup = body.get("setup") or {}
    return {**body, "setup": {name: setup[name] for name in HEADLINE if name in setup}}
