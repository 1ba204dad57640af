"""Several people at one session, place or slot at the same moment: one has it, the others are told who or what."""

import contextlib
import threading
from functools import partial
from typing import Any

import pytest

from club.actions import action
from club.queries import actor_of, today
from drills.game.evening import Evening, typed_ground
from sessions import actions, queries
from sessions.actions import DayAndTimes
from sessions.choices import WhyCancelled
from sessions.models import Computation, DeliveryEvent, SessionZone, Slot, Station, TrainingSession
from sessions.proposals import actions as proposal_actions
from tests.factories import ZoneFactory, player_in
from tests.factories_sessions import (
    QUARTER_PAST_SEVEN,
    SIX,
    part_input,
    planned_session,
    shared_drill,
    weekly_slot,
)
from tests.harness.races import at_once, outcomes, race
from tests.people import make_world
from tests.sessions.pitch.evening import make_evening
from tests.sessions.proposing.evening import evening, library, wished

pytestmark = pytest.mark.django_db(transaction=True)


def test_zones_and_people_in_any_order_are_booked_once() -> None:
    """Whoever asks for the same ones the other way round meets the other booking, not a lock."""
    world = make_world()
    zones = [ZoneFactory(), ZoneFactory()]
    people = [world.people.coach, world.people.colleague]

    def book(at: int) -> Any:
        ways = slice(None, None, 1 if at % 2 else -1)
        place = (world.own, world.colleague)[at % 2]
        return lambda: planned_session(place=place, zones=zones[ways], staff=people[ways])

    assert race(*map(book, range(6))) == {"done": 1, "refused zones": 5}
    assert SessionZone.objects.count() == 2
    # The same people elsewhere.
    other = [partial(planned_session, place=world.foreign, zones=[ZoneFactory()], staff=people)] * 2
    assert race(*other) == {"refused staff": 2}


