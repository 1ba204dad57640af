"""Several people at one drill at the same moment: one save, one step, no more links than the limit, one answer."""

from functools import partial
from typing import Any

import pytest
from django.utils import timezone
from rest_framework.test import APIClient

from drills import actions
from drills.bridge import document_of
from drills.game.made.mine import DrillRun
from drills.models import Drill, DrillRevision, Favourite, ShareLink
from tests.drills.people import acting, make, make_people
from tests.drills.samples import SMALL, WHOLE
from tests.harness.races import at_once, outcomes, race

pytestmark = pytest.mark.django_db(transaction=True)


def test_of_many_saves_over_one_version_one_is_kept_and_the_others_see_it() -> None:
    people = make_people()
    drill = make(people.coach)
    save = partial(actions.revise_drill, public_id=drill.public_id, version=1)
    who = [acting(people.coach), acting(people.director)] * 4
    found = outcomes(
        *(
            partial(save, actor=actor, document={**WHOLE, "title": f"Save {at}"})
            for at, actor in enumerate(who)
        )
    )
    assert sorted(word for word, _met in found) == ["done", *["stale"] * 7]
    kept = next(met for word, met in found if word == "done")
    stale = next(met for word, met in found if word == "stale")
    assert (stale.theirs.title, stale.base.title, stale.version) == (kept.title, WHOLE["title"], 2)
    assert DrillRevision.objects.filter(drill=drill).count() == 2


def test_a_step_is_taken_once() -> None:
    people = make_people()
    coach, director = acting(people.coach), acting(people.director)
    drill = make(people.coach)
    step = {"public_id": drill.public_id}
    assert at_once(4, partial(actions.send_for_review, actor=coach, **step)) == {"done": 1, "refused": 3}
    assert at_once(4, partial(actions.approve_drill, actor=director, **step)) == {"done": 1, "refused": 3}
    # Its writer may no longer change it once it is the standard, nor when that happens while the save waits.
    assert at_once(2, partial(actions.return_to_draft, actor=director, **step))["done"] == 1
    assert at_once(4, partial(actions.retire_drill, actor=director, **step)) == {"done": 4}
    assert Drill.objects.get().version == 5
    assert at_once(4, partial(actions.unretire_drill, actor=director, **step)) == {"done": 4}
    actions.send_for_review(actor=coach, **step)
    version = Drill.objects.get().version
    found = race(
        partial(actions.approve_drill, actor=director, **step),
        partial(actions.revise_drill, actor=coach, version=version, document=SMALL, **step),
    )
    assert found in ({"done": 2}, {"done": 1, "http404": 1}, {"done": 1, "stale": 1})


def test_a_drill_has_no_more_links_than_the_limit() -> None:
    people = make_people()
    drill = make(people.coach)
    soon = timezone.now() + timezone.timedelta(days=2)
    ShareLink.objects.bulk_create(
        ShareLink(drill=drill, secret_hash=f"{number:064d}", expires_at=soon) for number in range(19)
    )
    share = partial(actions.share_drill, actor=acting(people.coach), public_id=drill.public_id, days="7")
    assert at_once(5, share) == {"done": 1, "refused": 4}
    assert ShareLink.objects.count() == 20
    link = ShareLink.objects.first()
    back = partial(actions.take_back_link, actor=acting(people.coach), public_id=drill.public_id)
    assert at_once(3, partial(back, link_id=link.public_id)) == {"done": 3}
    keep = partial(
        actions.set_favourite, actor=acting(people.other), public_id=drill.public_id, favourite=True
    )
    actions.send_for_review(actor=acting(people.coach), public_id=drill.public_id)
    assert at_once(4, keep) == {"done": 4}
    assert Favourite.objects.count() == 1


def test_the_same_new_words_and_numbers_are_derived_once_whoever_comes_first() -> None:
    people = make_people()
    make_one = partial(actions.create_drill, actor=acting(people.coach))
    found = race(*(partial(make_one, document={**WHOLE, "title": f"Drill {at}"}) for at in range(4)))
    assert found == {"done": 4}


def test_a_file_that_is_sent_twice_at_once_is_taken_once() -> None:
    people = make_people()
    data = [{**SMALL, "title": f"From a file {at}"} for at in range(3)]
    found = outcomes(*[partial(actions.import_drills, actor=acting(people.coach), data=data)] * 3)
    rows = sorted(row.outcome for _word, met in found for row in met)
    assert rows == ["created"] * 3 + ["duplicate"] * 6
    assert Drill.objects.count() == 3


def test_two_requests_with_one_key_are_one() -> None:
    people = make_people()

    def post(key: str, title: str) -> Any:
        client = APIClient()
        client.force_authenticate(people.coach)
        client.force_login(people.coach, backend="django.contrib.auth.backends.ModelBackend")
        body = {**SMALL, "title": title}
        return client.post("/api/v1/drills/", body, format="json", headers={"Idempotency-Key": key})

    answers = [met for _word, met in outcomes(*[partial(post, "once", "Same")] * 4)]
    assert {each.status_code for each in answers} == {201}
    assert len({each.json()["id"] for each in answers}) == 1
    assert sum("Idempotent-Replayed" in each for each in answers) == 3
    others = [met for _word, met in outcomes(partial(post, "two", "One"), partial(post, "two", "Other"))]
    assert sorted(each.status_code for each in others) == [201, 422]
    assert Drill.objects.count() == 2


def test_two_taps_save_one_version() -> None:
    people = make_people()
    drill = make(people.coach)
    run = DrillRun("eight", None, document_of(drill.current_revision).work)
    given = {"actor": acting(people.coach), "revision_id": drill.current_revision_id, "run": run}
    assert at_once(4, lambda: actions.save_as_mine(**given)) == {"done": 4}
    assert Drill.objects.filter(adapted_from_revision__drill=drill).count() == 1
