"""Every pitch of the demo club lost for an evening, a week and four: all that is proposed can be done, and then nothing is on it."""

from datetime import timedelta

import pytest
from django.db import transaction

from club import queries as club
from sessions import actions
from sessions.choices import WhyCancelled
from sessions.models import TrainingSession
from sessions.queries.mending.ground import mend_pitch
from sessions.queries.mending.lost import Lost


@pytest.mark.parametrize("days", [1, 7, 28])
def test_all_that_is_proposed_can_be_done(demo_database: str, days: int) -> None:
    first = club.today()
    last = first + timedelta(days=days - 1)
    director = club.actor_of(next(each for each in club.people() if each.email == "director@demo.example"))
    hit = 0
    for pitch in club.pitches():
        with transaction.atomic():
            lost = Lost(pitch, first, last)
            found = mend_pitch(lost)
            hit += len(found.hit)
            assert {each.pk for each in found.hit} <= {each.session.pk for each in found.steps}
            assert all(each.is_off or each.zones for each in found.steps)
            assert not any(
                zone.pitch_id == pitch.pk and first <= each.day <= last
                for each in found.steps
                for zone in each.zones
            )
            actions.mend_sessions(
                actor=director,
                steps=[actions.pitch_step(each) for each in found.steps],
                why=WhyCancelled.PITCH,
            )
            left = TrainingSession.objects.filter(bookings__zone__pitch=pitch, day__range=(first, last))
            assert not left.filter(state__in=("planned", "moved")).exists()
            assert not mend_pitch(lost).steps
            transaction.set_rollback(True)
    assert hit
