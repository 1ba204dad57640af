"""Requests that are sent twice are answered once."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any

from django.db import transaction
from django.utils import timezone

from club.models import IdempotencyRecord

KEPT_FOR = timedelta(hours=24)


@dataclass(frozen=True)
class Answer:
    """What is kept of an answer, and the hash of the body it answered."""

    status: int
    answer: Any
    headers: dict[str, str] = field(default_factory=dict)
    body_hash: str = ""


@transaction.atomic
def answer_once(*, user_id: int, key: str, route: str, body_hash: str, make: Callable[[], Answer]) -> Answer:
    """Give the kept answer of this key, or make it and keep it.

    The claim and the work share a transaction: a second request with the same key waits for the first, and a
    refusal leaves nothing behind.
    """
    IdempotencyRecord.objects.filter(at__lt=timezone.now() - KEPT_FOR, user_id=user_id).delete()
    record, is_new = IdempotencyRecord.objects.get_or_create(
        user_id=user_id, key=key, route=route, defaults={"body_hash": body_hash, "status": 0, "answer": {}}
    )
    if not is_new:
        return Answer(
            record.status, record.answer, {**record.headers, "Idempotent-Replayed": "true"}, record.body_hash
        )
    made = make()
    record.status, record.answer, record.headers = made.status, made.answer, made.headers
    record.save(update_fields=["status", "answer", "headers"])
    return Answer(made.status, made.answer, made.headers, body_hash)
