"""A short secret that somebody types: so many wrong guesses within so long, then none for a while, right or wrong."""

from collections.abc import Callable, Sequence
from typing import Literal

from django.core.cache import cache
from django.utils import timezone
from django.utils.crypto import salted_hmac

from club import lasting
from club.actions.conflicts import action, lock_name

MOST_WRONG = 5
WITHIN_S = int(lasting.WRONG_GUESSES.total_seconds())
Guess = Literal["right", "wrong", "too often"]


@action
def guess(*, counted_by: Sequence[str], is_right: Callable[[], bool]) -> Guess:
    """Judge one guess. Wrong ones are counted by each of these names, such as a code and an address, for a while each.

    One guess after another by name: two that are sent at the same moment are two guesses. Nothing is kept of a name but a
    keyed hash, for as long as its guesses count.
    """
    keys = sorted({_key(name) for name in counted_by})
    for key in keys:
        lock_name(key)
    since = timezone.now().timestamp() - WITHIN_S
    wrong = {key: [at for at in cache.get(key, []) if at > since] for key in keys}
    if any(len(each) >= MOST_WRONG for each in wrong.values()):
        return "too often"
    if is_right():
        return "right"
    for key, each in wrong.items():
        cache.set(key, [*each, timezone.now().timestamp()], timeout=WITHIN_S)
    return "wrong"


def _key(name: str) -> str:
    return f"guess.{salted_hmac('club.guessing', name, algorithm='sha256').hexdigest()[:40]}"
