"""A proposed session's set-up plan: the same figure that its session shows once it is taken."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any
from uuid import UUID

from club.actor import Actor
from drills import queries as drills
from drills.game.fits import fits
from drills.game.played import as_played, dressed
from sessions.models import TrainingSession
from sessions.planning.laying import SetUpPlan
from sessions.planning.plan import PlannedPart
from sessions.proposals.queries.apart import stations_of
from sessions.proposals.queries.request import kept_reason, kept_rung, stays
from sessions.proposals.wish import Wish
from sessions.queries.adults import adults_of
from sessions.queries.evening import pieces_of
from sessions.queries.laying import Evening, StationToLay, laying_of
from sessions.queries.plan import session_view, to_lay

Facts = Mapping[str, Any]


def with_set_up(
    answer: dict[str, Any], wish: Wish, group: Any, session: TrainingSession | None, actor: Actor
) -> dict[str, Any]:
    """An answer with each session's minutes before the start, and beside its parts where a changeover is too short."""
    every = [each for each in (answer["session"], *answer["alternatives"]) if each]
    if not every:
        return answer
    library = _Library(every, wish, session, actor)
    shown = [_with_plan(each, library.plan(each, _evening(wish, group, session))) for each in every]
    best = [shown.pop(0)] if answer["session"] else []
    return {**answer, "session": best[0] if best else None, "alternatives": shown}


def _with_plan(facts: Facts, plan: SetUpPlan) -> dict[str, Any]:
    said = {each.part: kept_reason(each) for each in plan.reasons}
    parts = [
        {**part, "reasons": [*part["reasons"], *([said[part["number"]]] if part["number"] in said else [])]}
        for part in facts["parts"]
    ]
    return {**facts, "parts": parts, "set_up_minutes": plan.before_minutes}


def _evening(wish: Wish, group: Any, session: TrainingSession | None) -> Evening:
    """Who is there and where: the session's own ground and people, where there is a session, with what the wish says."""
    staff = adults_of(session).number if session else 0
    return Evening(
        pieces=pieces_of(session) if session else wish.evening.ground,
        oldest=wish.ages.under_high if wish.ages else None,
        adults=staff if wish.adults is None else wish.adults,
        players=wish.players,
        youngest_years=group.ages.supervised_years,
    )


class _Library:
    """The drills of some proposed sessions, read at once, and the session's own parts that stay."""

    def __init__(
        self, every: Sequence[Facts], wish: Wish, session: TrainingSession | None, actor: Actor
    ) -> None:
        self.wish = wish
        parts = [part for facts in every for part in facts["parts"]]
        asked = {each["drill"] for part in parts if not stays(part) for each, _ in stations_of(part, wish)}
        current = drills.current_revisions({UUID(each) for each in asked}, actor)
        found = drills.documents(current.values())
        self.documents = {str(key): found[pk].document for key, pk in current.items()}
        self.own: dict[str, list[StationToLay | None]] = {}
        if session is not None and any(map(stays, parts)):
            for each in session_view(session, judged=False, stock={}).parts:
                self.own[kept_rung(str(each.row.public_id))] = to_lay(each.stations)

    def plan(self, facts: Facts, evening: Evening) -> SetUpPlan:
        planned = [
            PlannedPart(
                key=part["number"],
                minutes=part["minutes"],
                cr10=part["effort"],
                changeover_s=60 * part["changeover_minutes"],
            )
            for part in facts["parts"]
        ]
        stations = [
            self.own.get(part["rung"], []) if stays(part) else list(self._stations(part))
            for part in facts["parts"]
        ]
        return laying_of(evening, planned, stations, self.wish.kit or {})

    def _stations(self, part: Facts) -> Iterator[StationToLay | None]:
        """As they are when the proposal is taken: with the set-up that was proposed, else as the drill is written."""
        for each, evening in stations_of(part, self.wish):
            document, rung = self.documents.get(each["drill"]), each["rung"]
            if document is None or (rung and all(one.key != rung for one in document.variations)):
                yield None  # changed or retired meanwhile
                continue
            found = fits(document, rung, evening).find(each["numbers"], each["grids"])
            tonight = as_played(document, rung) if found is None else dressed(document, rung, found, evening)
            yield StationToLay.of(tonight, each["drill"])
