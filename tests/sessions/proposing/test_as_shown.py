"""What a proposal's page shows is what is in the session once it is taken: numbers, picture, minutes, rounds."""

from dataclasses import replace
from typing import Any

import pytest

from club.errors import Refused
from club.queries import actor_of
from drills import actions as drills
from drills.queries import club_stock
from sessions import queries
from sessions.pages.pitch.fitting import picture_of
from sessions.pages.pitch.tonight import headline
from sessions.proposals import actions
from sessions.proposals.pages import ProposalShown, proposal_shown
from tests.drills.samples import WHOLE
from tests.people import World
from tests.sessions.proposing.evening import DRILLS, PLAIN, evening, library, worked_out
from tests.sessions.proposing.test_keepers_apart import hands

pytestmark = pytest.mark.django_db


def shown(world: World, row: Any, session: Any) -> ProposalShown:
    return proposal_shown(row, session, actor_of(world.people.coach))


def taken(world: World, row: Any, session: Any, which: int = 0) -> Any:
    actor = actor_of(world.people.coach)
    actions.apply_proposal(
        actor=actor, session=session, version=session.version, computation=row, which=which
    )
    return queries.session_view(queries.session_by_id(session.public_id), judged=False)


def test_page_and_session_agree_part_by_part(world: World) -> None:
    library(world)
    session = evening(world)
    row = worked_out(world, session)
    page = shown(world, row, session).best
    assert page is not None
    assert len(page.parts) == 3
    view = taken(world, row, session)
    for promised, kept in zip(page.parts, view.parts, strict=True):
        station = kept.first
        assert promised.place.title == headline(station.setup).split(",")[0]
        number = promised.facts["number"]
        key, tonight = station.row.variation_key, replace(station.evening, kit=club_stock())
        drawn = picture_of(station.drill, key, station.setup, tonight, f"q{number}-")
        assert promised.picture == drawn
        assert promised.facts["minutes"] == kept.row.minutes
        assert promised.facts["rounds"] == {
            "bouts": kept.row.bouts,
            "bout_s": kept.row.bout_s,
            "rest_s": kept.row.rest_s,
        }
        runs = next(each for each in promised.reasons if each.code == "part_runs")
        values = dict(runs.values)
        setup = station.setup
        assert (values["format"], values["length_m"], values["width_m"]) == (
            setup.numbers,
            setup.length_m,
            setup.width_m,
        )
    assert view.plan.used_minutes == page.facts["minutes"]


def test_another_suggestion_and_keepers_apart_agree_too(world: World) -> None:
    from sessions.proposals.wish import WishedPart

    library(world)
    hands(world)
    session = evening(world)
    parts = (WishedPart(kind="practice", keepers_apart=True), WishedPart(kind="game"))
    row = worked_out(world, session, parts=parts, players=12, keepers=2, adults=2)
    page = shown(world, row, session).best
    assert page is not None
    view = taken(world, row, session)
    first = page.parts[0]
    both = [headline(each.setup) for each in view.parts[0].stations]
    assert [first.place.title, first.keepers_place.title] == both


def test_a_drill_that_was_changed_meanwhile_is_said_so_and_not_taken_otherwise(world: World) -> None:
    made = library(world)
    session = evening(world)
    row = worked_out(world, session)
    assert not any(part.is_gone for part in shown(world, row, session).best.parts)
    drill = made["Lamp Keepers"]
    changed = {**WHOLE, **PLAIN, "title": "Lamp Keepers", **DRILLS["Lamp Keepers"], "format": "9v9"}
    drills.revise_drill(
        actor=actor_of(world.people.coach), public_id=drill.public_id, version=drill.version, document=changed
    )
    assert [part.is_gone for part in shown(world, row, session).best.parts] == [False, True, False]
    with pytest.raises(Refused, match=r"Lamp Keepers.*doesn't work as 2 × 4v1 any more"):
        taken(world, row, session)
    assert not queries.session_by_id(session.public_id).parts.all()
