"""A session's page: plan and section, and beside each part its plan, its words and what stands against it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club.actor import Actor
from drills.game.evening import Evening
from drills.game.fit import SetUp
from drills.game.fits import Fits
from drills.game.playable import BIG_GOALS
from drills.game.played import Played, dressed
from drills.game.reasons import Reason as GameReason
from drills.pages.library import felt_words
from drills.pages.tonight import GridLine, ToldDrill, grids_told, told
from sessions.pages.emergency import Emergency, emergency_of
from sessions.pages.happened import WhatHappened, what_happened
from sessions.pages.laying import LayLine, goals_caution, goals_size, laying_lines
from sessions.pages.pitch.fitting import picture_of
from sessions.pages.pitch.helping import HelpersNumber, helpers_number
from sessions.pages.stations.mine import MyVersion, my_versions
from sessions.pages.stations.plans import GridShown, station_drawing
from sessions.pages.stations.starting import Starting, starting
from sessions.pages.together import shared_words
from sessions.pages.weather import HeatShown, ThunderShown, heat_of, thunder_of
from sessions.pictures.section import plan_and_section
from sessions.planning.clock import clock_text
from sessions.queries.evening import starting_evening
from sessions.queries.guides import goes_by_load
from sessions.queries.pitch import taking_part_though_out
from sessions.queries.plan import PartView, SessionView, session_view
from sessions.queries.recorded.felt import felt_lately
from sessions.queries.recorded.from_last_time import FromLastTime, from_last_time
from sessions.queries.recorded.to_record import is_over
from sessions.queries.reuse import UsedAgain, used_again
from sessions.queries.station import StationView

if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class KitLine:
    """One kind of kit: what the bag must hold, and what the club has."""

    kind: str
    needed: int
    there: int | None
    size: str = ""  # of goals of a match

    @property
    def short(self) -> int:
        return max(0, self.needed - (self.there or 0))


@dataclass(frozen=True)
class TurnOnGrid:
    """Who is where on one grid in one bout, by bib."""

    grid: int
    inside: Sequence[str]
    outside: Sequence[str]
    resting: Sequence[str]


@dataclass(frozen=True)
class SessionBoutLine:
    """A bout with its clock times and, where teams go round, who is where."""

    number: int
    clock: str
    grids: Sequence[TurnOnGrid]


@dataclass(frozen=True)
class StationOnPage:
    """A station with its plans and words; `bouts` tells who is where when a set-up has been accepted."""

    view: StationView
    plans: list[GridShown]
    grids: tuple[GridLine, ...]
    told: ToldDrill | None
    bouts: list[SessionBoutLine]
    rungs: list[tuple[str, str]]
    missing: list[str]  # what of the drawing by hand has no place with tonight's numbers
    starts: Starting
    mine: MyVersion | None = None  # where it is run otherwise than the drill says

    @property
    def goes_round(self) -> bool:
        """Whether whole teams change places from bout to bout."""
        return any(each.grids for each in self.bouts)

    @property
    def changes(self) -> list[str]:
        """What is other than in the drill as written."""
        return [each.said(_) for each in self.view.setup.changes] if self.view.setup else []

    @property
    def cautions(self) -> list[str]:
        """What whoever runs it as set up has to watch."""
        return [each.said(_) for each in self.view.setup.cautions] if self.view.setup else []

    @property
    def say_this(self) -> tuple[str, ...]:
        return tuple(self.view.document.say_this) if self.view.document else ()


@dataclass(frozen=True)
class PartOnPage:
    view: PartView
    stations: list[StationOnPage]
    felt: list[str]  # how hard the last sessions with its drills were found

    @property
    def clock(self) -> str:
        return f"{clock_text(self.view.times.starts_at)}–{clock_text(self.view.times.ends_at)}"


@dataclass(frozen=True)
class SessionPage:
    """Everything on the page."""

    view: SessionView
    parts: list[PartOnPage]
    large: SafeString
    phone: SafeString
    load: str
    kit: list[KitLine]
    laying: list[LayLine]
    goals_caution: str
    adults_there: int
    used_again: list[UsedAgain]
    emergency: Emergency
    though_out: int  # recorded as taking part while they were out until lifted
    players: int  # tonight: who is here by the register, else who is expected
    is_set_up: bool | None  # every part for so many, or begun; None where there is nothing to set up
    helper: HelpersNumber | None = None  # as long as it opens something
    happened: WhatHappened | None = None  # once it is done
    heat: HeatShown | None = None  # as it was typed at the pitch
    thunder: ThunderShown | None = None  # the clock of the last thunder
    last_time: FromLastTime | None = None  # what the team's session before left for it
    is_over: bool = False  # its time has passed

    @property
    def row(self) -> TrainingSession:
        return self.view.row

    @property
    def shared_words(self) -> str:
        """Which share of a pitch is this session's, where several use it on purpose; empty for none."""
        return shared_words(self.row)


