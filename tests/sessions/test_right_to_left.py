"""Names that run from right to left: each keeps its own number, on the page and on paper."""

from dataclasses import replace
from typing import Any

import pytest

from club.queries import actor_of
from sessions import actions
from sessions.pages import turns_page, turns_sheet
from sessions.queries.turns import session_with_turns
from sessions.sheet.turns import TurnsSheet, turns_png
from tests.factories import player_in
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in

NAMES = {"אבי כהן": 71, "דנה": 72, "ليلى": 73}


def rotated(world: World) -> tuple[Any, Any]:
    """A session whose turns were worked out for the three and five others; with its station's page of turns."""
    for name, shirt in NAMES.items():
        player_in(squad=world.own.squad, display_name=name, shirt=shirt)
    for number in range(4):
        player_in(squad=world.own.squad, shirt=80 + number)
    bare: dict[str, Any] = {key: [] for key in ("goals", "groups", "conditions", "variations", "phases")}
    drill = shared_drill(owner=world.people.coach, **bare, format="4v4", queue=None)
    planned = planned_session(
        place=world.own, by=world.people.coach, parts=[part_input(drill=drill, bouts=2)]
    )
    coach, row = actor_of(world.people.coach), session_with_turns(planned.public_id)
    assert row is not None
    found = actions.station_in_part(row, planned.parts.all()[0].stations.all()[0].public_id)
    assert found is not None
    actions.rotate_station(actor=coach, session=row, part=found[0], station=found[1])
    again = session_with_turns(planned.public_id)
    assert again is not None
    return found[1], turns_page(coach, again, *found)


@pytest.mark.django_db
def test_on_paper_each_name_keeps_its_number(world: World) -> None:
    _station, page = rotated(world)
    sheet = turns_sheet(page)
    told = " ".join(hand.names for bout in sheet.bouts for hand in bout.hands)
    for name, shirt in NAMES.items():
        assert f"\u2068{name.replace(' ', chr(0xA0))}\u2069\u00a0({shirt})" in told
    # The same line, with the direction of the whole said by marks instead: what is drawn is the same. Without either
    # the line is turned round, numbers and all.
    drawn = turns_png(sheet, ppi=60)
    assert drawn == turns_png(_with(sheet, before="\u200e", after="\u200e"), ppi=60)
    assert drawn != turns_png(_with(sheet, before="", after=""), ppi=60)


def _with(sheet: TurnsSheet, *, before: str, after: str) -> TurnsSheet:
    """The sheet with other means than isolates around its names."""

    def other(names: str) -> str:
        return before + names.replace("\u2068", "").replace("\u2069", after)

    bouts = tuple(
        replace(bout, hands=tuple(replace(hand, names=other(hand.names)) for hand in bout.hands))
        for bout in sheet.bouts
    )
    return replace(sheet, bouts=bouts)


# A row's head on the page, and where its name and its number are drawn, in pixels from the left.
HEAD = '<th scope="row"><bdi>{}</bdi> <span class="second">{}</span></th>'
PLACES = "[...document.querySelectorAll('bdi, span')].map((each) => each.getBoundingClientRect().left)"


@pytest.mark.django_db
def test_on_the_page_each_name_stands_apart(world: World) -> None:
    station, _turns = rotated(world)
    address = f"/sessions/{station.row.part.session.public_id}/stations/{station.row.public_id}/turns/"
    coach = signed_in(world.people.coach)
    turns = coach.get(address).content.decode()
    squad = coach.get(f"/squads/{world.own.squad.public_id}/").content.decode()
    for name, shirt in NAMES.items():
        assert HEAD.format(name, shirt) in turns
        assert f"<bdi>{name}</bdi>" in squad


def test_what_stands_apart_keeps_its_number_in_a_browser(page: Any) -> None:
    for name, shirt in NAMES.items():
        page.set_content(f"<table><tr>{HEAD.format(name, shirt)}</tr></table>")
        left_of_name, left_of_number = page.evaluate(PLACES)
        assert left_of_name < left_of_number, name
        page.set_content(f"<table><tr>{HEAD.format(name, shirt).replace('bdi', 'span')}</tr></table>")
        left_of_name, left_of_number = page.evaluate(PLACES)
        assert left_of_name > left_of_number, "without that, they change places"
