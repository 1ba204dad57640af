"""Rows ↔ pure values: a document's projection into columns, its rungs, and the rooms they run in."""

import dataclasses
import hashlib
import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, partial
from typing import Any

from club.caches import MIB, remembered
from drills.choices import theme_word
from drills.game.design import Design
from drills.game.document import DrillDocument, FreeText, Limit, WhenThen, decode
from drills.game.document.choices import GoalSize, NumbersKind
from drills.game.document.codec import to_plain
from drills.game.format import Format
from drills.game.playable import design_of
from drills.game.rooms import (
    Rooms,
    RoomsWithKit,
    ShareNeeds,
    either,
    fingerprint,
    fingerprint_of_either,
    rooms,
    rooms_with_kit,
)
from drills.game.variations import apply, find, played
from drills.models import Drill, DrillRevision, Variation

MOST_PLAYERS_SEARCHED = 40  # a library search looks up to here; Fit itself goes further
LONGEST_WORD = 40
SETUP_COLUMNS = ("footprint_id", "players", "keepers", "classes", "all_play", "longs_cm", "shorts_cm")
WITH_KIT_COLUMNS = ("footprint_id", "missing", "players", "keepers", "classes", "longs_cm", "shorts_cm")


@remembered(most_bytes=12 * MIB, key=lambda revision: revision.sha256)
def document_of(revision: DrillRevision) -> DrillDocument:
    """The typed document of a revision; decoded once per content."""
    return decode(revision.document)


def sort_key(title: str) -> str:
    """What lists sort on: no accents, no capitals, no leading article, so the database's collation never matters."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().casefold().strip()
    for article in ("the ", "a ", "an "):
        plain = plain.removeprefix(article)
    return plain[:120]


def project(drill: Drill, document: DrillDocument) -> None:
    """Set the derived columns from a document; nothing is saved."""
    fmt = Format.parse(document.format)
    least, most = player_range(document, fmt)
    drill.title, drill.title_sort = document.title, sort_key(document.title)
    drill.search_text = " ".join(_searched(document))
    drill.purpose = document.purpose
    drill.activity, drill.moment = document.activity.value, document.moment.value
    drill.theme_keys = list(document.themes)
    drill.under_from, drill.under_to = document.under_from, document.under_to
    drill.format = document.format
    drill.players_least, drill.players_most = least, most
    drill.effort, drill.minutes = document.work.effort, document.work.minutes
    drill.condition_kinds = condition_kinds(document)
    drill.heading = document.heading.value


def player_range(document: DrillDocument, fmt: Format) -> tuple[int, int | None]:
    """The fewest and the most players, as written."""
    numbers = document.numbers
    if numbers.kind is NumbersKind.EXACT:
        return fmt.players, fmt.players
    return numbers.least or 1, numbers.most


def condition_kinds(document: DrillDocument) -> list[str]:
    """The kinds of condition in a document, for facets."""
    kinds: set[str] = set()
    for condition in document.conditions:
        if isinstance(condition, Limit):
            kinds.add(condition.kind.value)
        elif isinstance(condition, WhenThen):
            kinds |= {condition.when.kind.value, *(then.kind.value for then in condition.then)}
        elif isinstance(condition, FreeText):
            kinds.add("own words")
    return sorted(kinds)


def _searched(document: DrillDocument) -> Iterator[str]:
    yield document.purpose
    yield document.activity.value
    yield document.moment.value
    yield from (theme_word(theme) for theme in document.themes)
    yield from document.say_this
    yield from (group.role or "" for group in document.groups)
    yield from (f"{each.role} {each.looks_like}" for each in document.points)
    yield from (each.ask for each in document.questions)
    yield from (each.title for each in document.variations)
    yield from (each.name for each in document.phases)


def words_of(drill: Drill) -> set[str]:
    """The words that a drill says, as they are looked for: no accents, no capitals, from three letters, no bare numbers."""
    found = words_in(f"{drill.title} {drill.search_text}")
    return {each for each in found if 3 <= len(each) <= LONGEST_WORD and not each.isdigit()}


def words_in(text: str) -> list[str]:
    """Words of a text as they are looked for."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return re.findall(r"[a-z0-9]+", plain)


def cuts_of(word: str) -> set[str]:
    """A word and, from four letters, the word with any one letter cut out."""
    if len(word) < 4:
        return {word}
    return {word, *(word[:place] + word[place + 1 :] for place in range(len(word)))}


@dataclass(frozen=True)
class RungColumns:
    """A variation's row without its footprint, and the numbers in a grid that decide the footprint."""

    row: Variation
    design: Design
    fingerprint: str


