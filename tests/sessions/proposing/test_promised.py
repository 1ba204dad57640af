"""A proposal keeps its set-ups whole: what is shown, what its row holds and what the stations get are the same."""

from typing import Any

import pytest
from django.core.management import call_command

from club.errors import Refused
from club.queries import actor_of
from sessions import queries
from sessions.models import Station
from sessions.proposals import actions
from sessions.proposals.pages import SessionShown, proposal_shown
from sessions.proposals.queries.promised import KEPT, stations_kept
from sessions.proposals.wish import WishedPart
from tests.people import World
from tests.sessions.proposing.evening import evening, library, worked_out
from tests.sessions.proposing.test_keepers_apart import hands
from tests.sessions.set_ups import setup_of

pytestmark = pytest.mark.django_db


def shown(world: World, row: Any, session: Any) -> SessionShown:
    found = proposal_shown(row, session, actor_of(world.people.coach)).best
    assert found is not None
    return found


def take(world: World, row: Any, session: Any) -> list[Station]:
    actor = actor_of(world.people.coach)
    actions.apply_proposal(actor=actor, session=session, version=session.version, computation=row)
    rows = Station.objects.filter(part__session=session)
    return list(rows.order_by("part__position", "position"))


@pytest.mark.parametrize("rederived", [False, True])
def test_shown_kept_and_taken_are_the_same(world: World, rederived: bool) -> None:
    library(world)
    hands(world)
    session = evening(world)
    parts = (WishedPart(kind="practice", keepers_apart=True), WishedPart(kind="game"))
    row = worked_out(world, session, parts=parts, players=12, keepers=2, adults=2)
    if rederived:
        call_command("rederive")
    page = shown(world, row, session)
    in_row = [each for part in row.result["session"]["parts"] for each in stations_kept(part)]
    on_page = [each for part in page.parts for each in (part.place, part.keepers_place) if each]
    stations = take(world, row, session)
    assert len(in_row) == len(on_page) == len(stations) == 3
    for kept, place, station in zip(in_row, on_page, stations, strict=True):
        assert (station.setup, station.evening) == (kept[KEPT]["setup"], kept[KEPT]["evening"])
        assert place.set_up == setup_of(station)
        assert place.set_up.numbers == kept["numbers"]
        assert place.set_up.grid_sizes[0] == (kept["length_m"], kept["width_m"])


@pytest.mark.parametrize("broken", ["gone", "older", "unreadable"])
def test_what_another_version_kept_is_said_and_refused(world: World, broken: str) -> None:
    library(world)
    session = evening(world)
    row = worked_out(world, session)
    part = row.result["session"]["parts"][1]
    if broken == "gone":
        del part[KEPT]
    elif broken == "older":
        part[KEPT]["setup"]["schema"] = 0
    else:
        part[KEPT]["evening"] = {"schema": 1, "players": "many"}
    row.save()
    page = shown(world, row, session)
    assert [each.is_lost for each in page.parts] == [False, True, False]
    assert not any(each.is_gone for each in page.parts)
    with pytest.raises(Refused, match=r"another version of this app.*Suggest again"):
        take(world, row, session)
    assert not queries.session_by_id(session.public_id).parts.all()
