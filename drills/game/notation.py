"""Reading and writing the coaches' notation of `drills.game.format`, which says what it means, and one side of a game."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal, Protocol

from drills.game.wording.rendering import SaidError
from drills.game.wording.shapes import Sentence

MOST_PLAYERS = 60
MOST_SIDES = 4


class UnclearFormat(SaidError):
    """The text cannot be read as a format; its sentence says what is unclear, in a coach's words."""


@dataclass(frozen=True, slots=True)
class Side:
    """One side (a bib colour): outfield players inside, its own players outside, and its keepers (counts).

    Raises ValueError naming the field.
    """

    inside: int
    outside: int = 0
    keeper: int = 0

    def __post_init__(self) -> None:
        for name in ("inside", "outside", "keeper"):
            if getattr(self, name) < 0:
                raise ValueError(f"{name}: cannot be less than 0")

    @property
    def outfield(self) -> int:
        """Everyone of this side but its keepers."""
        return self.inside + self.outside

    @property
    def players(self) -> int:
        """Everyone of this side: inside, outside and in goal."""
        return self.inside + self.outside + self.keeper


LONGEST_TEXT = 60


class Notated(Protocol):
    """What the notation says, and all that it says."""

    @property
    def sides(self) -> tuple[Side, ...]:
        """In the order written; the first has the ball."""

    @property
    def neutrals_inside(self) -> int:
        """How many neutrals play in the grid."""

    @property
    def neutrals_outside(self) -> int:
        """How many neutrals stand outside the grid."""


@dataclass(frozen=True, slots=True)
class NumbersRead:
    """What was read."""

    sides: tuple[Side, ...]
    neutrals_inside: int
    neutrals_outside: int


# --- writing -----------------------------------------------------------------------------------------------


def _outfield_text(side: Side) -> str:
    return f"{side.inside}(+{side.outside})" if side.outside else str(side.inside)


def _keeper_is_clear(sides: tuple[Side, ...]) -> bool:
    """Whether a `+GK` at the end can only mean the last side's keeper."""
    first = sides[0]
    alike = len({side.outfield for side in sides}) == 1
    return bool(first.keeper) or len(sides) == 1 or not alike


def _side_texts(sides: tuple[Side, ...]) -> Iterable[str]:
    """Keepers of the first and the last side are written outermost, any other in brackets with its side."""
    last = len(sides) - 1
    for number, side in enumerate(sides):
        text = _outfield_text(side)
        if side.keeper and number == 0:
            yield f"GK+{text}"
        elif side.keeper and (number < last or not _keeper_is_clear(sides)):
            yield f"({text}+GK)"
        elif side.keeper:
            yield f"{text}+GK"
        else:
            yield text


def _group_text(side: Side) -> str:
    keepers = {0: "", 1: "GK"}.get(side.keeper, f"{side.keeper}GK")
    if not side.outfield:
        return keepers
    return "+".join(part for part in (_outfield_text(side), keepers) if part)


def write(fmt: Notated) -> str:
    """The numbers in the coaches' notation, as `read` reads them: `5v5+2`, `GK+6v6+GK`."""
    text = _group_text(fmt.sides[0]) if len(fmt.sides) == 1 else "v".join(_side_texts(fmt.sides))
    if fmt.neutrals_inside:
        text += f"+{fmt.neutrals_inside}in"
    if fmt.neutrals_outside:
        text += f"+{fmt.neutrals_outside}"
    return text


# --- reading -----------------------------------------------------------------------------------------------

_KEEPERS = re.compile(r"([0-9]*+)(?:gk|keepers?)")
_SIDE = re.compile(r"([0-9]++)(?:\(\+([0-9]++)\))?")
_NEUTRALS = re.compile(r"([0-9]++)(?:(in|out)(?:side)?)?")
_VERSUS = re.compile(r"v(?:ersu)?s?\.?")


def _tidy(text: str) -> str:
    tidy = re.sub(r"\s++", "", text).casefold().replace("×", "v").replace("x", "v")
    return _VERSUS.sub("v", tidy)


def _split(text: str, mark: str) -> list[str]:
    """Split at a mark, but not inside brackets."""
    parts, depth = [""], 0
    for letter in text:
        depth += (letter == "(") - (letter == ")")
        if letter == mark and depth == 0:
            parts.append("")
        else:
            parts[-1] += letter
    return parts


