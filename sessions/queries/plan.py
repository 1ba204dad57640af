"""A session as its pages and the API show it: parts on the clock, load, kit, people, and what stands against it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any
from uuid import UUID

from club import queries as club
from drills import queries as drills
from drills.game.bibs import Wear
from drills.game.design import Design
from drills.game.document import DrillDocument
from drills.game.evening import Evening, PlayerAges
from drills.game.fit import SetUp
from drills.game.playable import design_of
from drills.game.played import Played, as_played
from drills.game.reasons import Reason as GameReason
from drills.game.variations import find
from drills.queries import StationDrill
from sessions import bridge
from sessions.choices import STILL_TO_COME, StaffPart, State
from sessions.models import Part, Station, TrainingSession
from sessions.planning import load
from sessions.planning.account import account
from sessions.planning.budget import People, SessionBudget, session_reasons
from sessions.planning.clock import PartTimes, Timetable, timetable
from sessions.planning.headers import planned_headers
from sessions.planning.inplay import InPlay, in_play_of, playing_share
from sessions.planning.kit import Shortage, shortages, to_carry
from sessions.planning.laying import SetUpPlan
from sessions.planning.plan import PlannedPart, SessionPlan
from sessions.planning.reasons import PlanningReason
from sessions.planning.supervision import AdultRule
from sessions.planning.teams import GridTeams, teams_tonight
from sessions.queries.adults import Adults, adults_of, uncounted_reasons
from sessions.queries.counted import Counted, counted, factor_at_hand
from sessions.queries.daylight import in_the_dark
from sessions.queries.evening import ages_of, share_of
from sessions.queries.guides import budget_of
from sessions.queries.laying import EveningToLay as EveningToLay
from sessions.queries.laying import StationToLay, evening_to_lay, laying_of
from sessions.queries.over_all import OverAll, over_all
from sessions.queries.rows import expected_of, place_words, staff_rows_of
from sessions.queries.set_up import looked_after_tonight, players_tonight, set_up_for, station_to_set_up
from sessions.queries.sight import sight_of
from sessions.queries.squad_context import SquadContext, squad_context_of
from sessions.queries.together import Companion, companions


@dataclass(frozen=True)
class StationView:
    """A station with its drill as it is played tonight: `tonight` is what every page, sheet and answer reads of it."""

    row: Station
    drill: StationDrill | None
    setup: SetUp | None
    bibs: tuple[Wear, ...]
    stale: tuple[GameReason, ...] = ()  # why its set-up is not one for tonight any more
    in_play: float | None = None
    setup_for: int = 0  # players that the stations of its part are set up for together
    evening: Evening | None = None  # what its set-up answers
    lost: str = ""  # why its set-up can't be read here: it is as if there were none
    ages: PlayerAges | None = None  # of the session's age group, with its format

    @property
    def setup_is_stale(self) -> bool:
        return bool(self.stale)

    @cached_property
    def tonight(self) -> Played | None:
        """The drill as it is run; None where there is none."""
        if self.drill is None:
            return None
        return as_played(
            self.drill.document, self.row.variation_key, self.setup, self.bibs, players=self.ages
        )

    @property
    def document(self) -> DrillDocument | None:
        """The drill in tonight's numbers and colours."""
        return self.tonight.document if self.tonight else None

    @property
    def kit(self) -> Mapping[str, int]:
        return self.tonight.kit if self.tonight else {}

    @property
    def variation_title(self) -> str:
        variation = find(self.drill.document, self.row.variation_key) if self.drill else None
        return variation.title if variation else ""

    @property
    def teams(self) -> tuple[GridTeams, ...]:
        """The teams of each grid and how whole ones go round, for the rounds of its part; none without a drill."""
        return teams_tonight(self.tonight, self.row.part.bouts) if self.tonight else ()

    @property
    def headers(self) -> int:
        """Headers per player that are planned at it."""
        return self.document.headers_planned if self.document else 0

    @property
    def title(self) -> str:
        return self.drill.title if self.drill else self.row.place


@dataclass(frozen=True)
class PartView:
    """A part with its clock times, load in AU, and the reasons that stand beside it."""

    row: Part
    number: int
    title: str
    times: PartTimes
    load_au: float
    stations: list[StationView]
    reasons: list[PlanningReason]

    @property
    def in_play(self) -> InPlay | None:
        """Share of the players in play; None where no drill says."""
        return in_play_of((each.in_play, each.setup is not None) for each in self.stations)

    @property
    def first(self) -> StationView | None:
        return self.stations[0] if self.stations else None


