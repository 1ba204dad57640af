"""Requests that are sent twice are answered once."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any

from django.db.models import QuerySet
from django.utils import timezone

from club.actions.conflicts import action
from club.models import IdempotencyRecord

KEPT_FOR = timedelta(hours=24)
UNANSWERED = 0


@dataclass(frozen=True)
class StoredAnswer:
    """What is kept of an answer, and the hash of the body it answered."""

    status: int
    answer: Any
    headers: dict[str, str] = field(default_factory=dict)
    body_hash: str = ""


def _free(rows: QuerySet[IdempotencyRecord]) -> Iterable[int]:
    return rows.select_for_update(skip_locked=True).values_list("pk", flat=True)


@action
def answer_once(
    *, user_id: int, key: str, route: str, body_hash: str, make: Callable[[], StoredAnswer]
) -> StoredAnswer:
    """Give the kept answer of this key, or make it and keep it.

    The claim and the work share a transaction: a second request with the same key waits for the first (not for long:
    then it is refused with Clash, and may ask again), and a refusal leaves nothing behind.
    """
    over = IdempotencyRecord.objects.filter(at__lt=timezone.now() - KEPT_FOR, user_id=user_id)
    # What another request is throwing away is left to it: nobody waits for an answer to another key.
    IdempotencyRecord.objects.filter(pk__in=list(_free(over))).delete()
    claim = {"user_id": user_id, "key": key, "route": route}
    mine = IdempotencyRecord(**claim, body_hash=body_hash, status=UNANSWERED, answer={})
    # Waits for whoever has claimed the same; a claim without an answer is seen by nobody else, so then it is this one.
    IdempotencyRecord.objects.bulk_create([mine], ignore_conflicts=True)
    record = IdempotencyRecord.objects.get(**claim)
    if record.status != UNANSWERED:
        return StoredAnswer(
            record.status, record.answer, {**record.headers, "Idempotent-Replayed": "true"}, record.body_hash
        )
    made = make()
    record.status, record.answer, record.headers = made.status, made.answer, made.headers
    record.save(update_fields=["status", "answer", "headers"])
    return StoredAnswer(made.status, made.answer, made.headers, body_hash)
