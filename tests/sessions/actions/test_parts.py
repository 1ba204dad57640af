"""Saving parts: ids are kept, foreign ones are not taken, a set-up stays while its drill does."""

import uuid
from dataclasses import replace
from typing import Any

import pytest

from club.errors import Refused, Stale
from club.queries import actor_of
from drills import actions as drill_actions
from drills.game.evening import Evening, typed_ground
from sessions import actions, queries
from sessions.choices import TOOK_PLACE, State
from sessions.models import Part, TrainingSession
from tests.drills.samples import WHOLE
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in
from tests.sessions.set_ups import setup_of


@pytest.fixture
def drill(world: World) -> Any:
    return shared_drill(owner=world.people.coach)


@pytest.fixture
def session(world: World, drill: Any) -> Any:
    parts = [part_input(title="Begin", minutes=10), part_input(drill=drill)]
    return planned_session(place=world.own, by=world.people.coach, parts=parts)


def save(world: World, session: Any, parts: list[Any]) -> Any:
    actor = actor_of(world.people.coach)
    actions.save_parts(actor=actor, session=session, version=session.version, parts=parts)
    return queries.session_by_id(session.public_id)


def station_of(session: Any, part: int = 1) -> Any:
    return session.parts.all()[part].stations.all()[0]


def accept(world: World, session: Any, players: int = 12) -> Any:
    evening = Evening(players, adults=2, pieces=typed_ground(50, 40))
    station = station_of(session)
    best = actions.fitted(station, evening)[0]
    actions.accept_setup(
        actor=actor_of(world.people.coach),
        session=session,
        version=session.version,
        station=station,
        evening=evening,
        numbers=best.numbers,
        grids=best.grids,
    )
    return queries.session_by_id(session.public_id)


def test_parts_and_stations_keep_their_ids_when_they_change_places(world: World, session: Any) -> None:
    before = actions.parts_as_input(session)
    after = actions.parts_as_input(save(world, session, list(reversed(before))))
    assert [each.public_id for each in after] == [each.public_id for each in reversed(before)]
    assert after[0].stations[0].public_id == before[1].stations[0].public_id


def test_ids_of_another_session_are_not_taken_away_from_it(world: World, session: Any, drill: Any) -> None:
    other = planned_session(place=world.colleague, by=world.people.director, parts=[part_input(drill=drill)])
    stolen = actions.parts_as_input(other)[0]
    saved = save(world, session, [stolen])
    assert saved.parts.all()[0].public_id != stolen.public_id
    assert list(Part.objects.filter(session=other).values_list("public_id", flat=True)) == [stolen.public_id]


def test_a_set_up_stays_while_the_drill_stays(world: World, session: Any) -> None:
    session = accept(world, session)
    kept = station_of(session).setup
    parts = [replace(each, minutes=20) for each in actions.parts_as_input(session)]
    assert setup_of(station_of(session)).players_total == 12
    assert station_of(save(world, session, parts)).setup == kept


def test_a_set_up_goes_with_another_rung(world: World, session: Any) -> None:
    session = accept(world, session)
    first, second = actions.parts_as_input(session)
    harder = replace(second, stations=(replace(second.stations[0], variation_key="eight"),))
    saved = save(world, session, [first, harder])
    assert (station_of(saved).variation_key, station_of(saved).setup) == ("eight", None)


def test_a_set_up_is_stale_when_other_numbers_are_expected(world: World, session: Any) -> None:
    session = accept(world, session)
    assert queries.session_view(session).parts[1].stations[0].setup_is_stale == (
        session.players_expected != 12
    )
    session.players_expected = 12
    assert queries.session_view(session).parts[1].stations[0].setup_is_stale is False


def test_a_station_pins_the_revision_until_the_newer_one_is_taken(
    world: World, session: Any, drill: Any
) -> None:
    coach = actor_of(world.people.coach)
    changed = {**WHOLE, "purpose": "Keep it, and look up."}
    drill_actions.revise_drill(
        actor=coach, public_id=drill.public_id, version=drill.version, document=changed
    )
    session = queries.session_by_id(session.public_id)
    view = queries.session_view(session).parts[1].stations[0]
    assert (view.drill.changed_since, view.document.purpose) == (True, WHOLE["purpose"])
    actions.take_newer(actor=coach, session=session, version=session.version, station=station_of(session))
    view = queries.session_view(queries.session_by_id(session.public_id)).parts[1].stations[0]
    assert (view.drill.changed_since, view.document.purpose) == (False, "Keep it, and look up.")


