"""A rotation as it is kept, with players by their outer ids, and back."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any
from uuid import UUID

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import OuterRef, Value
from django.db.models.functions import JSONObject

from sessions.models import Register, TrainingSession, Turns
from sessions.planning.rotation import InBib, PeopleBout, PeopleRotation
from sessions.queries.rows import session_by_id

MOST_PAIRS = 6
FOUR_WEEKS = timedelta(days=28)
_REGISTER = JSONObject(
    player="player__public_id", state="state", limits="limits", came_at="came_at", left_at="left_at"
)
_TURNS = JSONObject(
    station="station_id",
    session="session_id",
    state="session__state",
    bouts="bouts",
    facts="facts",
    version="version",
)


def session_with_turns(public_id: UUID | str) -> TrainingSession | None:
    """A session with its register and what was worked out over four weeks, for the page of turns. Three queries."""
    register = Register.objects.filter(session=OuterRef("pk")).order_by("pk")
    turns = Turns.objects.filter(
        session__squad=OuterRef("squad"),
        session__day__gt=OuterRef("day") - Value(FOUR_WEEKS),
        session__day__lte=OuterRef("day"),
    ).order_by("pk")
    return session_by_id(
        public_id,
        register_rows=ArraySubquery(register.values(row=_REGISTER)),
        turns_rows=ArraySubquery(turns.values(row=_TURNS)),
    )


def kept_turns(session: Any, station_id: Any) -> Mapping[str, Any] | None:
    """What was worked out for a station of a session that was read with its turns: `bouts` and `facts`. No query."""
    wanted = str(station_id)
    return next((each for each in session.turns_rows if str(each["station"]) == wanted), None)


@dataclass(frozen=True)
class PairWish:
    """Two players by their outer ids who wear one bib whenever both play, or who never do."""

    first: str
    second: str
    together: bool


def kept_pairs(kept: Mapping[str, Any] | None) -> list[PairWish]:
    """The pairs that a rotation was worked out with."""
    return [PairWish(*each) for each in kept["facts"].get("pairs", [])] if kept else []


def as_data(
    found: PeopleRotation, *, keepers: list[str], pairs: Sequence[PairWish] = ()
) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """Bouts and facts as plain data."""
    bouts = [
        {
            "number": bout.number,
            "teams": [
                {"bib": each.bib, "place": each.place, "players": list(each.names)} for each in bout.teams
            ],
            "waiting": list(bout.waiting),
            "away": list(bout.away),
            "loans": [list(each) for each in bout.loans],
        }
        for bout in found.bouts
    ]
    facts = {
        "bout_min": found.bout_min,
        "whole_teams": found.whole_teams,
        "spread_min": found.spread_min,
        "bound_min": found.bound_min,
        "proven": found.proven,
        "changes": found.changes,
        "cycle": found.cycle,
        "players": list(found.names),
        "keepers": keepers,
    }
    if pairs:
        facts["pairs"] = [[each.first, each.second, each.together] for each in pairs]
    return bouts, facts


def as_rotation(bouts: list[Mapping[str, Any]], facts: Mapping[str, Any]) -> PeopleRotation:
    """What was kept, as it was worked out; its reasons are worked out anew where they are shown."""
    return PeopleRotation(
        bouts=tuple(
            PeopleBout(
                number=each["number"],
                teams=tuple(
                    InBib(team["bib"], team["place"], tuple(team["players"])) for team in each["teams"]
                ),
                waiting=tuple(each["waiting"]),
                away=tuple(each["away"]),
                loans=tuple((loan[0], loan[1], loan[2]) for loan in each["loans"]),
            )
            for each in bouts
        ),
        bout_min=facts["bout_min"],
        whole_teams=facts["whole_teams"],
        spread_min=facts["spread_min"],
        bound_min=facts["bound_min"],
        proven=facts["proven"],
        changes=facts["changes"],
        cycle=facts["cycle"],
        names=tuple(facts["players"]),
    )
