"""What the session has already, when a session is suggested: nothing stays unless it is ticked, and nothing goes unsaid."""

from dataclasses import replace
from datetime import time
from typing import Any

import pytest

from sessions import queries
from sessions.choices import PartKind
from sessions.models import Computation
from sessions.proposals import actions
from sessions.proposals.queries import wish_for
from tests.factories_sessions import part_input, planned_session
from tests.people import World, signed_in
from tests.sessions.proposing.evening import evening, library
from tests.sessions.proposing.test_pages_and_api import page_of, typed, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def session(world: World) -> Any:
    """An arrival with a drill, a practice with nothing in it, a game with a name alone."""
    made = library(world)
    parts = [
        replace(part_input(drill=made["Lamp Keepers"], minutes=12), kind=PartKind.ARRIVAL),
        part_input(minutes=20),
        replace(part_input(title="Free play", minutes=20), kind=PartKind.GAME),
    ]
    return evening(world, parts=parts)


def titles_now(session: Any) -> list[str]:
    return [part.title for part in queries.session_view(queries.session_by_id(session.public_id)).parts]


def worked_out(coach: Any, session: Any, **ticked: str) -> Any:
    """The page of a proposal that was asked for and worked out."""
    asked = coach.post(page_of(session), typed(**ticked))
    row = Computation.objects.latest("pk")
    assert actions.work_out_proposal(public_id=str(row.public_id)) == "done"
    return coach.get(asked["Location"])


def test_nothing_is_ticked_and_only_what_is_there_can_be_kept(world: World, session: Any) -> None:
    response = signed_in(world.people.coach).get(page_of(session))
    form = response.context["form"]
    keeps = {
        name: form[name].value() for name in form.fields if name.startswith("keep") and name[4:].isdigit()
    }
    assert keeps == {"keep0": False, "keep2": False}
    assert "In the session now: Lamp Keepers, Free play. They are replaced when you use" in words(response)
    assert [part.kept for part in wish_for(session).parts] == [None, None, None]
    empty = signed_in(world.people.coach).get(
        page_of(planned_session(place=world.own, starts=time(20), ends=time(21), by=world.people.coach))
    )
    assert "In the session now" not in words(empty)


def test_what_is_not_ticked_stays_until_the_suggestion_is_used_and_is_named_before(
    world: World, session: Any
) -> None:
    coach, before = signed_in(world.people.coach), titles_now(session)
    page = worked_out(coach, session, keep2="on")
    assert page.context["shown"].replaces == ["Lamp Keepers"]
    assert "Using it replaces what the session has now: Lamp Keepers." in words(page)
    assert 'data-ask="Replace Lamp Keepers?"' in words(page)
    assert titles_now(session) == before
    coach.post(f"{page.request['PATH_INFO']}take/", {"version": session.version, "which": "0"})
    after = titles_now(session)
    assert (after[2], len(after)) == ("Free play", 3)
    assert after != before


def test_with_everything_ticked_nothing_is_replaced_and_nothing_is_asked(world: World, session: Any) -> None:
    page = worked_out(signed_in(world.people.coach), session, keep0="on", keep2="on")
    assert page.context["shown"].replaces == []
    assert "data-ask" not in words(page).partition("<main")[2]
