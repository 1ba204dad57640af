"""What the fields of a document are called, and how a single value of one is told where no sentence tells it."""

from typing import Any

import msgspec
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drills.game.leaves import Leaf
from drills.game.sentences import number

LABELS = {
    "title": gettext_lazy("Title"),
    "purpose": gettext_lazy("What it is for"),
    "activity": gettext_lazy("Activity"),
    "moment": gettext_lazy("Moment of the game"),
    "themes": gettext_lazy("Themes"),
    "age_from": gettext_lazy("Youngest age"),
    "age_to": gettext_lazy("Oldest age"),
    "format": gettext_lazy("Format"),
    "numbers": gettext_lazy("Numbers"),
    "direction": gettext_lazy("Direction"),
    "groups": gettext_lazy("Groups"),
    "adults": gettext_lazy("Adults needed"),
    "grids": gettext_lazy("Grids"),
    "zones": gettext_lazy("Zones"),
    "gates": gettext_lazy("Gates"),
    "goals": gettext_lazy("Goals"),
    "balls": gettext_lazy("Balls"),
    "kit": gettext_lazy("Kit"),
    "indoors": gettext_lazy("Indoors"),
    "setup_minutes": gettext_lazy("Minutes to set up"),
    "shot_towards": gettext_lazy("Where it is shot towards"),
    "start": gettext_lazy("Start"),
    "restarts": gettext_lazy("Restarts"),
    "on_winning": gettext_lazy("On winning it"),
    "scoring": gettext_lazy("Scoring"),
    "ends": gettext_lazy("How it ends"),
    "queue": gettext_lazy("Planned waiting"),
    "conditions": gettext_lazy("Conditions"),
    "phases": gettext_lazy("Phases"),
    "work": gettext_lazy("Bouts and effort"),
    "heading": gettext_lazy("Heading"),
    "headers_per_player": gettext_lazy("Headers per player"),
    "variations": gettext_lazy("Variations"),
    "challenges": gettext_lazy("Challenges for one player"),
    "say_this": gettext_lazy("Say this"),
    "points": gettext_lazy("Coaching points"),
    "faults": gettext_lazy("Usual faults"),
    "questions": gettext_lazy("Questions"),
    "praise": gettext_lazy("Praise"),
    "coach_place": gettext_lazy("Coach's place"),
    "stops": gettext_lazy("How it may be stopped"),
    "safety": gettext_lazy("Safety"),
    "notes": gettext_lazy("Notes"),
    "scene": gettext_lazy("Drawn plan"),
}
# Fields inside those, where their own name with spaces would say little or the wrong thing.
_INSIDE = {
    "across": gettext_lazy("passed up and down"),
    "along": gettext_lazy("along the edge"),
    "along_m": gettext_lazy("along the edge"),
    "ask": gettext_lazy("question"),
    "bout_s": gettext_lazy("bout, s"),
    "changes": gettext_lazy("change"),
    "delay_s": gettext_lazy("later by, s"),
    "delays": gettext_lazy("coming in"),
    "entries": gettext_lazy("coming in"),
    "faces": gettext_lazy("shot at from"),
    "harder": gettext_lazy("makes it harder"),
    "key": gettext_lazy("short name"),
    "least": gettext_lazy("at least"),
    "length_m": gettext_lazy("length, m"),
    "most": gettext_lazy("at most"),
    "open_at_start": gettext_lazy("open at the start"),
    "rest_s": gettext_lazy("rest, s"),
    "rung": gettext_lazy("makes it"),
    "wait_s": gettext_lazy("wait, s"),
    "what": gettext_lazy("of what"),
    "width_m": gettext_lazy("width, m"),
    "within_s": gettext_lazy("within, s"),
    "work_s": gettext_lazy("work, s"),
    "x": gettext_lazy("along the length"),
    "x_m": gettext_lazy("from the left, m"),
    "y": gettext_lazy("across the width"),
    "y_m": gettext_lazy("from the bottom, m"),
}


def label_of(field: str) -> str:
    """What a field of the document is called."""
    return str(LABELS[field]) if field in LABELS else label_inside(field).capitalize()


def label_inside(name: str) -> str:
    """What a field of a piece is called: `setup_minutes` is “setup minutes” where it has no words of its own."""
    if name in _INSIDE:
        return str(_INSIDE[name])
    stem, _line, unit = name.rpartition("_")
    words = f"{stem}, {unit}" if stem and unit in ("m", "s") else name
    return words.replace("_", " ")


def told(leaf: Leaf, value: Any) -> str:
    """One side of a value that differs: `with a keeper: yes`."""
    where = " ".join(label_inside(name) for name in leaf.path)
    return f"{where}: {plain_words(value)}" if where else plain_words(value)


def plain_words(value: Any) -> str:
    """Any value of a document in words: numbers, texts, yes and no, and of a piece all that it says, in order."""
    if value is None or value in ("", ()):
        return _("nothing")
    if isinstance(value, bool):  # before the numbers: Python takes it for one
        return _("yes") if value else _("no")
    if isinstance(value, float | int):
        return number(value)
    if isinstance(value, str):
        return str(getattr(value, "value", value))
    if isinstance(value, tuple):
        return ", ".join(plain_words(each) for each in value)
    return " · ".join(_of_piece(value))


def _of_piece(piece: msgspec.Struct) -> list[str]:
    tag = piece.__struct_config__.tag
    words = [str(tag).replace("_", " ")] if tag else []
    for name in piece.__struct_fields__:
        value = getattr(piece, name)
        if isinstance(value, bool):
            words += [label_inside(name)] if value else []
        elif name != "key" and value not in (None, "", ()):
            words.append(plain_words(value))
    return words
