"""A phone's clock may be wrong: what it sends is put right, and its own taps keep their order."""

from datetime import timedelta

from django.utils import timezone

from sessions.models import Register
from tests.sessions.pitch.evening import Evening


def test_a_phone_that_is_fast_is_set_right(evening: Evening) -> None:
    fast = timezone.now() + timedelta(minutes=10)
    evening.append(evening.event("late", 16, player=evening.players[0]), phone_now=fast)
    came = Register.objects.get().came_at
    assert abs(came - (evening.starts + timedelta(minutes=6))) < timedelta(seconds=5)


def test_two_taps_keep_their_order_however_long_each_was_on_its_way(evening: Evening) -> None:
    """The second one's answer was quicker: by the way alone it would seem to have come before the first."""
    first, second = (
        evening.event(kind, 12 + n / 600, player=evening.players[0])
        for n, kind in enumerate(("arrived", "absent"))
    )
    evening.append(first, phone_now=timezone.now() - timedelta(milliseconds=900))
    evening.append(second, phone_now=timezone.now() + timedelta(milliseconds=100))
    assert evening.read().delivery["register"][evening.players[0]]["state"] == "absent"


def test_a_phone_that_says_how_wrong_its_clock_is_is_believed_for_each_event(evening: Evening) -> None:
    ahead = timedelta(hours=3)
    events = [
        {
            **evening.event(kind, 192 + n / 600, player=evening.players[0]),
            "skew_ms": int(ahead.total_seconds() * 1000),
        }
        for n, kind in enumerate(("late", "left"))
    ]
    for each, way in zip(events, (-0.9, 0.1), strict=True):
        evening.append(each, phone_now=timezone.now() + ahead + timedelta(seconds=way))
    line = evening.read().delivery["register"][evening.players[0]]
    assert line["state"] == "left"