@dataclass(frozen=True)
class SessionView:
    """Everything a session's pages show. `reasons` are those that belong to no single part."""

    row: TrainingSession
    parts: list[PartView]
    plan: SessionPlan
    timetable: Timetable
    planned_au: float
    expected_au: float
    counts: Counted  # what the week, the lists and the ledger read of it
    k: float
    budget: SessionBudget
    reasons: list[PlanningReason]
    kit: Mapping[str, int]
    stock: Mapping[str, int]
    shortages: list[Shortage]
    players: int  # here by the register, else expected
    looked_after: int  # those, and whoever watches
    adults: Adults
    over_all: OverAll  # with all that it is together with
    laying: SetUpPlan
    guidelines: list[Any] = field(default_factory=list)

    @property
    def set_up_minutes(self) -> int:
        """Minutes before the start at which laying begins."""
        return self.laying.before_minutes

    @property
    def adults_needed(self) -> int:
        """Over all that it is together with, as are those who are there."""
        return self.over_all.needed

    @property
    def adults_there(self) -> int:
        return self.over_all.adults

    @property
    def adult_rule(self) -> AdultRule | None:
        return self.over_all.rule

    @property
    def together(self) -> list[Companion]:
        """The sessions that it was put together with."""
        return companions(self.row)

    @property
    def expected(self) -> int:
        """Who is expected, without who is out until lifted."""
        return expected_of(self.row)

    @property
    def headers(self) -> int:
        """Headers of one player that the session plans."""
        return planned_headers(self.plan)

    @property
    def all_reasons(self) -> list[PlanningReason]:
        return [*self.reasons, *(each for part in self.parts for each in part.reasons)]

    @property
    def staff(self) -> list[dict[str, Any]]:
        """Who is down for it, the leader first: id, pk, name, part."""
        return staff_rows_of(self.row)

    @property
    def lead(self) -> str:
        return next((each["name"] for each in self.staff if each["part"] == StaffPart.LEADS), "")

    @property
    def place(self) -> str:
        return place_words(self.row)


def session_view(
    session: TrainingSession,
    *,
    k: float | None = None,
    judged: bool = True,
    stock: Mapping[str, int] | None = None,
) -> SessionView:
    """Work a session out from rows that are at hand; k is the squad's own where not given.

    Not `judged` asks for no guidelines: its reasons and shortages say nothing then. `stock` is the club's kit where the
    caller has it at hand; an empty one is for whoever shows nothing of the set-up plan, which counts with it.
    """
    settings = club.club_settings()
    rows = list(session.parts.all())
    stock = club.kit_stock() if stock is None else stock
    kit = drills.counted(stock)
    views = {part.pk: [station_view(session, each, kit=kit) for each in part.stations.all()] for part in rows}
    parts = [_planned(row, views[row.pk]) for row in rows]
    plan = bridge.plan_of(session, parts, zone=settings.time_zone, clear_minutes=settings.clear_minutes)
    guidelines = club.guidelines_for(session.age_group, session.day) if judged else []
    factor = factor_at_hand(session) if k is None else k
    around = squad_context_of(session, plan) if judged and session.state in STILL_TO_COME else SquadContext()
    evening = evening_to_lay(session)
    laying = laying_of(evening, plan.parts, [to_lay(views[row.pk]) for row in rows], stock)
    counted = stock if judged else {}
    return _worked_out(session, plan, rows, views, guidelines, counted, factor, around, laying, evening)


def to_lay(stations: Iterable[StationView]) -> list[StationToLay | None]:
    """The stations as the lay-out and the set-up plan take them; None for one without a drill."""
    return [
        StationToLay.of(each.tonight, str(each.drill.drill_public_id))
        if each.tonight and each.drill
        else None
        for each in stations
    ]


def station_of(session: TrainingSession, public_id: UUID | str) -> StationView | None:
    """One station of a session whose rows are at hand. No query."""
    every = [each for part in session.parts.all() for each in part.stations.all()]
    found = next((each for each in every if str(each.public_id) == str(public_id)), None)
    return station_view(session, found) if found else None


def planned_parts(session: TrainingSession) -> list[PlannedPart]:
    """The parts with the kit of their stations, for whoever needs no more than that."""
    return [
        _planned(row, [station_view(session, each) for each in row.stations.all()])
        for row in session.parts.all()
    ]


