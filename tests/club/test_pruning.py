"""What runs out goes by itself, and what belongs to somebody who leaves goes with them."""

from datetime import timedelta
from typing import Any

import pytest
import time_machine
from allauth.mfa.models import Authenticator
from django.contrib.sessions.models import Session
from django.core.cache import cache
from django.db import connection
from django.test import Client
from django.utils import timezone
from knox.models import get_token_model

from club import actions
from club.choices import READS_KEPT_DAYS, LinkKind, NamesOn, Role
from club.models import AccessLog, IdempotencyRecord, OneTimeLink
from drills import actions as drills
from drills.models import ShareLink
from sessions import actions as training
from sessions.models import SessionLink
from tests.drills.people import acting, make
from tests.factories import PASSWORD
from tests.factories_sessions import part_input, planned_session
from tests.harness.jobs import run_jobs
from tests.people import World, signed_in

LOGIN = "/accounts/login/"


def in_sessions(word: str) -> int:
    """In how many sessions a word stands."""
    return sum(word in str(row.get_decoded()) for row in Session.objects.all())


@pytest.mark.django_db
def test_closing_an_account_ends_its_sessions_and_leaves_its_address_in_none(world: World) -> None:
    cache.clear()
    coach, typed = world.people.coach, {"login": "coach@ashmere.example", "password": PASSWORD}
    actions.confirm_address(user=coach)
    here, director = Client(), signed_in(world.people.director)
    assert here.post(LOGIN, typed).status_code == 302
    Authenticator.objects.create(
        user=coach, type=Authenticator.Type.TOTP, data={"secret": "JBSWY3DPEHPK3PXP"}
    )
    half_way = Client()
    assert half_way.post(LOGIN, typed).url == "/accounts/2fa/authenticate/"
    IdempotencyRecord.objects.create(
        user=coach, key="k", route="/", body_hash="", status=200, answer={"by": "coach@"}
    )
    assert in_sessions("coach@ashmere.example") == 2
    closed = director.post(f"/club/staff/{coach.public_id}/close/", follow=True)
    assert "The account is closed." in closed.content.decode()
    assert (in_sessions("coach@ashmere.example"), Session.objects.count()) == (0, 1)
    assert here.get("/squads/").url.startswith(LOGIN)
    assert IdempotencyRecord.objects.count() == 0
    cache.clear()


@pytest.mark.django_db
def test_who_closes_the_own_account_is_signed_out(world: World) -> None:
    from tests.factories import UserFactory, role_for

    role_for(user=UserFactory(), role=Role.DIRECTOR)
    director = signed_in(world.people.director)
    address = f"/club/staff/{world.people.director.public_id}/close/"
    assert director.post(address).status_code == 302
    assert director.get("/club/staff/").url.startswith(LOGIN)


@pytest.mark.django_db
def test_mail_that_waits_for_somebody_who_leaves_is_taken_back(world: World, settings: Any) -> None:
    settings.MAIL_IS_SET = True
    for person in (world.people.coach, world.people.helper):
        actions.post(kind="account/email/email_changed", user_id=person.pk, to=person.email)
    actions.close_account(user=world.people.coach)
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT args->'facts'->>'to' FROM procrastinate_jobs WHERE task_name = 'club.send_mail'"
        )
        assert cursor.fetchall() == [(world.people.helper.email,)]


def made_of_everything(world: World) -> None:
    """One of each thing that runs out."""
    director = world.people.director
    signed_in(director)
    actions.make_link(kind=LinkKind.SET_UP)
    actions.use_link(secret=actions.make_link(kind=LinkKind.SET_UP), kind=LinkKind.SET_UP)
    actions.make_token(user_id=director.pk, days=30)
    actions.make_token(user_id=director.pk)
    actions.answer_once(
        user_id=director.pk, key="k", route="/", body_hash="", make=lambda: actions.StoredAnswer(200, {})
    )
    actions.note_reading(user_id=director.pk, squad_ids=[world.own.squad.pk], page=NamesOn.SQUAD)
    cache.set("counted", 1, timeout=60)
    drill = make(world.people.coach)
    drills.share_drill(actor=acting(world.people.coach), public_id=drill.public_id, days="7")
    session = planned_session(place=world.own, by=director, parts=[part_input()])
    training.share_session(actor=acting(director), session=session, days="7")


def kept() -> dict[str, int]:
    models = (Session, OneTimeLink, get_token_model(), IdempotencyRecord, AccessLog, ShareLink, SessionLink)
    with connection.cursor() as cursor:
        cursor.execute("SELECT count(*) FROM shared_cache WHERE cache_key LIKE '%counted'")
        cached = cursor.fetchone()[0]
    return {**{model.__name__: model._default_manager.count() for model in models}, "cache": cached}


@pytest.mark.django_db
def test_each_thing_goes_when_its_time_is_over_and_not_before(world: World) -> None:
    made_of_everything(world)
    everything = kept()
    assert min(everything.values()) >= 1
    used = actions.prune() + drills.forget_links() + training.forget_session_links()
    assert (used, kept()) == (1, {**everything, "OneTimeLink": 1})  # the used one
    after = timezone.now() + timedelta(days=READS_KEPT_DAYS, hours=1)
    with time_machine.travel(after - timedelta(hours=2), tick=False):
        actions.prune()
        assert kept()["AccessLog"] == 1
    with time_machine.travel(after, tick=False):
        actions.prune()
        drills.forget_links()
        training.forget_session_links()
    assert kept() == {**dict.fromkeys(everything, 0), "AuthToken": 1}  # the one that never ends


@pytest.mark.django_db(transaction=True)
def test_the_worker_does_it_by_itself_and_forgets_jobs_of_yesterday(world: World) -> None:
    from procrastinate.contrib.django import app

    actions.make_link(kind=LinkKind.SET_UP)
    OneTimeLink.objects.update(expires_at=timezone.now())
    for name in ("club.prune", "drills.forget_links", "sessions.forget_links"):
        app.configure_task(name, queue="quick").defer(timestamp=0)
    run_jobs("quick")
    assert OneTimeLink.objects.count() == 0
    with connection.cursor() as cursor:
        cursor.execute("UPDATE procrastinate_events SET at = now() - interval '25 hours'")
    app.configure_task("club.forget_jobs", queue="quick").defer(timestamp=0)
    run_jobs("quick")
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT DISTINCT task_name FROM procrastinate_jobs WHERE task_name !~ 'rescue|give_up|forget_pairs'"
        )
        assert cursor.fetchall() == [("club.forget_jobs",)]
    assert {"club.prune", "club.forget_jobs", "drills.forget_links", "sessions.forget_links"} <= set(
        periodic(app)
    )


def periodic(app: Any) -> list[str]:
    return [each.task.name for each in app.periodic_registry.periodic_tasks.values()]
