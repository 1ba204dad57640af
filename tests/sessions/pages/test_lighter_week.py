"""A week made lighter: what is offered, and that one tap takes off what was said."""

from datetime import timedelta
from typing import Any
from uuid import UUID

import pytest

from club.queries import actor_of, today
from sessions import pages, queries
from sessions.choices import State, WhyCancelled
from sessions.models import Station
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in
from tests.sessions.pages.test_team_week import entered, evening, main_of, squad_of, text_of, week_url
from tests.sessions.setting_up import set_up

__all__ = ["evening"]


@pytest.fixture
def coach(world: World) -> Any:
    return signed_in(world.people.coach)


def heavy(world: World, week_au: int) -> None:
    world.own.age_group.week_load_au = week_au
    world.own.age_group.save()


def offered(world: World) -> list[Any]:
    page = pages.squad_week_page(actor_of(world.people.coach), squad_of(world), pages.monday_of(today()))
    return page.ways


def tapped(offer: Any, **changes: Any) -> dict[str, Any]:
    """What the button of an offer sends."""
    change = offer.change
    return {
        "version": offer.version,
        "kind": change.kind,
        "size": change.size,
        "part": change.part,
        **changes,
    }


def tap(coach: Any, world: World, offer: Any, **changes: Any) -> Any:
    address = week_url(world, "lighter", session_id=offer.change.session)
    return coach.post(address, tapped(offer, **changes))


def test_one_tap_drops_the_rounds_and_takes_off_what_was_said(world: World, coach: Any, evening: Any) -> None:
    heavy(world, 220)
    offer = offered(world)[0].offers[0]
    assert (offer.change.kind, offer.change.size, offer.change.saving_au) == ("bouts", 2, 100)
    assert tap(coach, world, offer).status_code == 302
    part = queries.session_by_id(evening.public_id).parts.all()[0]
    assert (part.bouts, part.minutes) == (4, 40)
    page = pages.squad_week_page(actor_of(world.people.coach), squad_of(world), pages.monday_of(today()))
    assert (page.week.total_au, page.week.is_over, page.ways) == (200, False, [])


def test_one_tap_makes_a_part_shorter_or_leaves_the_last_one_out(world: World, coach: Any) -> None:
    short = part_input(minutes=20, bouts=1, bout_s=1200, changeover_s=0)
    made = planned_session(place=world.own, by=world.people.coach, parts=[short, short, short])  # 300 AU
    heavy(world, 260)
    offer = offered(world)[0].offers[0]
    assert (offer.change.kind, offer.change.size) == ("shorter", 10)
    tap(coach, world, offer)
    assert sorted(each.minutes for each in queries.session_by_id(made.public_id).parts.all()) == [10, 20, 20]
    heavy(world, 160)
    offer = next(each for each in offered(world)[0].offers if each.change.kind == "part")
    tap(coach, world, offer)
    assert queries.session_by_id(made.public_id).parts.count() == 2


def test_a_session_after_a_tournament_is_offered_to_be_left_out_first(
    world: World, coach: Any, evening: Any
) -> None:
    entered(world, today() - timedelta(days=1))
    monday = pages.monday_of(today())
    if today() == monday:  # the day before is in another week, and is seen all the same
        heavy(world, 250)
    else:
        heavy(world, 1150)
    first = offered(world)[0]
    assert [each.change.kind for each in first.offers] == ["session"]
    text = main_of(coach.get(week_url(world)))
    assert "the day after a tournament (Autumn Cup): takes off all of that." in text
    tap(coach, world, first.offers[0])
    fresh = queries.session_by_id(evening.public_id)
    assert (fresh.state, fresh.why_cancelled) == (State.CANCELLED, WhyCancelled.REST)


def one_drill(world: World) -> Any:
    """100 AU of 82: 5 min less would take off 25, the easier variation (effort 4 instead of 5) 20."""
    drill = shared_drill(owner=world.people.coach)
    part = part_input(drill=drill, minutes=20, bouts=1, bout_s=1200, changeover_s=0)
    made = planned_session(place=world.own, by=world.people.coach, parts=[part])
    heavy(world, 82)
    return made


def test_one_tap_runs_the_easier_variation_and_takes_off_what_was_said(world: World, coach: Any) -> None:
    made = one_drill(world)
    set_up(world, made, players=14)
    station = Station.objects.get(part__session=made)
    assert station.setup
    offer = offered(world)[0].offers[0]
    assert (offer.change.kind, offer.change.saving_au) == ("rung", 20)
    assert "in its next easier variation: takes off all of that." in main_of(coach.get(week_url(world)))
    response = coach.post(week_url(world, "lighter", session_id=made.public_id), tapped(offer), follow=True)
    assert "The easier variation is in the session. Set it up there for your numbers." in text_of(response)
    part = queries.session_by_id(made.public_id).parts.all()[0]
    now = part.stations.all()[0]
    assert (part.effort, part.minutes, part.public_id) == (4, 20, UUID(offer.change.part))
    assert (now.variation_key, now.public_id) == ("wide", station.public_id)
    assert (now.setup, now.evening) == (None, None)  # it answered the other variation
    page = pages.squad_week_page(actor_of(world.people.coach), squad_of(world), pages.monday_of(today()))
    assert (page.week.total_au, page.week.is_over, page.ways) == (80, False, [])


def test_where_nothing_is_easier_any_more_it_is_said(world: World, coach: Any) -> None:
    made = one_drill(world)
    offer = offered(world)[0].offers[0]
    Station.objects.filter(part__session=made).update(variation_key="wide")
    response = coach.post(week_url(world, "lighter", session_id=made.public_id), tapped(offer), follow=True)
    assert "There is no easier variation of this part any more" in text_of(response)
    assert queries.session_by_id(made.public_id).parts.all()[0].effort == 5


def test_where_groups_change_round_no_round_is_dropped(world: World, evening: Any) -> None:
    heavy(world, 220)
    evening.parts.update(changes_round=True)
    assert [each.change.kind for each in offered(world)[0].offers] == ["session"]


def test_an_offer_that_is_out_of_date_changes_nothing(world: World, coach: Any, evening: Any) -> None:
    heavy(world, 220)
    offer = offered(world)[0].offers[0]
    for wrong in (
        {"version": 99},
        {"size": 6},
        {"kind": "rung"},
        {"part": ""},
        {"kind": "part"},
        {"size": "many"},
    ):
        assert tap(coach, world, offer, **wrong).status_code == 302
    fresh = queries.session_by_id(evening.public_id)
    assert (fresh.version, fresh.parts.all()[0].bouts) == (evening.version, 6)


def test_a_session_of_another_team_is_not_found(world: World, coach: Any) -> None:
    other = planned_session(place=world.colleague, by=world.people.colleague, parts=[part_input()])
    data = {"version": other.version, "kind": "session", "size": 1}
    assert coach.post(week_url(world, "lighter", session_id=other.public_id), data).status_code == 404
