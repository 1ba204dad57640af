"""All parts set up for tonight's number in one go: for how many, what stays, what nothing fits, and as one."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
import time_machine

from club import queries as queries_of_club
from club.errors import Refused, Stale
from club.models import ClubSettings
from club.queries import actor_of
from drills.game.fits import fits
from sessions import actions, bridge, pages, queries
from sessions.bridge import evening_kept
from sessions.models import DeliveryEvent, Station
from sessions.planning.fold import DeliveryState
from sessions.queries.evening import share_of, starting_evening, with_players
from sessions.queries.set_up import players_tonight, set_up_for
from tests.factories import player_in
from tests.factories_sessions import part_input
from tests.people import World
from tests.sessions.proposing.evening import HARDER
from tests.sessions.set_ups import setup_of
from tests.sessions.setting_up import again, drill, fits_of, planned, record, rondos, set_up, stations_of

pytestmark = pytest.mark.django_db


def test_every_part_gets_the_answer_nearest_to_its_drill(world: World) -> None:
    session = rondos(world)
    before = session.version
    changed = set_up(world, session)
    stations = stations_of(session)
    assert changed == {each.public_id for each in stations}
    for station in stations:
        asked = with_players(starting_evening(again(session), station), 12)
        best = fits(queries.station_of(again(session), station.public_id).drill.document, "", asked)[0]
        assert setup_of(station).numbers == best.numbers
        assert evening_kept(station).players == 12
    assert again(session).version == before + 1
    assert [set_up_for(part) for part in again(session).parts.all()] == [12, 12]


def test_what_is_set_up_for_as_many_stays_unless_it_is_asked_for(world: World) -> None:
    session = rondos(world)
    set_up(world, session)
    first, second = stations_of(session)
    other = fits_of(session, first)[1]
    evening = evening_kept(first)
    actions.accept_setup(
        actor=actor_of(world.people.coach),
        session=again(session),
        version=again(session).version,
        station=first,
        evening=evening,
        numbers=other.numbers,
        grids=other.grids,
    )
    version = again(session).version
    assert set_up(world, again(session)) == frozenset()
    assert again(session).version == version  # nothing was saved
    assert setup_of(stations_of(session)[0]).numbers == other.numbers
    assert set_up(world, again(session), anew=True) == {first.public_id, second.public_id}
    assert setup_of(stations_of(session)[0]).numbers != other.numbers
    assert set_up(world, again(session), players=11) == {first.public_id, second.public_id}


@pytest.mark.parametrize(("players", "shares"), [(15, [8, 7]), (16, [8, 8]), (14, [7, 7])])
def test_stations_at_the_same_time_share_the_players(world: World, players: int, shares: list[int]) -> None:
    one = part_input(drill=drill(world))
    session = planned(world, replace(one, stations=one.stations * 2))
    set_up(world, session, players=players)
    assert [evening_kept(each).players for each in stations_of(session)] == shares
    assert set_up_for(again(session).parts.all()[0]) == players


def test_keepers_who_stay_keep_their_number_and_the_others_share_the_rest(world: World) -> None:
    one = part_input(drill=drill(world))
    here = one.stations[0]
    session = planned(world, replace(one, stations=(replace(here, stays=True), here, here)))
    keepers, *_others = stations_of(session)
    best = fits(
        queries.station_of(session, keepers.public_id).drill.document,
        "",
        queries.evening_of(session, players=5),
    )[0]
    actions.accept_setup(
        actor=actor_of(world.people.coach),
        session=session,
        version=session.version,
        station=keepers,
        evening=queries.evening_of(session, players=5),
        numbers=best.numbers,
        grids=best.grids,
    )
    session = again(session)
    rows = list(session.parts.all()[0].stations.all())
    assert [share_of(18, each) for each in rows] == [5, 7, 6]
    changed = set_up(world, session, players=18)
    assert keepers.public_id not in changed
    assert [evening_kept(each).players for each in stations_of(session)] == [5, 7, 6]


def test_where_nothing_fits_the_part_stays_and_the_answer_says_why(world: World) -> None:
    rondo, match = drill(world), drill(world, title="Five alone", **_only_for_many())
    session = planned(world, part_input(drill=rondo), part_input(drill=match))
    set_up(world, session, players=12)
    kept = stations_of(session)[1].setup
    changed = set_up(world, again(session), players=4)
    rows = stations_of(session)
    assert (changed, rows[1].setup) == ({rows[0].public_id}, kept)
    assert evening_kept(rows[1]).players == 12
    found = pages.all_set_up(again(session), 4)
    assert [each.standing for each in found.lines] == ["holds", "nothing_fits"]
    assert found.lines[1].reasons == ("Too few: this needs at least 8 players, and 4 came.",)
    assert found.done == "Set up for 4. Nothing fits Five alone: it stays as it was."


def _only_for_many() -> dict[str, Any]:
    return {"format": "4v4", "activity": "match", "numbers": {"kind": "range", "least": 8, "most": 16}}


def test_all_or_nothing(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    session = rondos(world)
    saved = Station.save
    done: list[Any] = []

    def breaks(self: Station, *args: Any, **given: Any) -> None:
        done.append(self)
        if len(done) > 1:
            raise RuntimeError("the disk is gone")
        saved(self, *args, **given)

    monkeypatch.setattr(Station, "save", breaks)
    with pytest.raises(RuntimeError):
        set_up(world, session)
    assert len(done) == 2
    assert [each.setup for each in stations_of(session)] == [None, None]
    assert again(session).version == session.version


def test_refused_and_stale(world: World) -> None:
    session = rondos(world)
    for wrong in (0, 61):
        with pytest.raises(Refused) as refused:
            set_up(world, session, players=wrong)
        assert refused.value.by_field() == {"players": ["From 1 to 60 players."]}
    with pytest.raises(Stale):
        set_up(world, session, version=session.version - 1)
    actions.cancel_session(session=session, version=session.version, why="weather")
    with pytest.raises(Refused):
        set_up(world, again(session))
    assert [each.setup for each in stations_of(session)] == [None, None]


def test_at_the_pitch_the_last_word_counts(world: World) -> None:
    session = rondos(world)
    seen = again(session)
    set_up(world, session, players=10)  # by somebody else, after the page was read
    assert len(set_up(world, seen, version=None, players=11)) == 2
    assert [evening_kept(each).players for each in stations_of(session)] == [11, 11]


# ---- once the evening has begun ----------------------------------------------------------------------------------


def test_who_is_here_and_takes_part_counts_as_soon_as_anybody_is(world: World) -> None:
    session = rondos(world, 1)
    players = [player_in(squad=world.own.squad, display_name=f"Number {n}") for n in range(6)]
    assert players_tonight(session) == 12
    said = ("arrived", "late", "arrived", "watching", "absent", "arrived")
    events = [(kind, {"player": str(each.public_id)}) for kind, each in zip(said, players, strict=True)]
    session = record(world, session, *events, ("left", {"player": str(players[5].public_id)}))
    assert players_tonight(session) == 3
    register = bridge.register_of(session)
    state = DeliveryState(
        starts_at=None,
        status="planned",
        reason=None,
        moved_to=None,
        minutes_delivered=0,
        register=register,
        guests=(),
        parts=(),
        ratings=(),
        notes=(),
    )
    assert (state.playing, state.turn_out) == (3, 5)


def test_a_part_that_has_begun_stays_and_phones_hear_of_the_others(world: World) -> None:
    session = rondos(world, 3)
    first, second, third = (str(each.public_id) for each in session.parts.all())
    session = record(world, session, ("part_started", {"part": first}))
    changed = set_up(world, session, players=10)
    rows = stations_of(session)
    assert changed == {each.public_id for each in rows[1:]}
    assert [each.setup is not None for each in rows] == [False, True, True]
    events = DeliveryEvent.objects.filter(session=session, kind="fit_accepted").order_by("seq")
    assert [each.body["part"] for each in events] == [second, third]
    assert {each.body["setup"]["players_total"] for each in events} == {10}
    standing = [each.standing for each in pages.all_set_up(again(session), 10).lines]
    assert standing == ["begun", "holds", "holds"]


@pytest.fixture
def in_the_morning() -> Iterator[None]:
    """Ten in the morning of today, whenever the tests are run: before what happens in the evening."""
    with time_machine.travel(queries_of_club.club_now(ClubSettings()).replace(hour=10, minute=0, second=0)):
        yield


def test_a_set_up_that_was_accepted_before_does_not_come_back(in_the_morning: None, world: World) -> None:
    session = rondos(world, 2)
    first, second = (str(each.public_id) for each in session.parts.all())
    older = {"numbers": "2 × 4v1", "grids": 2, "players_total": 10, "length_m": 8, "width_m": 8, "waiting": 0}
    session = record(world, session, ("fit_accepted", {"part": second, "setup": older}))
    assert evening_kept(stations_of(session)[1]).players == 10
    set_up(world, session, players=12)
    record(
        world,
        session,
        *[("part_started", {"part": first})] * 1,
        ("fit_accepted", {"part": first, "setup": older}),
    )
    assert [evening_kept(each).players for each in stations_of(session)] == [10, 12]


def test_a_rung_chosen_at_the_pitch_is_the_one_that_is_set_up(world: World) -> None:
    session = planned(world, part_input(drill=drill(world, variations=HARDER)))
    part = str(session.parts.all()[0].public_id)
    session = record(world, session, ("harder", {"part": part, "to": "two"}))
    set_up(world, session)
    assert stations_of(session)[0].variation_key == "two"
    assert pages.all_set_up(again(session), 12).lines[0].standing == "holds"


def test_before_anything_is_recorded_a_plan_leaves_no_event(world: World) -> None:
    session = rondos(world)
    set_up(world, session)
    assert not DeliveryEvent.objects.filter(session=session).exists()
