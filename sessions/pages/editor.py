"""What the editor of parts needs: the drills that rows name, drills to pick from, minutes and load as they stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club import queries as club
from club.actor import Actor
from drills import queries as drills
from drills.game.document import DrillDocument
from drills.game.playable import design_of
from drills.game.played import as_played
from drills.game.variations import played
from drills.queries import DrillSearch, Pick
from sessions import bridge
from sessions.pictures.section import plan_and_section
from sessions.planning import load
from sessions.planning.account import account
from sessions.planning.budget import SessionBudget
from sessions.planning.clock import timetable
from sessions.planning.inplay import InPlay, in_play_of
from sessions.planning.plan import PlannedPart
from sessions.planning.reasons import PlanningReason
from sessions.queries.counted import factor_at_hand
from sessions.queries.evening import ages_of, evening_of
from sessions.queries.guides import budget_of
from sessions.queries.laying import StationToLay, evening_to_lay, laying_of
from sessions.queries.over_all import over_all
from sessions.queries.plan import judged_reasons
from sessions.queries.set_up import players_tonight
from sessions.queries.squad_context import squad_context_of
from sessions.queries.station import StationView, in_play_as_written, station_view, to_lay

if TYPE_CHECKING:
    from sessions.models import TrainingSession

MOST_PICKS = 10
MOST_LOOKED_AT = 60  # of these the ones with the session's theme go first


@dataclass(frozen=True)
class DrillInEditor:
    """A drill that a row names: the pinned revision where the session has one, else the current one."""

    title: str
    document: DrillDocument
    rungs: list[tuple[str, str]]
    drill: str  # its outer id


def drills_in_editor(
    actor: Actor, session: TrainingSession, wanted: Iterable[UUID]
) -> dict[UUID, DrillInEditor]:
    """Drills by id; no query for those that the session plays already, two for others."""
    found: dict[UUID, DrillInEditor] = {}
    for part in session.parts.all():
        for station in part.stations.all():
            if station.revision is not None:
                drill = drills.station_drill(station.revision)
                found[drill.drill_public_id] = _in_editor(drill.drill_public_id, drill.document)
    missing = {each for each in wanted if each not in found}
    if missing:
        current = drills.current_revisions(missing, actor)
        documents = drills.documents(current.values())
        found |= {key: _in_editor(key, documents[pk].document) for key, pk in current.items()}
    return found


def _in_editor(drill: UUID, document: DrillDocument) -> DrillInEditor:
    rungs = [("", document.title), *((each.key, each.title) for each in document.variations)]
    return DrillInEditor(document.title, document, rungs, str(drill))


def saved_beside(session: TrainingSession) -> dict[str, list[str]]:
    """What the further stations of each saved part play, by the part's outer id. No query."""
    return {
        str(part.public_id): [
            drills.station_drill(each.revision).title if each.revision else each.place
            for each in list(part.stations.all())[1:]
        ]
        for part in session.parts.all()
    }


def work_of(document: DrillDocument, key: str) -> Any:
    """Minutes, bouts, rest and effort of a rung, as the drill is usually run."""
    return played(document, key).work


def of_other_ages(actor: Actor, session: TrainingSession) -> int:
    """How many drills the picks leave out because they are for other ages. One query."""
    group = session.age_group
    return drills.count_of_other_ages(actor, ages=group.ages.unders)


def picks(
    actor: Actor, session: TrainingSession, *, q: str, activity: str, tonight: bool, any_age: bool = False
) -> list[Pick]:
    """Drills of the library for this session; its theme first; with `tonight` only what runs in its space."""
    more: dict[str, Any] = {"q": q[:200], "activity": activity}
    if tonight:
        wanted = DrillSearch.on(evening_of(session, kit={}), **more)
    else:
        wanted = DrillSearch(**more, ages=ages_of(session.age_group))
    wanted = replace(wanted, age_group=session.age_group.label)
    if any_age:
        wanted = replace(wanted, age_group="", ages=None)
    found = drills.pickable(actor, wanted, most=MOST_LOOKED_AT)
    theme = session.theme.key if session.theme else ""
    return sorted(found, key=lambda each: theme not in each.theme_keys)[:MOST_PICKS]


@dataclass(frozen=True)
class EditorRow:
    """A row of the editor as the computations take it."""

    planned: PlannedPart
    in_play: InPlay | None = None
    to_lay: tuple[StationToLay | None, ...] = ()


@dataclass(frozen=True)
class RowNeeds:
    """What a row's stations need: kit, headers per player, how many are in play, and what is laid for them."""

    kit: tuple[Mapping[str, int], ...] = ()
    headers: int = 0
    in_play: InPlay | None = None
    to_lay: tuple[StationToLay | None, ...] = ()