def test_two_who_book_the_same_zones_in_opposite_order_never_lock_each_other_up(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Each has written one of the two rows when the other wants it: the places are held before anything is written."""
    world = make_world()
    zones = [ZoneFactory(), ZoneFactory()]
    half_way = threading.Barrier(2, timeout=0.5)

    def one_by_one(rows: Any) -> None:
        for row in rows:
            row.save()
            with contextlib.suppress(threading.BrokenBarrierError):
                half_way.wait()

    monkeypatch.setattr(SessionZone.objects, "bulk_create", one_by_one)
    places = (world.own, zones), (world.colleague, zones[::-1])
    found = race(*(partial(planned_session, place=place, zones=order) for place, order in places))
    assert found == {"done": 1, "refused zones": 1}


def test_a_slot_is_filled_once_a_day_and_given_to_one_squad() -> None:
    world = make_world()
    zone = ZoneFactory()
    give = [partial(weekly_slot, place=place, zones=[zone]) for place in (world.own, world.colleague)]
    assert race(*give * 3) == {"done": 1, "refused zones": 5}
    slot = Slot.objects.get()
    given = {"starts": SIX, "ends": QUARTER_PAST_SEVEN, "first_day": today(), "last_day": slot.last_day}
    change = partial(actions.change_slot, slot=slot, version=1, zone_ids=[zone.pk], **given)
    found = race(*(partial(change, weekday=weekday) for weekday in (1, 2, 3, 4)))
    assert found == {"done": 1, "stale": 3}
    assert at_once(3, partial(planned_session, place=world.own, slot=slot)) == {"done": 1, "refused slot": 2}


def test_a_session_is_saved_moved_or_called_off_by_one_and_the_others_look_again() -> None:
    world = make_world()
    drill = shared_drill(owner=world.people.coach)
    session = planned_session(
        place=world.own, zones=[ZoneFactory()], parts=[part_input(drill=drill)], by=world.people.coach
    )
    coach, at = actor_of(world.people.coach), {"session": session, "version": session.version}
    found = race(
        *(partial(actions.save_parts, actor=coach, parts=[part_input(minutes=m)], **at) for m in (10, 11)),
        partial(
            actions.move_session, when=DayAndTimes(today(), QUARTER_PAST_SEVEN, SIX.replace(hour=21)), **at
        ),
        partial(actions.cancel_session, why=WhyCancelled.WEATHER, **at),
    )
    assert found == {"done": 1, "stale": 3}


def test_a_set_up_is_accepted_once_and_a_winner_noted_once() -> None:
    world = make_world()
    drill = shared_drill(owner=world.people.coach)
    session = planned_session(place=world.own, parts=[part_input(drill=drill)], by=world.people.coach)
    station = Station.objects.select_related("part").get()
    evening = Evening(12, adults=2, pieces=typed_ground(40, 40))
    first = actions.fitted(station, evening)[0]
    chosen = {"evening": evening, "numbers": first.numbers, "grids": first.grids, "station": station}
    accept = partial(actions.accept_setup, session=session, version=session.version, **chosen)
    assert at_once(4, accept) == {"done": 1, "stale": 3}


def test_turns_that_are_worked_out_anew_keep_the_winners_that_are_noted_meanwhile() -> None:
    from sessions.actions.turns import _kept
    from sessions.models import Turns

    world = make_world()
    for number in range(13):
        player_in(squad=world.own.squad, shirt=20 + number)
    drill = shared_drill(owner=world.people.coach)
    made = planned_session(place=world.own, parts=[part_input(drill=drill)], by=world.people.coach)
    session = queries.turns.session_with_turns(made.public_id)
    part, station = actions.station_in_part(session, Station.objects.get().public_id)
    assert at_once(4, partial(action(_kept), session, station)) == {"done": 4}
    # Noted by another phone after this one has read the session.
    Turns.objects.update(facts={"winners": {"1": {"cap": 2, "results": ["draw"]}}})
    actions.rotate_station(actor=actor_of(world.people.coach), session=session, part=part, station=station)
    assert Turns.objects.get().facts["winners"] == {"1": {"cap": 2, "results": ["draw"]}}


def test_turns_that_two_work_out_at_once_are_worked_out_once_and_the_other_looks_again() -> None:
    """What the first asked for stays: who is in goal, who is kept together."""
    from sessions.models import Turns

    world = make_world()
    for number in range(13):
        player_in(squad=world.own.squad, shirt=20 + number)
    made = planned_session(
        place=world.own,
        parts=[part_input(drill=shared_drill(owner=world.people.coach))],
        by=world.people.coach,
    )
    coach, key = actor_of(world.people.coach), Station.objects.get().public_id

    def work_out(seen: int | None) -> Any:
        session = queries.turns.session_with_turns(made.public_id)
        part, station = actions.station_in_part(session, key)
        return actions.rotate_station(actor=coach, session=session, part=part, station=station, seen=seen)

    assert at_once(4, partial(work_out, 0)) == {"done": 1, "refused": 3}
    assert Turns.objects.get().version == 1
    assert at_once(3, partial(work_out, 1)) == {"done": 1, "refused": 2}
    work_out(None)  # the API may leave it to chance
    assert Turns.objects.get().version == 3


def test_a_bout_that_is_noted_and_taken_back_at_once_is_one_or_the_other() -> None:
    """Nobody is told "done" for something that was not done."""
    world = make_world()
    bare: dict[str, Any] = {key: [] for key in ("goals", "groups", "conditions", "variations", "phases")}
    session, part, station = _winners(world, {**bare, "format": "4v4+4", "queue": None})
    shown = queries.turns.winner_stays(queries.turns.places_of(station, part.row.bouts), part, {"facts": {}})
    bib = shown[0].on.playing[0]
    note = partial(actions.note_winner, session=session, part=part, station=station)
    note(bout=1, ended=bib)
    assert race(*[partial(note, bout=1, ended="")] * 3) == {"done": 1, "refused bout": 2}
    assert race(*[partial(note, bout=1, ended=each) for each in (bib, "draw", bib)]) == {
        "done": 1,
        "refused bout": 2,
    }


def _winners(world: Any, doc: dict[str, Any]) -> tuple[Any, Any, Any]:
    drill = shared_drill(owner=world.people.coach, **doc)
    made = planned_session(
        place=world.own, parts=[part_input(drill=drill)], by=world.people.coach, players_expected=12
    )
    session = queries.turns.session_with_turns(made.public_id)
    return session, *actions.station_in_part(session, Station.objects.get().public_id)


def test_words_after_use_of_several_coaches_all_stay() -> None:
    from drills import actions as drill_actions
    from drills.models import UseNote

    world = make_world()
    drill = shared_drill(owner=world.people.coach)
    coach = actor_of(world.people.coach)
    note = partial(drill_actions.note_after_use, actor=coach, public_id=drill.public_id, worked="yes")
    assert race(*(partial(note, text=f"Word {n}") for n in range(5))) == {"done": 5}
    assert UseNote.objects.count() == 5


def test_the_same_events_of_several_phones_are_taken_once() -> None:
    world = make_world()
    made = make_evening(world, place=world.own)
    events = [made.event("note", minute, text="Well done") for minute in (1, 2, 3)]
    found = outcomes(*[partial(made.append, *events)] * 5)
    assert sorted(each.outcome for _word, met in found for each in met) == ["already"] * 12 + ["taken"] * 3
    assert sorted(DeliveryEvent.objects.values_list("seq", flat=True)) == [1, 2, 3]


def test_a_slot_that_was_filled_meanwhile_is_not_taken_back() -> None:
    world = make_world()
    slot = weekly_slot(place=world.own)
    made = make_evening(world, place=world.own)
    TrainingSession.objects.filter(pk=made.session.pk).update(slot=slot, slot_day=today())
    made.append(made.event("cancelled", 5, reason="weather"))
    assert made.read().state == "cancelled"
    other = planned_session(place=world.own, slot=slot)
    made.append(made.event("as_planned", 6))
    assert (made.read().state, made.read().slot_id) == ("planned", None)
    assert TrainingSession.objects.get(slot=slot).pk == other.pk


def test_a_proposal_is_asked_for_once_and_taken_over_once() -> None:
    world = make_world()
    library(world)
    session = evening(world)
    coach = actor_of(world.people.coach)
    ask = partial(proposal_actions.ask_for_proposal, actor=coach, session=session, wish=wished(session))
    found = outcomes(*[ask] * 4)
    assert {(word, met.pk) for word, met in found} == {("done", Computation.objects.get().pk)}
    row = Computation.objects.get()
    proposal_actions.work_out_proposal(public_id=str(row.public_id))
    row.refresh_from_db()
    take = {"actor": coach, "session": session, "version": session.version, "computation": row}
    assert at_once(4, partial(proposal_actions.apply_proposal, **take)) == {"done": 1, "stale": 3}
    weigh = partial(proposal_actions.weigh_proposals, version=1)
    assert race(*(partial(weigh, theme=word) for word in ("none", "little", "lot"))) == {
        "done": 1,
        "stale": 2,
    }
    keep = partial(actions.keep_order, actor=coach, session=queries.session_by_id(session.public_id))
    assert at_once(4, partial(keep, name="Ours")) == {"done": 4}
