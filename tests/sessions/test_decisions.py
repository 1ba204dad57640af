"""Who may do what where the address names two things: what belongs elsewhere is not there, for the director as for anybody."""

from collections.abc import Callable
from typing import Any
from uuid import uuid4

import pytest
from django.http import Http404

from club import access as of_club
from club.actor import NOBODY, Actor
from club.queries import actor_of, today
from club.queries import squad as club_squad
from sessions import access, queries
from sessions.choices import Kind
from sessions.models import LedgerEntry
from sessions.proposals import access as of_proposals
from tests.access.table_proposals import proposal
from tests.factories import player_in
from tests.factories_sessions import part_input, planned_session, shared_drill, weekly_slot
from tests.people import NAMES, World


def actor(world: World, name: str) -> Actor:
    person = getattr(world.people, name)
    return actor_of(person) if person else NOBODY


def allowed(world: World, ask: Callable[[Actor], Any]) -> set[str]:
    """Whose question is answered; all others get a 404."""
    found = set()
    for name in NAMES:
        try:
            ask(actor(world, name))
        except Http404:
            continue
        found.add(name)
    return found


def test_a_session_is_found_with_its_own_squad_alone(world: World) -> None:
    session = planned_session(place=world.own)
    own, other = world.own.squad, world.colleague.squad
    assert allowed(world, lambda who: access.session_of_squad(who, own, session.public_id)) == {
        "director",
        "coach",
    }
    assert allowed(world, lambda who: access.session_of_squad(who, other, session.public_id)) == set()
    assert allowed(world, lambda who: access.session_of_squad(who, own, uuid4())) == set()


def test_a_proposal_is_found_with_its_own_session_alone(world: World) -> None:
    made = proposal(world, world.own)
    session = queries.session_by_id(made["public_id"])
    other = planned_session(place=world.own)
    found = {"director", "coach"}
    assert allowed(world, lambda who: of_proposals.proposal_in(who, session, made["proposal_id"])) == found
    assert allowed(world, lambda who: of_proposals.proposal_in(who, other, made["proposal_id"])) == set()
    assert allowed(world, lambda who: of_proposals.proposal_for_planning(who, made["proposal_id"])) == found


def test_a_proposal_is_its_owners_wherever_it_is_for(world: World) -> None:
    made = proposal(world, world.colleague)  # the director's
    ask = of_proposals.proposal_for_planning
    assert allowed(world, lambda who: ask(who, made["proposal_id"])) == {"director", "colleague"}
    row = ask(actor(world, "director"), made["proposal_id"])
    row.owner = world.people.helper
    row.save()
    assert "helper" in allowed(world, lambda who: ask(who, made["proposal_id"]))


def test_an_entry_is_found_with_its_own_squad_and_never_a_players(world: World) -> None:
    given = {"squad_id": world.own.squad.pk, "day": today(), "kind": Kind.MATCH, "minutes": 60}
    entry = LedgerEntry.objects.create(title="Cup", **given)
    of_a_player = LedgerEntry.objects.create(player=world.own.player, **given)
    own, other = (club_squad(place.squad.public_id) for place in (world.own, world.colleague))
    assert allowed(world, lambda who: access.entry_for_editing(who, own, entry.public_id)) == {
        "director",
        "coach",
    }
    assert allowed(world, lambda who: access.entry_for_editing(who, other, entry.public_id)) == set()
    assert allowed(world, lambda who: access.entry_for_editing(who, own, of_a_player.public_id)) == set()


def test_a_station_is_found_in_its_own_session_alone(world: World) -> None:
    drill = shared_drill(owner=world.people.coach)
    first, second = (
        planned_session(place=place, by=world.people.director, parts=[part_input(drill=drill)])
        for place in (world.own, world.colleague)
    )
    station = first.parts.all()[0].stations.all()[0]
    assert access.station_in(first, station.public_id) == station
    with pytest.raises(Http404):
        access.station_in(second, station.public_id)