def needs_of(
    session: TrainingSession,
    saved_id: str,
    drill: DrillInEditor | None,
    key: str,
    beside: Sequence[tuple[DrillInEditor, str]] = (),
) -> RowNeeds:
    """What a row needs as it is typed: its first station plays `drill` on a rung, further ones are as they are saved, and
    `beside` come at the same time.

    A station that stays as it is saved keeps tonight's set-up. No query.
    """
    saved = next((each for each in session.parts.all() if str(each.public_id) == saved_id), None)
    views = [station_view(session, each) for each in saved.stations.all()] if saved else []
    here = max(1, players_tonight(session) // (max(1, len(views)) + len(beside)))
    new = [_as_typed(each, rung, here) for each, rung in beside]
    first, further = (views[0] if views else None), views[1:]
    if drill is None or (first is not None and _stays(first, drill, key)):
        return _together([*map(_as_saved, views), *new])
    return _together([_as_typed(drill, key, here), *map(_as_saved, further), *new])


def _stays(first: StationView, drill: DrillInEditor, key: str) -> bool:
    played_now = first.drill is not None and first.drill.document == drill.document
    return played_now and first.row.variation_key == key


@dataclass(frozen=True)
class _StationNeeds:
    """What one station needs; `share` is how many of its players are in play, and whether it is set up for them."""

    kit: Mapping[str, int]
    headers: int
    share: tuple[float | None, bool]
    to_lay: StationToLay | None


def _as_typed(drill: DrillInEditor, key: str, players: int) -> _StationNeeds:
    tonight, design = as_played(drill.document, key), design_of(drill.document, key)
    share = (in_play_as_written(design, players), False)
    laid = StationToLay.of(tonight, drill.drill)
    return _StationNeeds(tonight.kit, tonight.document.headers_planned, share, laid)


def _as_saved(view: StationView) -> _StationNeeds:
    return _StationNeeds(view.kit, view.headers, (view.in_play, view.setup is not None), to_lay([view])[0])


def _together(stations: Sequence[_StationNeeds]) -> RowNeeds:
    return RowNeeds(
        kit=tuple(each.kit for each in stations),
        headers=max((each.headers for each in stations), default=0),
        in_play=in_play_of([each.share for each in stations]),
        to_lay=tuple(each.to_lay for each in stations),
    )


@dataclass(frozen=True)
class Tally:
    """What the rows come to as they stand. `reasons` by row number, and those that belong to none under -1."""

    used: float
    minutes: int
    changeovers: float
    clearing: float
    expected_au: float
    budget: SessionBudget
    headers: int
    adults_there: int
    adults_needed: int
    reasons: Mapping[int, list[PlanningReason]]
    in_play: Mapping[int, InPlay | None]
    picture: SafeString

    @property
    def spare(self) -> float:
        return self.minutes - self.used

    @property
    def over(self) -> float:
        return self.used - self.minutes

    @property
    def is_over_load(self) -> bool:
        return self.budget.load_au is not None and self.expected_au > self.budget.load_au + 1e-9


def tally(session: TrainingSession, rows: list[EditorRow]) -> Tally:
    """The rows judged by what the session's page goes by. Two queries, and two more where heading is planned."""
    settings = club.club_settings()
    parts = [each.planned for each in rows]
    plan = bridge.plan_of(session, parts, zone=settings.time_zone, clear_minutes=settings.clear_minutes)
    budget = budget_of(session.age_group, club.guidelines_for(session.age_group, session.day))
    k, stock, around = factor_at_hand(session), club.kit_stock(), squad_context_of(session, plan)
    evening, all_in = evening_to_lay(session), over_all(session)
    laying = laying_of(evening, plan.parts, [each.to_lay for each in rows], stock)
    times = timetable(plan, set_up_minutes=laying.before_minutes, free_from=around.free_from)
    reasons = judged_reasons(session, plan, budget, times, k=k, stock=stock, around=around, laying=laying)
    drawn = plan_and_section(
        plan,
        budget_au=budget.load_au,
        k=k,
        hardest_cr10=budget.hardest_cr10,
        size="phone",
        translate=_,
        plural=ngettext,
    )
    return Tally(
        used=plan.used_minutes,
        minutes=bridge.minutes_of(session),
        changeovers=plan.changeover_minutes,
        clearing=plan.clear_minutes,
        expected_au=load.expected(account(plan).load_au, k),
        budget=budget,
        headers=sum(each.headers_per_player for each in parts),
        adults_there=all_in.adults,
        adults_needed=all_in.needed,
        reasons=_by_row(reasons),
        in_play={int(each.planned.key): each.in_play for each in rows},
        picture=mark_safe(drawn),
    )


def _by_row(reasons: Iterable[PlanningReason]) -> dict[int, list[PlanningReason]]:
    """Keys of parts are their row's number."""
    found: dict[int, list[PlanningReason]] = {}
    for each in reasons:
        found.setdefault(-1 if each.part is None else int(each.part), []).append(each)
    return found
