"""Fit on a page and in the API: tonight's numbers in, set-ups with reasons and pictures out."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club import reading
from club.errors import FieldProblem
from drills.drawing.picture import laid
from drills.drawing.svg import DrawingOptions, render
from drills.game.document import DrillDocument
from drills.game.evening import AMPLE, Evening, one_year, typed_ground
from drills.game.fit import SetUp
from drills.game.fits import fits
from drills.game.format import MOST_PLAYERS
from drills.game.played import Played, dressed
from drills.game.space import LONGEST_M
from drills.pages.library import numbers_and_place
from drills.pages.plan import reason_words
from drills.pages.sizes import Area, area_of_answer
from drills.pages.tonight import GridLine, grids_told
from drills.queries.stock import club_stock
from drills.queries.wanted import Reader

OLDEST_UNDER, YOUNGEST_UNDER = 99, 4
MOST_CHANGES = 3  # sentences that lead; the others stand behind a fold


def evening_asked(params: Mapping[str, Any]) -> tuple[Evening | None, list[FieldProblem]]:
    """Tonight as a query string says it, with the club's kit; or what is wrong with it. One query where nothing is."""
    read = Reader(params)
    metres = _("The free space is from {least} to {most} m.")
    players = read.number("players", reading.whole, 1, MOST_PLAYERS, _("From {least} to {most} players."))
    keepers = read.number("keepers", reading.whole, 0, MOST_PLAYERS, _("From {least} to {most} keepers."))
    adults = read.number("adults", reading.whole, 0, 30, _("From {least} to {most} adults."))
    length = read.number("length", reading.number, 1, LONGEST_M, metres)
    width = read.number("width", reading.number, 1, LONGEST_M, metres)
    under = read.number("age", reading.whole, YOUNGEST_UNDER, OLDEST_UNDER, _("From U{least} to U{most}."))
    if not read.text("players"):
        read.wrong("players", _("How many came?"))
    elif players and keepers is not None and keepers > players:
        read.wrong("keepers", _("More keepers than players."))
    if read.problems:
        return None, read.problems
    ages = None if under is None else one_year(under)
    return Evening(players, keepers, adults, ages, typed_ground(length, width), club_stock()), []


def assumed(evening: Evening) -> str:
    """What Fit took for granted because nobody said it, in one sentence; empty where all was said."""
    words = {
        "pieces": _("how much room"),
        "adults": _("how many adults"),
        "kit": _("how much kit"),
    }
    unsaid = [word for name, word in words.items() if name in evening.unsaid]
    if not unsaid:
        return ""
    *first, last = unsaid
    named = _("{first} or {last}").format(first=", ".join(first), last=last) if first else last
    return _("Nobody said {what}: as much as it takes.").format(what=named)


@dataclass(frozen=True)
class FitRow:
    """One answer as a page shows it. `place` is its place among all answers, which addresses name.

    `others` are the plans of grids that differ from the first, each with what stands beside it; `missing` says what of a
    drawing by hand has no place with these numbers.
    """

    place: int
    setup: SetUp
    played: Played
    title: str
    kind: str
    kit: list[tuple[str, int]]
    grids: tuple[GridLine, ...] = ()
    area: Area | None = None
    others: tuple[tuple[SafeString, str], ...] = ()
    missing: tuple[str, ...] = ()

    @property
    def changes(self) -> list[str]:
        """What is other than in the drill as written: the first sentences of the answer's reasons."""
        return [each.said(_) for each in self.setup.reasons][:MOST_CHANGES]

    @property
    def more_changes(self) -> list[str]:
        return [each.said(_) for each in self.setup.reasons][MOST_CHANGES:]

    @property
    def rotation(self) -> str:
        """How players change places."""
        return self.setup.rotation_said(_)


@dataclass(frozen=True)
class TonightShown:
    """What a page shows of Fit's answer: the one that was chosen, the others in a line each, or why there is none."""

    chosen: FitRow | None
    others: list[FitRow]  # unlike the first, best first
    rest: list[FitRow]
    refusals: tuple[str, ...]
    summary: str
    assumed: str

    @property
    def count(self) -> int:
        """How many other ways there are."""
        return len(self.others) + len(self.rest)


_KINDS = {
    "same": gettext_lazy("as written"),
    "grow": gettext_lazy("bigger sides"),
    "shrink": gettext_lazy("smaller sides"),
    "regroup": gettext_lazy("other roles"),
    "split": gettext_lazy("side by side"),
    "wait": gettext_lazy("rolling subs"),
}


def fit_shown(document: DrillDocument, key: str, evening: Evening, place: int = 0) -> TonightShown:
    """The answers in words, answer `place` as it is played. Raises KeyError for an unknown variation or answer."""
    answer = fits(document, key, evening)
    if answer and place >= len(answer):
        raise KeyError(place)
    rows = [_row(dressed(document, key, each, evening), at) for at, each in enumerate(answer)]
    chosen = _with_plans(rows[place]) if rows else None
    unlike = {id(each) for each in answer.first}
    others = [row for row in rows if row.place != place]
    return TonightShown(
        chosen,
        [row for row in others if id(row.setup) in unlike],
        [row for row in others if id(row.setup) not in unlike],
        tuple(each.said(_) for each in answer.refusals),
        _summary(evening),
        assumed(evening),
    )


def _row(tonight: Played, place: int) -> FitRow:
    setup = tonight.setup
    assert setup is not None
    return FitRow(
        place=place,
        setup=setup,
        played=tonight,
        title=numbers_and_place(setup),
        kind=str(_KINDS[setup.kind]),
        kit=sorted(tonight.kit.items()),
        grids=grids_told(tonight),
        area=area_of_answer(tonight.written, str(setup.format), setup.area_per_player_m2),
    )


def _with_plans(row: FitRow) -> FitRow:
    """With the plans of the grids that differ from the first."""
    pictures = row.played.pictures
    found = [laid(row.played, grid) for grid, _times in pictures]
    others = tuple(
        (mark_safe(render(each.scene, options=_options(row.place, number))), line.words)
        for number, (each, line) in enumerate(zip(found, row.grids, strict=True))
        if number
    )
    missing = dict.fromkeys(reason_words(reason) for each in found for reason in each.missing)
    return replace(row, others=others, missing=tuple(missing))


def _options(place: int, number: int) -> DrawingOptions:
    return DrawingOptions(prefix=f"fit{place}-{number}", legend=False, hatched="no", translate=_)


def _summary(evening: Evening) -> str:
    if not evening.pieces:
        return _("{n} players").format(n=evening.players)
    ground = evening.ground[0]
    short, long = sorted((ground.length_m, ground.width_m))
    if long >= AMPLE.length_m:
        return _("{n} players, {metres:g} m one way, as much as it takes the other").format(
            n=evening.players, metres=short
        )
    return _("{n} players on {length:g} × {width:g} m").format(
        n=evening.players, length=ground.length_m, width=ground.width_m
    )
