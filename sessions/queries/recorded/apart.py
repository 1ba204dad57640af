"""Where phones said otherwise of a player and nobody settled it: what each said last, and whose phone it was."""

from dataclasses import dataclass
from datetime import datetime

from sessions.choices import Attendance
from sessions.models import DeliveryEvent, TrainingSession
from sessions.planning.fold import DeliveryState, RegisterWord


@dataclass(frozen=True)
class WordOfPhone:
    """The last word of one phone about a player. `by` is empty where the account was erased."""

    at: datetime
    state: Attendance
    by: str
    counts: bool


def words_apart(session: TrainingSession, state: DeliveryState) -> dict[str, list[WordOfPhone]]:
    """By the player's outer id, in order of time; the last one counts. A query only where phones said otherwise."""
    apart = {
        player: [*line.others, line.said] for player, line in state.register.items() if line.said is not None
    }
    ids = [word.event for words in apart.values() for word in words]
    rows = DeliveryEvent.objects.filter(session=session, event_id__in=ids) if ids else None
    names = {} if rows is None else dict(rows.values_list("event_id", "actor__name"))
    by = {str(event): name or "" for event, name in names.items()}
    return {
        player: [
            WordOfPhone(word.at, said_state(word), by.get(word.event, ""), word is words[-1])
            for word in words
        ]
        for player, words in apart.items()
    }


def said_state(word: RegisterWord) -> Attendance:
    """A word as the register's rows say it: watching is there, but takes no part."""
    return Attendance.WATCHING if word.taking == "watching" else Attendance(word.state)
