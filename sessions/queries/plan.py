"""A session as its pages and the API show it: parts on the clock, load, kit, people, and what stands against it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from club import queries as club
from drills import queries as drills
from sessions import bridge
from sessions.choices import STILL_TO_COME, StaffPart, State
from sessions.models import Part, TrainingSession
from sessions.planning import load
from sessions.planning.account import account
from sessions.planning.budget import People, SessionBudget, session_reasons
from sessions.planning.clock import PartTimes, Timetable, timetable
from sessions.planning.headers import planned_headers
from sessions.planning.inplay import InPlay, in_play_of
from sessions.planning.kit import Shortage, shortages, to_carry
from sessions.planning.laying import SetUpPlan
from sessions.planning.plan import PlannedPart, SessionPlan
from sessions.planning.reasons import PlanningReason
from sessions.planning.supervision import AdultRule
from sessions.queries.adults import Adults, adults_of, uncounted_reasons
from sessions.queries.counted import Counted, counted, factor_at_hand
from sessions.queries.daylight import in_the_dark
from sessions.queries.guides import budget_of
from sessions.queries.kit_and_headers import kit_and_headers_of
from sessions.queries.laying import EveningToLay, evening_to_lay, laying_of
from sessions.queries.over_all import OverAll, over_all
from sessions.queries.rows import expected_of, place_words, staff_rows_of
from sessions.queries.set_up import looked_after_tonight, players_tonight
from sessions.queries.sight import sight_of
from sessions.queries.squad_context import SquadContext, squad_context_of
from sessions.queries.station import StationView, station_view, to_lay
from sessions.queries.together import Companion, companions


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


def kit_to_carry(session: TrainingSession) -> dict[str, int]:
    """What the bag must hold, of a session whose parts were brought along as played (`rows.bring_parts`). No query."""
    return to_carry(
        [
            bridge.part_of(row, title="", kit=[kit_and_headers_of(each).kit for each in row.played_rows])  # type: ignore[attr-defined]
            for row in session.parts.all()
        ]
    )


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
