"""Kit for the second grid: what more to carry, from the value that session page and sheet show."""

import re
from types import SimpleNamespace
from typing import Any

import pytest

from club import queries as club
from drills.game.played import as_played
from sessions.actions import set_up_all
from sessions.pages.laying import things
from sessions.pages.pitch.tonight import more_kit, tonight_of
from sessions.queries import session_by_id
from sessions.queries.plan import session_view
from tests.factories import BibStockFactory
from tests.sessions.pitch.evening import Evening, put_drills

DRILLS = ("who-is-behind-you", "bite-back", "coast-to-coast", "wide-open")


def numbers(text: str) -> list[int]:
    return [int(each) for each in re.findall(r"(\d+) more (?!grids)", text)]


def test_one_grid_and_its_second_are_what_is_carried(evening: Evening) -> None:
    """As many pieces as one grid as written takes, and those that are named, are what the page says in all."""
    put_drills(evening, *DRILLS)
    BibStockFactory.create_batch(4)
    actor = club.actor_of(evening.people.coach)
    told = []
    for players in (12, 20, 24):
        set_up_all(actor=actor, session=evening.read(), version=None, players=players)
        view: Any = session_view(session_by_id(evening.session.public_id))
        for part in view.parts:
            shown, station = tonight_of(part.first), part.first
            assert shown.kit == (things(station.kit) if station.setup else "")
            one = as_played(station.tonight.base, station.tonight.rung).kit
            if station.tonight.setup is None or len(station.tonight.grids) == 1:
                assert shown.more == ""
                continue
            more = {kind: n - one.get(kind, 0) for kind, n in station.kit.items() if n > one.get(kind, 0)}
            assert numbers(shown.more) == list(more.values())
            assert all(view.kit[kind] >= n for kind, n in station.kit.items())
            told.append(shown.more)
    assert any(each.startswith("Second grid: ") for each in told)


@pytest.mark.parametrize(
    ("grids", "kit", "said"),
    [
        (1, {"balls": 6}, ""),
        (2, {"balls": 6}, "Second grid: 4 more balls"),
        (2, {"balls": 2}, "Second grid: nothing more to carry."),
        (3, {"balls": 6}, "2 more grids: 4 more balls"),
        (3, {"balls": 2}, ""),
    ],
)
def test_what_more_to_carry_is_said_by_the_grids_there_are(
    grids: int, kit: dict[str, int], said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        "sessions.pages.pitch.tonight.as_played", lambda base, rung: SimpleNamespace(kit={"balls": 2})
    )
    run: Any = SimpleNamespace(setup=object(), grids=(None,) * grids, base=None, rung="", kit=kit)
    assert more_kit(run) == said
