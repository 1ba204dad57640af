"""A proposed session with its set-ups, and its set-up plan: the same that its session shows once it is taken."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any
from uuid import UUID

from club.actor import Actor
from drills import queries as drills
from sessions.models import TrainingSession
from sessions.planning.laying import SetUpPlan
from sessions.planning.plan import PlannedPart
from sessions.proposals.queries.apart import stations_of
from sessions.proposals.queries.promised import has_rung, promise, promised, stations_kept
from sessions.proposals.queries.request import kept_reason, kept_rung, stays
from sessions.proposals.wish import Wish
from sessions.queries.evening import pieces_of
from sessions.queries.guides import adult_rule_for
from sessions.queries.laying import EveningToLay, StationToLay, laying_of
from sessions.queries.over_all import own_crew
from sessions.queries.plan import session_view
from sessions.queries.station import to_lay

Facts = Mapping[str, Any]


def with_set_up(
    answer: dict[str, Any], wish: Wish, group: Any, session: TrainingSession | None, actor: Actor
) -> dict[str, Any]:
    """An answer with the set-up of each station, whole; with each session's minutes before the start, and beside its parts
    where a changeover is too short.
    """
    every = [each for each in (answer["session"], *answer["alternatives"]) if each]
    if not every:
        return answer
    library = _Library(every, wish, session, actor)
    evening = _evening(wish, group, session)
    whole = [library.with_set_ups(each) for each in every]
    shown = [_with_plan(each, library.plan(each, evening)) for each in whole]
    best = [shown.pop(0)] if answer["session"] else []
    return {**answer, "session": best[0] if best else None, "alternatives": shown}


def _with_plan(facts: Facts, plan: SetUpPlan) -> dict[str, Any]:
    said = {each.part: kept_reason(each) for each in plan.reasons}
    parts = [
        {**part, "reasons": [*part["reasons"], *([said[part["number"]]] if part["number"] in said else [])]}
        for part in facts["parts"]
    ]
    return {**facts, "parts": parts, "set_up_minutes": plan.before_minutes}


def _evening(wish: Wish, group: Any, session: TrainingSession | None) -> EveningToLay:
    """Who is there and where: the session's own ground and people, where there is a session, with what the wish says."""
    staff = own_crew(session) if session else 0
    return EveningToLay(
        pieces=pieces_of(session) if session else wish.evening.ground,
        oldest=wish.ages.under_high if wish.ages else None,
        adults=staff if wish.adults is None else wish.adults,
        players=wish.players,
        youngest_years=group.ages.supervised_years,
        rule=adult_rule_for(group, session.day if session else None),
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
        self.drills = {str(key): found[pk] for key, pk in current.items()}
        self.own: dict[str, list[StationToLay | None]] = {}
        if session is not None and any(map(stays, parts)):
            for each in session_view(session, judged=False, stock={}).parts:
                self.own[kept_rung(str(each.row.public_id))] = to_lay(each.stations)

    def with_set_ups(self, facts: Facts) -> dict[str, Any]:
        """A session's parts, each with its set-ups as they are kept; a part that stays has its own."""
        parts = [part if stays(part) else self._with_set_ups(part) for part in facts["parts"]]
        return {**facts, "parts": parts}

    def _with_set_ups(self, part: Facts) -> dict[str, Any]:
        found = [
            promise(each, self.drills.get(each["drill"]), evening)
            for each, evening in stations_of(part, self.wish)
        ]
        keepers = {"keepers": found[1]} if len(found) > 1 else {}
        return {**found[0], **keepers}

    def plan(self, facts: Facts, evening: EveningToLay) -> SetUpPlan:
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
        for each in stations_kept(part):
            drill, rung = self.drills.get(each["drill"]), each["rung"]
            if drill is None or not has_rung(drill, rung):
                yield None  # changed or retired meanwhile
            else:
                yield StationToLay.of(promised(each, drill).tonight(drill, rung), each["drill"])
