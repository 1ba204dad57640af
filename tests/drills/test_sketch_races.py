"""Several people with photos at one drill at the same moment: never more than three, no photo twice, no bytes left over."""

from functools import partial

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from club.actor import Actor
from drills import actions
from drills.models import Attachment, Drill, DrillSketch
from tests.drills.people import acting, make, make_people
from tests.drills.taken import board, saved
from tests.harness.races import at_once, race

pytestmark = pytest.mark.django_db(transaction=True)


def add(actor: Actor, drill: Drill, shade: int) -> DrillSketch:
    picture = board((200, 150))
    picture.paste((shade * 30, 0, 0), (100, 20, 160, 60))
    sent = SimpleUploadedFile("board.jpg", saved(picture))
    return actions.add_sketch(actor=actor, public_id=drill.public_id, sent=sent)


def test_a_drill_has_no_more_photos_than_three() -> None:
    people = make_people()
    drill, who = make(people.coach), [acting(people.coach), acting(people.director)]
    found = race(*(partial(add, who[shade % 2], drill, shade) for shade in range(8)))
    assert found == {"done": 3, "refused photo": 5}
    assert sorted(DrillSketch.objects.values_list("position", flat=True)) == [0, 1, 2]
    assert Attachment.objects.count() == 3


def test_the_same_photo_is_added_once() -> None:
    people = make_people()
    drill = make(people.coach)
    found = at_once(5, partial(add, acting(people.coach), drill, 1))
    assert found == {"done": 1, "refused photo": 4}
    assert Attachment.objects.count() == 1


def test_bytes_that_one_drill_gives_up_while_another_takes_them_are_there() -> None:
    people = make_people()
    coach, one, other = acting(people.coach), make(people.coach), make(people.coach, title="Other")
    for _ in range(8):
        sketch = add(coach, one, 1)
        remove = partial(
            actions.remove_sketch, actor=coach, public_id=one.public_id, sketch_id=sketch.public_id
        )
        assert race(remove, partial(add, coach, other, 1)) == {"done": 2}
        (left,) = DrillSketch.objects.select_related("attachment")
        assert bytes(left.attachment.data)[:2] == b"\xff\xd8"
        actions.remove_sketch(actor=coach, public_id=other.public_id, sketch_id=left.public_id)
        assert Attachment.objects.count() == 0