def test_who_reads_records_and_plans_a_session(world: World) -> None:
    session = planned_session(place=world.own)
    staff = {"director", "coach", "helper"}
    for ask, wanted in (
        (access.session_for_reading, {*staff, "colleague", "reader"}),
        (access.session_to_reuse, {*staff, "colleague", "reader"}),
        (access.session_for_recording, staff),
        (access.session_for_turns, staff),
        (access.session_for_planning, {"director", "coach"}),
        (access.session_to_edit, {"director", "coach"}),
        (of_proposals.session_to_wish_for, {"director", "coach"}),
    ):
        assert allowed(world, lambda who, ask=ask: ask(who, session.public_id)) == wanted, ask.__name__
        assert allowed(world, lambda who, ask=ask: ask(who, uuid4())) == set(), ask.__name__


def test_who_sees_and_changes_a_slot(world: World) -> None:
    slot = weekly_slot(place=world.own)
    everybody = {"director", "coach", "colleague", "helper", "reader", "administrator"}
    assert allowed(world, lambda who: access.slot_for_reading(who, slot.public_id)) == everybody
    assert allowed(world, lambda who: access.slot_for_planning(who, slot.public_id)) == {"director", "coach"}
    assert allowed(world, lambda who: access.slot_for_editing(who, slot.public_id)) == {"director"}


def test_whose_weeks_are_seen_and_added_to(world: World) -> None:
    group, squad = world.own.age_group.public_id, world.own.squad.public_id
    readers = {"director", "coach", "helper", "reader"}
    assert allowed(world, lambda who: access.age_group_for_weeks(who, group)) == readers
    assert allowed(world, lambda who: access.squad_for_weeks(who, squad)) == readers
    assert allowed(world, lambda who: access.squad_for_planning(who, squad)) == {"director", "coach"}
    for ask in (access.age_group_for_weeks, access.squad_for_weeks, access.squad_for_planning):
        assert allowed(world, lambda who, ask=ask: ask(who, uuid4())) == set()


def test_whose_players_are_read_kept_set_out_and_lifted(world: World) -> None:
    squad, player = world.own.squad.public_id, world.own.player.public_id
    staff, coaches = {"director", "coach", "helper"}, {"director", "coach"}
    assert allowed(world, lambda who: of_club.squad_with_names(who, squad)) == staff
    assert allowed(world, lambda who: of_club.squad_to_keep(who, squad)) == coaches
    assert allowed(world, lambda who: of_club.player_to_keep(who, player)) == coaches
    assert allowed(world, lambda who: of_club.player_to_set_out(who, player)) == staff
    assert allowed(world, lambda who: of_club.player_to_lift(who, player)) == coaches
    for ask in (
        of_club.player_to_keep,
        of_club.player_to_set_out,
        of_club.player_to_lift,
        of_club.squad_to_keep,
    ):
        assert allowed(world, lambda who, ask=ask: ask(who, uuid4())) == set()
    found, of = of_club.player_to_keep(actor(world, "coach"), player)
    assert (found, of) == (world.own.player, world.own.squad)


def test_which_squads_somebody_keeps(world: World) -> None:
    player_in(squad=world.own.squad, display_name="Una Under")
    own, colleague, foreign = (place.squad for place in (world.own, world.colleague, world.foreign))
    kept = {name: set(of_club.squads_to_keep(actor(world, name))) for name in NAMES}
    assert kept == {
        **{name: set() for name in NAMES},
        "director": {own, colleague, foreign},
        "coach": {own},
        "colleague": {colleague},
    }


def test_a_proposal_taken_under_another_session_is_not_there(world: World, client: Any) -> None:
    """The address names both; what was proposed for one session is never put into another."""
    from django.urls import reverse

    made = proposal(world, world.own)
    other = planned_session(place=world.own, parts=[part_input()])
    client.force_login(world.people.director, backend="django.contrib.auth.backends.ModelBackend")
    kwargs = {"public_id": other.public_id, "proposal_id": made["proposal_id"]}
    for name in ("sessions:take-proposal", "sessions:stop-proposal", "sessions:propose-again"):
        assert client.post(reverse(name, kwargs=kwargs)).status_code == 404, name
    assert client.get(reverse("sessions:proposal", kwargs=kwargs)).status_code == 404
