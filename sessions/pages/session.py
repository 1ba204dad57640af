"""A session's page: the skyline, and beside each part its plan, its words and what stands against it."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.utils.safestring import SafeString, mark_safe

from club.caches import MIB, remembered
from drills.drawing.checks.reason import Reason as DrawingReason
from drills.drawing.picture import laid, scene_of
from drills.drawing.svg import Options, render
from drills.game.document import DrillDocument
from drills.game.fit import SetUp
from drills.game.fits import Fits
from drills.game.format import Format
from drills.game.reasons import Reason as GameReason
from drills.pages.plan import reason_words
from sessions.pages.laying import LayLine, goals_caution, laying_lines
from sessions.pages.starting import Starting, starting
from sessions.pictures.skyline import skyline
from sessions.planning.clock import clock_text
from sessions.planning.supervision import SOURCE as SUPERVISION_SOURCE
from sessions.queries.evening import starting_evening
from sessions.queries.plan import PartView, SessionView, StationView, session_view

if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class KitLine:
    """One kind of kit: what the bag must hold, and what the club has."""

    kind: str
    needed: int
    there: int | None

    @property
    def short(self) -> int:
        return max(0, self.needed - (self.there or 0))


@dataclass(frozen=True)
class BoutLine:
    """A bout with its clock times and, where teams go round, who is where."""

    number: int
    clock: str
    grids: Sequence[Mapping[str, Any]]


@dataclass(frozen=True)
class StationOnPage:
    """A station with its picture; `bouts` tells who is where when a set-up has been accepted."""

    view: StationView
    picture: SafeString | None
    bouts: list[BoutLine]
    rungs: list[tuple[str, str]]
    missing: list[str]  # what of the drawing by hand has no place with tonight's numbers
    starts: Starting

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
    adults_source: str = SUPERVISION_SOURCE

    @property
    def row(self) -> TrainingSession:
        return self.view.row


def session_page(session: TrainingSession) -> SessionPage:
    """Work the page out; two queries beyond the session's own."""
    view = session_view(session)
    return SessionPage(
        view=view,
        parts=[PartOnPage(each, _stations(session, each)) for each in view.parts],
        large=session_skyline(view, "large"),
        phone=session_skyline(view, "phone"),
        kit=[KitLine(kind, count, view.stock.get(kind)) for kind, count in view.kit.items()],
        laying=laying_lines(view),
        goals_caution=goals_caution(view),
        adults_there=len(view.staff),
    )


def session_skyline(view: SessionView, size: Any) -> SafeString:
    """The skyline against the session's budget; without a budget in AU the minutes alone speak."""
    budget = view.budget.load_au
    drawn = skyline(
        view.plan,
        budget_au=budget,
        k=view.k,
        hardest_cr10=view.budget.hardest_cr10,
        size=size,
        name=str(view.row),
        prefix=f"{size[0]}-",
    )
    return mark_safe(drawn)


@dataclass(frozen=True)
class KeptSetup:
    """What a picture needs of a set-up that was accepted; see `actions.setup_as_kept`."""

    format: Format
    length_m: float
    width_m: float
    waiting: int
    grids: int


def kept_setup(setup: Mapping[str, Any] | None) -> KeptSetup | None:
    if not setup:
        return None
    return KeptSetup(
        Format.parse(setup["format"]), setup["length_m"], setup["width_m"], setup["waiting"], setup["grids"]
    )


def bibs_of(setup: Mapping[str, Any] | None) -> dict[str, str]:
    """The colours of the first grid's sides as the picture names them: A, B … inside, and the neutrals."""
    teams = setup["teams"][0]["teams"] if setup and setup["teams"] else []
    inside = [each["bib"] for each in teams if each["place"] == "inside"]
    outside = [each["bib"] for each in teams if each["place"] == "outside"]
    return {**dict(zip("ABCD", inside, strict=False)), **({"neutral": outside[0]} if outside else {})}


