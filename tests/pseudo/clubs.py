"""What on a page is the club's own: names, titles and documents, which are written in the club's language."""

import re
from collections.abc import Iterable, Iterator
from enum import Enum
from functools import cache
from typing import Any

from tests.words.shown import SPACES

_WORD = re.compile(r"[^\W\d_]{2,}")
_TWO_NAMES = re.compile(r"(?<=[a-z])(?=[A-Z][a-z])")  # links beside each other: Slow BusOne Driver
_MADE = re.compile(r"https?://\S+|\b(?=[a-z]*+\d)[\w-]{16,}")  # addresses, and secrets in hexadecimal
# Shown as they are in any language: units, notations, names of files and standards.
UNITS = {each.lower() for each in {"AU", "m²", "CR", "GK", "WBGT", "min", "cm", "km", "ft", "CSV", "PDF", "PNG", "SVG", "ZIP", "API", "JSON", "iCalendar"}}  # fmt: skip
# Delivered with the app and kept in the club's rows, which the club may write anew: in English until it does.
OWN = ("Bibrack", "Foster et al. 2001, J Strength Cond Res", "Authorization: Token")  # names, and a source
# By model, the columns that people write in their own language.
WRITTEN = {
    "club.AgeGroup": ("label", "match_format"),
    "club.Block": ("name",),
    "club.ClubSettings": ("name", "emergency_number", "welfare_phone"),
    "club.Guideline": (
        "jurisdiction",
        "source",
        "note",
    ),  # delivered in English; a club elsewhere enters its own
    "club.KitStock": ("kind",),
    "club.Pitch": ("name", "address", "ambulance_gate", "defibrillator"),
    "club.Player": ("display_name",),
    "club.Season": ("name",),
    "club.Squad": ("name",),
    "club.Theme": ("key", "title"),
    "club.User": ("name", "email"),
    "club.Zone": ("name",),
    "drills.Drill": ("title", "purpose", "state_note"),
    "drills.DrillRevision": ("document", "note"),
    "drills.DrillSketch": ("caption",),
    "drills.UseNote": ("text",),
    "drills.Variation": ("title",),
    "training.ClosedDays": ("title",),
    "training.DeliveryEvent": ("body",),
    "training.Fixture": ("title", "place"),
    "training.LedgerEntry": ("title",),
    "training.Part": ("title",),
    "training.PartOrder": ("name", "about"),
    "training.PartOrderDrill": ("title",),
    "training.Station": ("group", "place"),
    "training.TrainingSession": ("title", "note"),
}


class Clubs:
    """Every text of the database and every time zone, looked up by its first word.

    A name stands for itself wherever it stands; a single word of a document ("in", a group's role) only by itself.
    """

    def __init__(self, names: Iterable[str], texts: Iterable[str]) -> None:
        self.by_first: dict[str, list[str]] = {}
        plain = {_plain(each) for each in texts}
        single = {each for each in plain if len(_WORD.findall(each)) < 2}
        self.words = {" ".join(_WORD.findall(each)) for each in single}
        for text in {*map(_plain, names), *(plain - single)}:
            if found := _WORD.search(text):
                self.by_first.setdefault(found.group(), []).append(text[found.start() :])
        for each in self.by_first.values():
            each.sort(key=len, reverse=True)

    def left(self, text: str) -> str:
        """What of a text nothing of the club stands for; empty where that is no word."""
        low, at, left = _plain(_MADE.sub(" ", text)), 0, []
        while found := _WORD.search(low, at):
            candidates = self.by_first.get(found.group(), ())
            own = next((each for each in candidates if _at(low, each, found.start())), "")
            if not own and found.group() not in UNITS:
                left.append(found.group())
            at = found.start() + len(own) if own else found.end()
        return "" if " ".join(left) in self.words - {"red"} else " ".join(left)


def _at(text: str, own: str, start: int) -> bool:
    end = start + len(own)
    return text.startswith(own, start) and not (text[end : end + 1].isalpha() and own[-1:].isalpha())


def _plain(text: str) -> str:
    """In small letters, all bibs of one colour: a document's texts are shown in the colours that are worn tonight."""
    from drills.game.bibs import COLOURS

    found = SPACES.sub(" ", _TWO_NAMES.sub(" ", text)).strip(" .?!").lower()
    return re.sub(rf"\b({'|'.join(sorted(COLOURS, key=len, reverse=True))})(?=s?\b)", "red", found)


def clubs(typed: Iterable[str] = ()) -> Clubs:
    """All that is the club's in the database that the connection points at, and what a test types."""
    from zoneinfo import available_timezones

    zones = (zone.replace("_", " ") for zone in available_timezones())
    return Clubs([*OWN, *typed, *zones, *_written("club.")], [*_written("drills."), *_written("training.")])


def _written(app: str) -> Iterator[str]:
    """What people wrote; a title also as the picture of a session breaks it into two lines."""
    from django.apps import apps

    for label, names in WRITTEN.items():
        for row in apps.get_model(label)._base_manager.values(*names) if label.startswith(app) else ():
            for name, value in row.items():
                for text in _texts(value):
                    yield from (text, *text.splitlines())
                    yield from _in_two(text) if name == "title" else ()
                    yield from (text.removesuffix("s"),) if name == "kind" else ()  # one of it


def _in_two(title: str) -> Iterator[str]:
    words = title.split()
    for at in range(1, len(words)):
        yield " ".join(words[:at])
        yield " ".join(words[at:])


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        if value not in _closed():
            yield value
    elif isinstance(value, dict):
        yield from filter(
            None, (value.get("who"), value.get("of"), value.get("role"))
        )  # as the document's writer calls them
        yield from (
            _in_two(value["name"]) if isinstance(value.get("name"), str) else ()
        )  # of a zone, on the plan
        for each in value.values():
            yield from _texts(each)
    elif isinstance(value, list | tuple):
        for each in value:
            yield from _texts(each)


@cache
def _closed() -> frozenset[str]:
    """What documents choose from closed lists: no words of the club."""
    from drills.game.bibs import COLOURS
    from drills.game.document import choices

    lists = [each for each in vars(choices).values() if isinstance(each, type) and issubclass(each, Enum)]
    return frozenset({*COLOURS, *(str(each.value) for every in lists for each in every)})
