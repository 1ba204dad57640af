"""What a helper's phone may send, what it is told of others, and what the record says of it: nothing about a player."""

from collections.abc import Iterable

from sessions.models import DeliveryEvent, TrainingSession
from sessions.planning.fold import KINDS
from sessions.queries.pitch import ACCEPTED, Happened, events_since

HEADS = "heads"
RUN = frozenset(
    {
        "part_started",
        "next_part",
        "part_ended",
        "part_skipped",
        "bout_held",
        "bout_resumed",
        "bout_dropped",
        "minute_more",
        "easier",
        "harder",
    }
)
HELPERS_SEND = RUN | {"thunder", HEADS, "undone"}
# What its clock goes by besides: how a part is set up, and whether the session is over.
_TOLD = HELPERS_SEND | {
    ACCEPTED,
    "part_swapped",
    "delivered",
    "shortened",
    "cancelled",
    "moved",
    "as_planned",
}
assert KINDS.keys() >= _TOLD


def happened_for_helpers(session: TrainingSession, seq: int = 0, *, but: Iterable[str] = ()) -> Happened:
    """What was taken after a number, without anything that names a player, or was written down. One query."""
    found = events_since(session, seq, but=but)
    return Happened([each for each in found.events if each["kind"] in _TOLD], found.last_seq)


def sent_by_helpers(session: TrainingSession) -> dict[str, str]:
    """The phone of each event that came without an account, by the event's id. One query."""
    rows = DeliveryEvent.objects.filter(session=session, actor=None)
    return {str(event_id): phone for event_id, phone in rows.values_list("event_id", "device")}


def helped(session: TrainingSession) -> frozenset[str]:
    """What a helper did, as the events left it: `run` the clock, counted `heads`. No query."""
    return frozenset(session.delivery.get("helped", []))