def _drawn_key(
    sha256: str, document: DrillDocument, key: str, setup: Any, prefix: str, thumbnail: bool
) -> tuple[Any, ...]:
    """What a picture depends on: the content of an immutable revision, the rung and the set-up."""
    return sha256, key, json.dumps(setup, sort_keys=True), prefix, thumbnail


@remembered(most_bytes=6 * MIB, key=_drawn_key)
def _draw(
    sha256: str, document: DrillDocument, key: str, setup: Any, prefix: str, thumbnail: bool
) -> tuple[str, tuple[DrawingReason, ...]]:
    """Drawn once and remembered: the same evening is looked at again and again."""
    found = laid(document, key, setup=kept_setup(setup), bibs=bibs_of(setup))
    options = Options(prefix=prefix, thumbnail=thumbnail, legend=not thumbnail, hatched="in print")
    return render(found.scene, options=options), found.missing


@dataclass(frozen=True)
class Drawing:
    """A station's plan, and in words what of the drawing by hand has no place on it."""

    picture: SafeString
    missing: list[str]


def station_drawing(station: StationView, prefix: str, *, thumbnail: bool = True) -> Drawing | None:
    """The plan of a station as it is played: tonight's numbers where a set-up was accepted."""
    if station.drill is None:
        return None
    svg, missing = _draw(
        station.row.revision.sha256,
        station.drill.document,
        station.row.variation_key,
        station.setup,
        prefix,
        thumbnail,
    )
    return Drawing(mark_safe(svg), [reason_words(each) for each in missing])


def _stations(session: TrainingSession, part: PartView) -> list[StationOnPage]:
    return [_on_page(session, part, each, index) for index, each in enumerate(part.stations)]


def _on_page(session: TrainingSession, part: PartView, station: StationView, index: int) -> StationOnPage:
    drawing = station_drawing(station, f"p{part.number}-{index}-")
    return StationOnPage(
        view=station,
        picture=drawing.picture if drawing else None,
        bouts=_bouts(part, station),
        rungs=rungs_of(station),
        missing=drawing.missing if drawing else [],
        starts=starting(starting_evening(session, station.row)),
    )


def rungs_of(station: StationView) -> list[tuple[str, str]]:
    """Key and title of each rung of the pinned revision, as written first."""
    if station.drill is None:
        return []
    document = station.drill.document
    return [("", document.title), *((each.key, each.title) for each in document.variations)]


def _bouts(part: PartView, station: StationView) -> list[BoutLine]:
    clocks = {each.number: each for each in part.times.spells if each.kind == "bout"}
    grids = (station.setup or {}).get("teams", [])
    lines = []
    for number, spell in clocks.items():
        here = [
            {"grid": grid["grid"], **bout}
            for grid in grids
            for bout in grid["bouts"]
            if bout["number"] == number
        ]
        clock = f"{clock_text(spell.starts_at)}–{clock_text(spell.ends_at)}"
        lines.append(BoutLine(number, clock, here))
    return lines


@dataclass(frozen=True)
class FitOnPage:
    """One answer with its picture."""

    setup: SetUp
    picture: SafeString
    reasons: tuple[GameReason, ...]

    @property
    def kit(self) -> list[tuple[str, int]]:
        return sorted(self.setup.kit.items())


def fits_on_page(station: StationView, found: Fits) -> tuple[list[FitOnPage], list[SetUp]]:
    """The first answers, different in kind, with pictures; and the rest without."""
    if station.drill is None:
        return [], []
    shown = []
    for index, each in enumerate(found.first):
        scene = scene_of(station.drill.document, station.row.variation_key, setup=each)
        options = Options(prefix=f"f{index}-", legend=False, hatched="no")
        shown.append(FitOnPage(each, mark_safe(render(scene, options=options)), each.reasons))
    first = {id(each) for each in found.first}
    return shown, [each for each in found if id(each) not in first]