def session_page(session: TrainingSession, actor: Actor | None = None) -> SessionPage:
    """Work the page out; three queries beyond the session's own, two more where a part is run otherwise than written, and two
    once it is done.
    """
    view = session_view(session)
    with_names = actor is not None and actor.works_with(session.age_group_id)
    mine = my_versions(view, actor) if actor else {}
    players = view.players
    felt = felt_lately(_drills_of(view.parts))
    asked = [each.to_set_up for part in view.parts for each in part.stations if each.to_set_up]
    return SessionPage(
        view=view,
        parts=[PartOnPage(each, _stations(session, each, mine), _felt(each, felt)) for each in view.parts],
        large=session_section(view, "large"),
        phone=session_section(view, "phone"),
        load=load_words(view),
        kit=[
            KitLine(kind, count, view.stock.get(kind), goals_size(view) if kind == BIG_GOALS else "")
            for kind, count in view.kit.items()
        ],
        laying=laying_lines(view),
        goals_caution=goals_caution(view),
        adults_there=view.adults_there,
        used_again=used_again(view.row),
        emergency=emergency_of(session),
        though_out=len(taking_part_though_out(session)),
        players=players,
        helper=helpers_number(view.row),
        is_set_up=all(each.is_settled for each in asked) if asked else None,
        happened=what_happened(view, with_names=with_names),
        heat=heat_of(session),
        thunder=thunder_of(session),
        last_time=from_last_time(session),
        is_over=is_over(session, timezone.now()),
    )


def _drills_of(parts: Iterable[PartView]) -> dict[int, str]:
    """Titles by inner ids."""
    stations = (each for part in parts for each in part.stations)
    return {
        each.row.revision.drill_id: each.drill.title for each in stations if each.drill and each.row.revision
    }


def _felt(part: PartView, felt: Mapping[int, Sequence[float]]) -> list[str]:
    """A line for each drill of a part; with its title where there are several."""
    drills = _drills_of([part])
    said = {title: felt_words(felt.get(pk, ())) for pk, title in drills.items()}
    return [f"“{title}”: {words}" if len(drills) > 1 else words for title, words in said.items() if words]


def session_section(view: SessionView, size: Any) -> SafeString:
    """The plans of the parts on the tape, the section below it against the session's budget."""
    firsts = [next(iter(each.stations), None) for each in view.parts]
    plans = [
        station_drawing(first, f"tape{number}-") if first else None
        for number, first in enumerate(firsts, start=1)
    ]
    drawn = plan_and_section(
        view.plan,
        plans=[str(each.picture) if each else "" for each in plans],
        links=[f"#part-{each.number}" for each in view.parts],
        budget_au=view.budget.load_au,
        k=view.k,
        hardest_cr10=view.budget.hardest_cr10,
        size=size,
        name=str(view.row),
        prefix=f"{size[0]}-",
        translate=_,
        plural=ngettext,
    )
    return mark_safe(drawn)


def load_words(view: SessionView) -> str:
    """Load against the session's budget, for the details of its page; empty for the youngest."""
    if not goes_by_load(view.row.age_group):
        return ""
    counted, most = view.counts.load_au, view.budget.load_au
    if counted is None or most is None:
        return ""
    over = counted - most
    words = _("{load} of {most} AU, {n} over") if over > 0 else _("{load} of {most} AU, {n} to spare")
    return words.format(load=f"{counted:.0f}", most=f"{most:.0f}", n=f"{abs(over):.0f}")


def _stations(
    session: TrainingSession, part: PartView, mine: Mapping[UUID, MyVersion]
) -> list[StationOnPage]:
    return [_on_page(session, part, each, index, mine) for index, each in enumerate(part.stations)]


def _on_page(
    session: TrainingSession,
    part: PartView,
    station: StationView,
    index: int,
    mine: Mapping[UUID, MyVersion],
) -> StationOnPage:
    drawing = station_drawing(station, f"p{part.number}-{index}-", every=True)
    return StationOnPage(
        view=station,
        plans=drawing.grids if drawing else [],
        grids=grids_told(station.tonight) if station.tonight else (),
        told=told(station.tonight) if station.tonight else None,
        bouts=_bouts(part, station),
        rungs=rungs_of(station),
        missing=drawing.missing if drawing else [],
        starts=starting(starting_evening(session, station.row)),
        mine=mine.get(station.row.public_id),
    )


def rungs_of(station: StationView) -> list[tuple[str, str]]:
    """Key and title of each rung of the pinned revision, as written first."""
    if station.drill is None:
        return []
    document = station.drill.document
    return [("", document.title), *((each.key, each.title) for each in document.variations)]


def _bouts(part: PartView, station: StationView) -> list[SessionBoutLine]:
    clocks = {each.number: each for each in part.times.spells if each.kind == "bout"}
    grids = station.teams if station.setup else ()
    lines = []
    for number, spell in clocks.items():
        here = [
            TurnOnGrid(grid.grid, bout.inside, bout.outside, bout.resting)
            for grid in grids
            for bout in (grid.rotation.bouts if grid.rotation else ())
            if bout.number == number
        ]
        clock = f"{clock_text(spell.starts_at)}–{clock_text(spell.ends_at)}"
        lines.append(SessionBoutLine(number, clock, here))
    return lines


@dataclass(frozen=True)
class FitOnPage:
    """One answer with its picture."""

    setup: SetUp
    tonight: Played
    picture: SafeString
    reasons: tuple[GameReason, ...]

    @property
    def kit(self) -> list[tuple[str, int]]:
        return sorted(self.tonight.kit.items())

    @property
    def grids(self) -> tuple[GridLine, ...]:
        return grids_told(self.tonight)


def fits_on_page(station: StationView, found: Fits, evening: Evening) -> tuple[list[FitOnPage], list[SetUp]]:
    """The first answers, different in kind, with pictures; and the rest without."""
    if station.drill is None:
        return [], []
    shown = []
    for index, each in enumerate(found.first):
        tonight = dressed(station.drill.document, station.row.variation_key, each, evening)
        picture = picture_of(station.drill, station.row.variation_key, each, evening, f"f{index}-")
        shown.append(FitOnPage(each, tonight, picture, each.reasons))
    first = {id(each) for each in found.first}
    return shown, [each for each in found if id(each) not in first]
