"""A drill in a minute, from the form to the session; and the two days that a review may take."""

from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from drills import actions, queries
from drills.models import Drill
from tests.drills.people import People, acting, make, make_people
from tests.people import signed_in

pytestmark = pytest.mark.django_db
TYPED = {
    "title": "Post box",
    "numbers": "5v5+2",
    "length": "30",
    "width": "20",
    "say_1": "Keep it.",
    "say_2": "",
    "say_3": "Look up.",
}


@pytest.fixture
def people() -> People:
    return make_people()


@pytest.fixture
def coach(people: People) -> Client:
    return signed_in(people.coach)


def send(client: Client, *, by_script: bool = False, do: str = "save", **changes: Any) -> Any:
    headers = {"HX-Request": "true"} if by_script else {}
    return client.post(reverse("drills:quick"), {**TYPED, "do": do, **changes}, headers=headers)


def test_it_is_the_coachs_own_at_once(people: People, coach: Client) -> None:
    answer = send(coach)
    made = Drill.objects.get()
    assert answer.headers["Location"] == reverse("drills:drill", args=[made.public_id])
    assert (made.state, made.owner, made.title, made.format) == ("draft", people.coach, "Post box", "5v5+2")
    assert made.current_revision.document["say_this"] == ["Keep it.", "Look up."]
    assert [each.title for each in queries.pickable(acting(people.coach))] == [
        "Post box"
    ]  # for the own sessions
    assert queries.pickable(acting(people.other)) == []
    page = coach.get(answer.headers["Location"]).content.decode()
    assert "nobody has to review it" in page
    assert "somebody looks at it within two days" in page


def test_the_plan_follows_the_fields_with_a_script_and_without(coach: Client) -> None:
    fragment = send(coach, by_script=True, do="draw", title="", say_1="").content.decode()
    assert fragment.lstrip().startswith("<figure")
    assert "12 players" in fragment
    whole = send(coach, do="draw", title="")
    assert whole.status_code == 200
    assert "<h1>A drill in a minute</h1>" in whole.content.decode()
    assert "<svg" in whole.content.decode()
    assert not Drill.objects.exists()


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"numbers": "5v"}, 'class="empty-plan"'),
        ({"length": "500"}, "At most 120."),
        ({"numbers": ""}, "Type the numbers and the size"),
    ],
)
def test_what_cannot_be_drawn_says_why(coach: Client, changes: dict[str, str], said: str) -> None:
    assert said in send(coach, by_script=True, do="draw", **changes).content.decode()


def test_what_is_missing_is_said_and_nothing_typed_is_lost(coach: Client) -> None:
    answer = send(coach, title="", say_3="Look over your shoulder.")
    assert answer.status_code == 400
    assert set(answer.context["form"].errors) == {"title"}
    assert "Look over your shoulder." in answer.content.decode()
    assert not Drill.objects.exists()


def test_reviews_older_than_two_days_need_the_director(people: People, coach: Client) -> None:
    director = signed_in(people.director)
    fresh, old = make(people.coach, title="Fresh"), make(people.coach, title="Old")
    for each in (fresh, old):
        sent = actions.send_for_review(actor=acting(people.coach), public_id=each.public_id)
        assert timezone.now() - sent.sent_at < timedelta(minutes=1)
    Drill.objects.filter(pk=old.pk).update(sent_at=timezone.now() - timedelta(days=3, hours=1))
    found = queries.waiting_for_review(acting(people.director))
    assert found == queries.Reviews(2, ((old.public_id, "Old", 3),))
    home = director.get("/").content.decode()
    assert "has waited 3 days for your review" in home
    assert "2 drills wait for your review" in home
    assert "for your review" not in coach.get("/").content.decode()
    assert (
        "Somebody looks at it within two days."
        in coach.get(reverse("drills:drill", args=[old.public_id])).content.decode()
    )
    actions.return_to_draft(actor=acting(people.director), public_id=old.public_id)
    assert Drill.objects.get(pk=old.pk).sent_at is None
    assert queries.waiting_for_review(acting(people.director)).late == ()
