"""A small library, quick to derive, and an evening for it: ten players, seventy-five minutes, one zone."""

from typing import Any

from club.queries import actor_of
from sessions.models import Computation
from sessions.proposals import actions
from sessions.proposals.queries import wish_for
from sessions.proposals.wish import Wish
from tests.factories import ThemeFactory, ZoneFactory
from tests.factories_sessions import planned_session, shared_drill
from tests.people import World

PLAIN: dict[str, Any] = {
    "format": "4v1",
    "groups": [],
    "conditions": [],
    "variations": [],
    "phases": [],
    "kit": [],
}
SMALLER = {"type": "set_grid", "length_m": 8, "width_m": 8}
HARDER = [{"key": "two", "title": "Less room", "rung": "harder", "effort": 5.5, "changes": [SMALLER]}]
DRILLS: dict[str, dict[str, Any]] = {
    "Hello Square": {"activity": "arrival", "work": {"minutes": 10, "effort": 3.0}, "themes": []},
    "Chain Tag": {"activity": "warm-up", "work": {"minutes": 12, "effort": 3.5}, "themes": []},
    "Lamp Keepers": {"activity": "possession", "work": {"minutes": 18, "effort": 5.0}},
    "Lamp Thieves": {"activity": "possession", "work": {"minutes": 15, "effort": 5.5}, "themes": ["press"]},
    "Harbour Run": {
        "activity": "match",
        "format": "5v5",
        "work": {"minutes": 20, "effort": 6.0},
        "themes": ["press"],
    },
}


def library(world: World) -> dict[str, Any]:
    """Five drills by title: to arrive with, to practise, to play."""
    return {
        title: shared_drill(owner=world.people.coach, **{**PLAIN, "title": title, **facts})
        for title, facts in DRILLS.items()
    }


def evening(world: World, **changes: Any) -> Any:
    """A session today that expects ten players, on a zone, about keeping the ball, with nothing in it."""
    theme = ThemeFactory(key="keep-the-ball", title="Keep the ball")
    given = {"place": world.own, "by": world.people.coach, "players_expected": 10, "zones": [ZoneFactory()]}
    return planned_session(**{**given, "theme_id": theme.pk, **changes})


def asked(
    world: World, session: Any, *, by: Any = None, instead: bool = False, **changes: Any
) -> Computation:
    """A proposal for a session, asked for by its coach unless said."""
    actor, wish = actor_of(by or world.people.coach), wished(session, **changes)
    return actions.ask_for_proposal(actor=actor, wish=wish, session=session, instead=instead)


def wished(session: Any, **changes: Any) -> Wish:
    import msgspec

    return msgspec.structs.replace(wish_for(session), **changes)


def worked_out(world: World, session: Any, **changes: Any) -> Computation:
    """Asked for and worked out here and now, without a worker."""
    row = asked(world, session, **changes)
    assert actions.work_out_proposal(public_id=str(row.public_id)) == "done"
    row.refresh_from_db()
    return row


def titles(row: Computation) -> list[str]:
    return [part["title"] for part in row.result["session"]["parts"]]


def clash_of(row: Computation) -> set[str]:
    assert row.result["session"] is None
    assert row.result["proven"]
    return set(row.result["clash"])


def set_up(world: World, session: Any, **given: Any) -> Any:
    """The session with all its parts set up for whom it expects, read anew."""
    from sessions import queries
    from sessions.actions import set_up_all

    set_up_all(actor=actor_of(world.people.coach), session=session, version=session.version, **given)
    return queries.session_by_id(session.public_id)
