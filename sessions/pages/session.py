"""A session's page: the skyline, and beside each part its plan, its words and what stands against it."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from club.actor import Actor
from club.caches import MIB, remembered
from drills.drawing.checks.reason import Finding as DrawingReason
from drills.drawing.picture import laid
from drills.drawing.svg import DrawingOptions, render
from drills.game.evening import Evening
from drills.game.fit import SetUp
from drills.game.fits import Fits
from drills.game.playable import BIG_GOALS
from drills.game.played import Played, dressed
from drills.game.reasons import Reason as GameReason
from drills.pages.plan import reason_words
from drills.pages.tonight import GridLine, ToldDrill, grid_words, grids_told, told
from drills.queries import counted
from sessions.pages.emergency import Emergency, emergency_of
from sessions.pages.happened import WhatHappened, what_happened
from sessions.pages.laying import LayLine, goals_caution, goals_size, laying_lines
from sessions.pages.mine import MyVersion, my_versions
from sessions.pages.pitch.fitting import picture_of
from sessions.pages.starting import Starting, starting
from sessions.pages.together import shared_words
from sessions.pages.weather import HeatShown, ThunderShown, heat_of, thunder_of
from sessions.pictures.skyline import skyline
from sessions.planning.clock import clock_text
from sessions.queries.evening import starting_evening
from sessions.queries.guides import goes_by_load
from sessions.queries.pitch import taking_part_though_out
from sessions.queries.plan import PartView, SessionView, StationView, session_view
from sessions.queries.reuse import UsedAgain, used_again
from sessions.queries.set_up import stations_to_set_up

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
    def say_this(self) -> tuple[str, ...]:
        return tuple(self.view.document.say_this) if self.view.document else ()


@dataclass(frozen=True)
class PartOnPage:
    view: PartView
    stations: list[StationOnPage]

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
    kit: list[KitLine]
    laying: list[LayLine]
    goals_caution: str
    adults_there: int
    used_again: list[UsedAgain]
    emergency: Emergency
    though_out: int  # recorded as taking part while they were out until lifted
    players: int  # tonight: who is here by the register, else who is expected
    is_set_up: bool | None  # every part for so many, or begun; None where there is nothing to set up
    happened: WhatHappened | None = None  # once it is done
    heat: HeatShown | None = None  # as it was typed at the pitch
    thunder: ThunderShown | None = None  # the clock of the last thunder

    @property
    def row(self) -> TrainingSession:
        return self.view.row

    @property
    def shared_words(self) -> str:
        """Which share of a pitch is this session's, where several use it on purpose; empty for none."""
        return shared_words(self.row)


def session_page(session: TrainingSession, actor: Actor | None = None) -> SessionPage:
    """Work the page out; two queries beyond the session's own, two more where a part is run otherwise than written, and two
    once it is done.
    """
    view = session_view(session)
    with_names = actor is not None and actor.works_with(session.age_group_id)
    mine = my_versions(view, actor) if actor else {}
    players = view.players
    asked = stations_to_set_up(session, players, kit=counted(view.stock))
    return SessionPage(
        view=view,
        parts=[PartOnPage(each, _stations(session, each, mine)) for each in view.parts],
        large=session_skyline(view, "large"),
        phone=session_skyline(view, "phone"),
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
        is_set_up=all(each.holds or each.begun for each in asked) if asked else None,
        happened=what_happened(view, with_names=with_names),
        heat=heat_of(session),
        thunder=thunder_of(session),
    )


def session_skyline(view: SessionView, size: Any) -> SafeString:
    """The skyline against the session's budget; without a budget in AU the minutes alone speak."""
    budget = view.budget.load_au
    drawn = skyline(
        view.plan,
        budget_au=budget,
        k=view.k,
        counts_au=None if view.counts.is_to_come else view.counts.load_au,
        with_au=goes_by_load(view.row.age_group),
        hardest_cr10=view.budget.hardest_cr10,
        size=size,
        name=str(view.row),
        prefix=f"{size[0]}-",
    )
    return mark_safe(drawn)


@dataclass(frozen=True)
class GridShown:
    """A grid as it is drawn; `words` says which where there are several, `alike` how many look the same."""

    picture: SafeString
    words: str = ""


@dataclass(frozen=True)
class StationPlans:
    """A station's plans, one for each grid that differs, and what of the drawing by hand has no place on them."""

    grids: list[GridShown]
    missing: list[str]

    @property
    def picture(self) -> SafeString:
        """The plan of the first grid."""
        return self.grids[0].picture


def _drawn_key(station: StationView, prefix: str, thumbnail: bool, every: bool) -> tuple[Any, ...]:
    """What a picture depends on: the content of an immutable revision, the rung, the set-up and the bibs."""
    revision = station.row.revision
    kept = json.dumps(station.row.setup, sort_keys=True)
    key = station.row.variation_key
    return revision and revision.sha256, key, kept, prefix, thumbnail, every, get_language()


@remembered(most_bytes=6 * MIB, key=_drawn_key)
def _draw(
    station: StationView, prefix: str, thumbnail: bool, every: bool
) -> tuple[tuple[str, ...], tuple[DrawingReason, ...]]:
    """Drawn once and remembered: the same evening is looked at again and again."""
    assert station.tonight is not None
    grids = station.tonight.pictures if every else station.tonight.pictures[:1]
    found = [laid(station.tonight, grid) for grid, _times in grids]
    pictures = (
        render(
            each.scene,
            options=DrawingOptions(
                prefix=f"{prefix}{number or ''}",
                thumbnail=thumbnail,
                legend=not thumbnail,
                hatched="in print",
                translate=_,
            ),
        )
        for number, each in enumerate(found)
    )
    return tuple(pictures), tuple(dict.fromkeys(reason for each in found for reason in each.missing))


def station_drawing(
    station: StationView, prefix: str, *, thumbnail: bool = True, every: bool = False
) -> StationPlans | None:
    """The plans of a station as it is played, small or large: of the first grid, or of `every` grid that differs."""
    if station.tonight is None:
        return None
    pictures, missing = _draw(station, prefix, thumbnail, every)
    words = grid_words(station.tonight)
    grids = [GridShown(mark_safe(svg), text) for svg, text in zip(pictures, words, strict=False)]
    return StationPlans(grids, [reason_words(each) for each in missing])


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