def rungs(drill: Drill, document: DrillDocument) -> list[RungColumns]:
    """The drill as written and each variation, unsaved."""
    made: list[RungColumns] = []
    for position, key in enumerate(("", *(each.key for each in document.variations))):
        design = design_of(document, key)
        row = _row(drill, document, key, position)
        row.facts = facts_of(played(document, key), design)
        made.append(RungColumns(row, design, fingerprint(design, MOST_PLAYERS_SEARCHED)))
    return made


def _row(drill: Drill, document: DrillDocument, key: str, position: int) -> Variation:
    variation = find(document, key)
    changed = apply(document, variation)
    return Variation(
        drill=drill,
        key=key,
        position=position,
        title=variation.title if variation else document.title,
        rung=variation.rung.value if variation else "",
        condition_kinds=condition_kinds(changed),
        effort=changed.work.effort,
    )


def facts_of(document: DrillDocument, design: Design) -> dict[str, Any]:
    """What planning a session counts with, of a rung as it is played, as plain data."""
    kept = {field.name: getattr(design, field.name) for field in dataclasses.fields(design)}
    return {
        "design": {
            **kept,
            "format": str(design.format),
            "shot_at": [list(each) for each in design.shot_at],
            "slots": [list(each) for each in design.slots],
        },
        "minutes": document.work.minutes,
        "set_up_minutes": document.setup_minutes,
        "headers": document.headers_planned,
    }


def design_from(facts: Mapping[str, Any]) -> Design:
    """The design that `facts_of` kept."""
    kept = dict(facts["design"])
    sides = kept.pop("outside_sides")
    fmt = Format.parse(kept.pop("format"))
    shot_at = tuple((edge, GoalSize(size)) for edge, size in kept.pop("shot_at"))
    slots = tuple(tuple(each) for each in kept.pop("slots"))
    outside = None if sides is None else tuple(sides)
    return Design(fmt, outside_sides=outside, shot_at=shot_at, slots=slots, **kept)


def makers_of(
    made: list[RungColumns],
) -> tuple[dict[str, Callable[[], list[Rooms]]], dict[str, Callable[[], list[RoomsWithKit]]]]:
    """By fingerprint: what makes the rooms of each rung and of any rung of them, and a rung's rooms by the kit on the grids.

    Each design is gone through once.
    """
    designs = {rung.fingerprint: rung.design for rung in made}
    places = {fingerprint_: ShareNeeds(design) for fingerprint_, design in designs.items()}

    @cache
    def found(fingerprint_: str) -> list[Rooms]:
        return rooms(designs[fingerprint_], most_players=MOST_PLAYERS_SEARCHED, places=places[fingerprint_])

    def with_kit(fingerprint_: str) -> list[RoomsWithKit]:
        return rooms_with_kit(
            designs[fingerprint_], most_players=MOST_PLAYERS_SEARCHED, places=places[fingerprint_]
        )

    makers: dict[str, Callable[[], list[Rooms]]] = {
        any_rung(made): lambda: either(found(each) for each in sorted(designs))
    }
    return (
        makers | {each: partial(found, each) for each in designs},
        {each: partial(with_kit, each) for each in designs},
    )


def kit_fingerprint(kit: Mapping[str, int]) -> str:
    """Equal for equal kit."""
    return hashlib.sha256(repr(sorted(kit.items())).encode()).hexdigest()


def any_rung(made: list[RungColumns]) -> str:
    """The fingerprint of what a drill needs for any of its rungs."""
    return fingerprint_of_either(rung.fingerprint for rung in made)


def setup_rows(footprint_id: int, found: Iterable[Rooms]) -> Iterator[tuple[Any, ...]]:
    """One row per turn-out, in the order of SETUP_COLUMNS."""
    for each in found:
        longs, shorts = list(each.longs_cm), list(each.shorts_cm)
        yield footprint_id, each.players, each.keepers, each.classes, each.all_play, longs, shorts


def with_kit_rows(footprint_id: int, found: Iterable[RoomsWithKit]) -> Iterator[tuple[Any, ...]]:
    """The same in the order of WITH_KIT_COLUMNS."""
    for each in found:
        longs, shorts = list(each.longs_cm), list(each.shorts_cm)
        yield footprint_id, each.missing, each.players, each.keepers, each.classes, longs, shorts


def plain(document: DrillDocument) -> dict[str, Any]:
    """The document as plain data with its schema version, as rows and files keep it."""
    return to_plain(document)