def test_a_drill_that_is_retired_stays_in_its_session_which_says_so(
    world: World, session: Any, drill: Any
) -> None:
    def station() -> Any:
        return queries.session_view(queries.session_by_id(session.public_id)).parts[1].stations[0]

    assert station().drill.retired is False
    drill_actions.retire_drill(actor=actor_of(world.people.director), public_id=drill.public_id)
    assert (station().drill.retired, station().title) == (True, drill.title)
    html = signed_in(world.people.coach).get(f"/sessions/{session.public_id}/").content.decode()
    assert "The drill has been retired since." in html


def test_copied_parts_are_new_and_without_set_ups(world: World, session: Any) -> None:
    session = accept(world, session)
    blank = planned_session(place=world.foreign)
    actor = actor_of(world.people.director)
    actions.take_parts_of(actor=actor, session=blank, version=blank.version, source=session)
    copied = queries.session_by_id(blank.public_id)
    assert [each.minutes for each in copied.parts.all()] == [10, 18]
    assert station_of(copied).public_id != station_of(session).public_id
    assert station_of(copied).setup is None


def test_an_unknown_drill_and_an_unknown_rung_are_refused_beside_the_part(
    world: World, session: Any, drill: Any
) -> None:
    unknown = part_input()
    unknown = replace(unknown, stations=(actions.StationInput(drill_id=uuid.uuid4()),))
    with pytest.raises(Refused) as refusal:
        save(world, session, [part_input(drill=drill, variation_key="nine"), unknown])
    assert set(refusal.value.by_field()) == {"parts[0].stations[0].variation", "parts[1].stations[0].drill"}


def test_a_colleagues_draft_can_not_be_put_in(world: World, session: Any) -> None:
    draft = drill_actions.create_drill(
        actor=actor_of(world.people.colleague), document={**WHOLE, "title": "Not Yet"}
    )
    with pytest.raises(Refused):
        save(world, session, [part_input(drill=draft)])


@pytest.mark.parametrize(
    ("changes", "field", "text"),
    [
        ({"minutes": 0}, "minutes", "From 1 to 120 minutes."),
        ({"bouts": 0}, "bouts", "From 1 to 40 rounds."),
        ({"bout_s": 5}, "bout_s", "A round lasts at least 10 seconds."),
        ({"rest_s": 2000}, "rest_s", "A rest lasts at most 20 minutes."),
        ({"effort": 11.0}, "effort", "Effort goes from 0 (rest) to 10 (maximal)."),
    ],
)
def test_impossible_parts_are_refused_and_nothing_is_half_saved(
    world: World, session: Any, changes: dict[str, Any], field: str, text: str
) -> None:
    with pytest.raises(Refused) as refusal:
        save(world, session, [part_input(minutes=44), part_input(**changes)])
    assert refusal.value.by_field() == {f"parts[1].{field}": [text]}
    assert [each.minutes for each in queries.session_by_id(session.public_id).parts.all()] == [10, 18]


def test_a_stale_save_of_parts_is_refused(world: World, session: Any) -> None:
    save(world, session, [part_input()])
    with pytest.raises(Stale):
        save(world, session, [part_input(minutes=30)])


def test_a_fit_that_is_not_among_the_answers_is_refused(world: World, session: Any) -> None:
    evening = Evening(12, adults=2, pieces=typed_ground(50, 40))
    with pytest.raises(Refused) as refusal:
        actions.accept_setup(
            actor=actor_of(world.people.coach),
            session=session,
            version=session.version,
            station=station_of(session),
            evening=evening,
            numbers="9v9",
            grids=1,
        )
    assert list(refusal.value.by_field()) == ["numbers"]


@pytest.mark.parametrize("state", TOOK_PLACE)
def test_a_session_that_is_over_takes_no_set_up(world: World, session: Any, state: State) -> None:
    before = accept(world, session)
    TrainingSession.objects.filter(pk=session.pk).update(state=state)
    over = queries.session_by_id(session.public_id)
    with pytest.raises(Refused, match="This session has taken place"):
        accept(world, over, players=10)
    with pytest.raises(Refused, match="This session has taken place"):
        actions.set_up_all(
            actor=actor_of(world.people.coach), session=over, version=over.version, players=10, anew=True
        )
    assert station_of(queries.session_by_id(session.public_id)).setup == station_of(before).setup


def test_an_evening_holds_as_many_stations_as_a_sheet(world: World, session: Any, drill: Any) -> None:
    one = part_input(drill=drill)
    six = replace(one, stations=one.stations * 6)
    saved = save(world, session, [six] * 4)
    assert sum(part.stations.count() for part in saved.parts.all()) == 24
    with pytest.raises(Refused, match="At most 24 stations in one session") as refused:
        save(world, saved, [six] * 4 + [one])
    assert [problem.field for problem in refused.value.problems] == ["parts"]