# What is counted, by the end of its key.
Counted = Literal["side", "outside", "keepers", "neutrals_inside", "neutrals_outside"]


def _count(digits: str, what: Counted) -> int:
    # Long digit strings are refused before they become numbers, so that a slip of the thumb costs nothing.
    if len(digits) > 3 or int(digits) > MOST_PLAYERS:
        said = Sentence(f"count_of_{what}")
        raise UnclearFormat(
            Sentence("count_too_large", {"what": said, "digits": digits[:6], "most": MOST_PLAYERS})
        )
    return int(digits)


def _some(digits: str, what: Counted) -> int:
    number = _count(digits, what)
    if number == 0:
        raise UnclearFormat(Sentence("count_nobody", {"what": Sentence(f"count_of_{what}")}))
    return number


def _keepers_in(term: str) -> int | None:
    match = _KEEPERS.fullmatch(term)
    if match is None:
        return None
    return _some(match[1], "keepers") if match[1] else 1


@dataclass
class _Half:
    """One stretch of text between two v's, taken apart."""

    side: Side
    keepers_before: int = 0
    keepers_after: int = 0
    neutrals_inside: int = 0
    neutrals_outside: int = 0


def _read_side(term: str) -> Side | None:
    if term.startswith("(") and term.endswith(")"):
        half = _read_half(term[1:-1])
        if half.neutrals_inside or half.neutrals_outside:
            raise UnclearFormat(Sentence("own_outside", {"term": term}))
        return replace(half.side, keeper=half.keepers_before + half.keepers_after)
    match = _SIDE.fullmatch(term)
    if match is None:
        return None
    outside = _some(match[2], "outside") if match[2] else 0
    return Side(_some(match[1], "side"), outside)


def _not_a_number(term: str) -> Sentence:
    return Sentence("not_a_number", {"term": term}) if term else Sentence("number_missing")


def _read_half(text: str) -> _Half:
    before, side, rest = 0, None, []
    for term in _split(text, "+"):
        keepers = _keepers_in(term)
        if side is not None:
            rest.append(term)
        elif keepers is not None:
            before += keepers
        else:
            side = _read_side(term)
            if side is None:
                raise UnclearFormat(_not_a_number(term))
    half = _Half(side or Side(0), keepers_before=before)
    for term in rest:
        _read_addition(term, half)
    return half


def _read_addition(term: str, half: _Half) -> None:
    keepers, match = _keepers_in(term), _NEUTRALS.fullmatch(term)
    if keepers is not None:
        half.keepers_after += keepers
    elif match is None:
        raise UnclearFormat(
            Sentence("addition_unclear", {"term": term}) if term else Sentence("addition_missing")
        )
    elif match[2] == "in":
        half.neutrals_inside += _some(match[1], "neutrals_inside")
    else:
        half.neutrals_outside += _some(match[1], "neutrals_outside")


def _check_places(halves: list[_Half]) -> None:
    """Keepers stand at the ends of the text and neutrals at its end; anything between two v's is unclear."""
    for number, half in enumerate(halves):
        if half.keepers_before and number > 0:
            raise UnclearFormat(Sentence("keeper_after_v"))
        if number == len(halves) - 1:
            continue
        if half.keepers_after:
            raise UnclearFormat(Sentence("keeper_before_v"))
        if half.neutrals_inside or half.neutrals_outside:
            raise UnclearFormat(Sentence("neutrals_at_end"))


def read(text: str) -> NumbersRead:
    """What a text in the coaches' notation says; spaces, capitals and "×" are fine. Raises UnclearFormat, with what is
    unclear.
    """
    tidy = _tidy(text)
    if not tidy:
        raise UnclearFormat(Sentence("numbers_missing"))
    if len(tidy) > LONGEST_TEXT:
        raise UnclearFormat(Sentence("numbers_too_long"))
    if tidy.count("(") != tidy.count(")"):
        raise UnclearFormat(Sentence("bracket_open"))
    halves = [_read_half(part) for part in _split(tidy, "v")]
    _check_places(halves)
    last = halves[-1]
    sides = [replace(h.side, keeper=h.side.keeper + h.keepers_before + h.keepers_after) for h in halves]
    if last.keepers_after and not _keeper_is_clear(tuple(sides)):
        raise UnclearFormat(Sentence("whose_keeper", {"text": text.strip()}))
    return NumbersRead(tuple(sides), last.neutrals_inside, last.neutrals_outside)