def _worked_out(
    session: TrainingSession,
    plan: SessionPlan,
    rows: list[Part],
    views: dict[int, list[StationView]],
    guidelines: list[Any],
    stock: Mapping[str, int],
    k: float,
    around: SquadContext,
    laying: SetUpPlan,
    evening: EveningToLay,
) -> SessionView:
    budget = budget_of(session.age_group, guidelines)
    times = timetable(plan, set_up_minutes=laying.before_minutes, free_from=around.free_from)
    sight = sight_of(session, plan.parts, [views[row.pk] for row in rows])
    reasons = judged_reasons(
        session, plan, budget, times, k=k, stock=stock, around=around, laying=laying, sight=sight
    )
    costs = account(plan)
    return SessionView(
        row=session,
        parts=[
            PartView(
                row=row,
                number=index + 1,
                title=plan.parts[index].title,
                times=times.parts[index],
                load_au=costs.parts[index].load_au,
                stations=views[row.pk],
                reasons=[each for each in reasons if each.part == str(row.public_id)],
            )
            for index, row in enumerate(rows)
        ],
        plan=plan,
        timetable=times,
        planned_au=costs.load_au,
        expected_au=load.expected(costs.load_au, k),
        counts=counted(session, k=k),
        k=k,
        budget=budget,
        reasons=[each for each in reasons if each.part is None],
        kit=to_carry(plan.parts, laying.most),
        stock=stock,
        shortages=list(shortages(plan.parts, stock)),
        players=players_tonight(session),
        looked_after=looked_after_tonight(session),
        adults=adults_of(session),
        over_all=over_all(session),
        laying=laying,
        guidelines=guidelines,
    )


def judged_reasons(
    session: TrainingSession,
    plan: SessionPlan,
    budget: SessionBudget,
    times: Timetable,
    *,
    k: float,
    stock: Mapping[str, int],
    around: SquadContext,
    laying: SetUpPlan,
    sight: Iterable[PlanningReason] = (),
) -> list[PlanningReason]:
    """Everything that stands against a plan of this session, saved or as it is typed; nothing where it is off. No query."""
    if session.state == State.CANCELLED:
        return []
    all_in = over_all(session)
    people = People(players=all_in.players, rule=all_in.rule, adults=all_in.adults)
    found = session_reasons(
        plan, budget, k=k, people=people, stock=stock, elsewhere=around.kit, heading=around.heading
    )
    late = _too_late_to_set_up(plan, times)
    return [*found, *uncounted_reasons(session), *sight, *laying.reasons, *late, *in_the_dark(session)]


def station_view(
    session: TrainingSession, row: Station, *, kit: Mapping[str, int] | None = None
) -> StationView:
    """A station as it is played tonight, from rows that are at hand. No query.

    `kit` is the club's, as Fit counts it; whoever shows nothing of what is stale may leave it out.
    """
    if row.revision is None:
        return StationView(row, None, None, ())
    drill = drills.station_drill(row.revision)
    kept = bridge.kept_at(row)
    setup = kept.setup.setup if kept.setup else None
    evening = kept.evening
    tonight = players_tonight(session)
    here = evening.players if setup and evening else share_of(tonight, row)
    setup_for = set_up_for(row.part) or tonight
    design = design_of(drill.document, row.variation_key)
    return StationView(
        row=row,
        drill=drill,
        setup=setup,
        bibs=kept.setup.bibs if kept.setup else (),
        stale=station_to_set_up(session, row, tonight, kit=kit or {}).stale,
        setup_for=setup_for,
        evening=evening,
        lost=kept.lost,
        ages=ages_of(session.age_group),
        in_play=(here - setup.waiting) / here if setup else in_play_as_written(design, here),
    )


def in_play_as_written(design: Design, players: int) -> float | None:
    """Share of so many players in play where a drill is played as it is written."""
    return playing_share(
        players,
        design.format.players,
        planned_waiting=design.planned_waiting,
        anyone_can_join=design.anyone_can_join,
    )


def _planned(row: Part, stations: list[StationView]) -> PlannedPart:
    titles = [each.title for each in stations if each.title]
    return bridge.part_of(
        row,
        title=row.title or " + ".join(titles) or row.get_kind_display(),
        kit=[each.kit for each in stations],
        headers=max((each.headers for each in stations), default=0),
    )


def _too_late_to_set_up(plan: SessionPlan, times: Timetable) -> list[PlanningReason]:
    """Beside the first part: it is what has to stand before the start."""
    first = plan.parts[0].key if plan.parts else None
    return [replace(each, part=first) for each in times.reasons if each.code == "set_up_too_short"]
