"""Fit on a page and in the API: tonight's numbers in, set-ups with reasons and pictures out."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club import queries as club
from club import reading
from club.errors import FieldProblem
from drills.drawing.picture import laid
from drills.drawing.svg import Options, render
from drills.game.design import Design
from drills.game.document import DrillDocument
from drills.game.fit import SetUp, Weights, explain_none, first_answers, fit
from drills.game.format import MOST_PLAYERS
from drills.game.playable import design_of
from drills.game.reasons import Reason
from drills.pages.library import enough_adults, numbers_and_place
from drills.pages.plan import reason_words
from drills.queries.stock import club_stock
from drills.queries.wanted import LONGEST_M, Reader

AMPLE_M = float(LONGEST_M)


@dataclass(frozen=True)
class FitRequest:
    """Tonight: players (keepers among them), adults, and the free space in metres; None: not said."""

    players: int
    keepers: int | None = None
    adults: int | None = None
    length: float | None = None
    width: float | None = None
    age: int | None = None  # "under so many years"


@dataclass(frozen=True)
class FitAnswer:
    """At most three first answers that differ in kind, the rest behind them, or why there is none."""

    request: FitRequest
    first: list[SetUp] = field(default_factory=list)
    rest: list[SetUp] = field(default_factory=list)
    refusals: tuple[Reason, ...] = ()

    @property
    def every(self) -> list[SetUp]:
        """All answers, nearest to the design first."""
        return sorted([*self.first, *self.rest], key=lambda each: each.distance)


def fit_request(params: Mapping[str, Any]) -> tuple[FitRequest | None, list[FieldProblem]]:
    """Tonight's numbers from a query string, and what is wrong with them."""
    read = Reader(params)
    metres = _("The free space is from {least} to {most} m.")
    found = FitRequest(
        players=read.number("players", reading.whole, 1, MOST_PLAYERS, _("From {least} to {most} players."))
        or 0,
        keepers=read.number("keepers", reading.whole, 0, MOST_PLAYERS, _("From {least} to {most} keepers.")),
        adults=read.number("adults", reading.whole, 0, 30, _("From {least} to {most} adults.")),
        length=read.number("length", reading.number, 1, LONGEST_M, metres),
        width=read.number("width", reading.number, 1, LONGEST_M, metres),
        age=read.number("age", reading.whole, 4, 99, _("From U{least} to U{most}.")),
    )
    if not read.text("players"):
        read.wrong("players", _("How many came?"))
    elif found.players and found.keepers is not None and found.keepers > found.players:
        read.wrong("keepers", _("More keepers than players."))
    return (None if read.problems else found), read.problems


def fit_answer(document: DrillDocument, key: str, request: FitRequest) -> FitAnswer:
    """The set-ups for tonight. Raises KeyError for an unknown variation."""
    design = design_of(document, key)
    asked = tonight(design, request, club_stock())
    answers = fit(design, **asked, weights=club_weights())
    if not answers:
        return FitAnswer(request, refusals=explain_none(design, **asked))
    first = first_answers(answers)
    return FitAnswer(request, first, [each for each in answers if each not in first])


def tonight(design: Design, request: FitRequest, stock: Mapping[str, int] | None = None) -> dict[str, Any]:
    """What Fit is asked; as many adults as the drill needs, and ample space, where nothing is said."""
    return {
        "players": request.players,
        "keepers": request.keepers,
        "adults": enough_adults(design) if request.adults is None else request.adults,
        "length_m": AMPLE_M if request.length is None else request.length,
        "width_m": AMPLE_M if request.width is None else request.width,
        "age": request.age,
        "kit": stock,
    }


def club_weights() -> Weights:
    """The club's own weights of the distance; names that are not known, and odd values, count for nothing."""
    weights = Weights()
    own = club.club_settings().fit_weights
    known = {
        name: found
        for name, value in (own or {}).items()
        if hasattr(weights, name)
        and not isinstance(value, str)
        and (found := reading.number(value, 0)) is not None
    }
    return replace(weights, **known)


@dataclass(frozen=True)
class FitRow:
    """One answer as a page shows it. `place` is its place among all answers, which the drawing's address names.

    `missing` says what of a drawing by hand has no place with these numbers.
    """

    place: int
    setup: SetUp
    title: str
    kind: str
    picture: SafeString | None
    kit: list[tuple[str, int]]
    missing: tuple[str, ...] = ()


@dataclass(frozen=True)
class FitShown:
    """What the page shows of an answer."""

    first: list[FitRow]
    rest: list[FitRow]
    refusals: tuple[Reason, ...]
    summary: str


_KINDS = {
    "same": gettext_lazy("as written"),
    "grow": gettext_lazy("more players in"),
    "shrink": gettext_lazy("fewer players in"),
    "regroup": gettext_lazy("other roles"),
    "split": gettext_lazy("side by side"),
    "wait": gettext_lazy("some wait in turn"),
}


def fit_shown(document: DrillDocument, key: str, request: FitRequest) -> FitShown:
    """The answers in words; the first three with their plans."""
    answer = fit_answer(document, key, request)
    places = {id(each): place for place, each in enumerate(answer.every)}
    first = [_drawn_row(document, key, each, places[id(each)]) for each in answer.first]
    rest = [_row(each, places[id(each)]) for each in answer.rest]
    return FitShown(first, rest, answer.refusals, _summary(request))


def _row(setup: SetUp, place: int, picture: SafeString | None = None) -> FitRow:
    return FitRow(
        place, setup, numbers_and_place(setup), str(_KINDS[setup.kind]), picture, sorted(setup.kit.items())
    )


def _summary(request: FitRequest) -> str:
    if request.length is None or request.width is None:
        return _("{n} players, as much space as it takes").format(n=request.players)
    return _("{n} players on {length:g} × {width:g} m").format(
        n=request.players, length=request.length, width=request.width
    )


def _drawn_row(document: DrillDocument, key: str, setup: SetUp, place: int) -> FitRow:
    """With the plan of the first grid with tonight's numbers."""
    found = laid(document, key, setup=setup)
    options = Options(prefix=f"fit{place}-", legend=False, hatched="no", translate=_)
    picture = mark_safe(render(found.scene, options=options))
    return replace(_row(setup, place, picture), missing=tuple(reason_words(each) for each in found.missing))
