"""Two documents side by side, field by field, in words. Shown for revisions, and when two people saved at once."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drills.game.document import DrillDocument
from drills.game.sentences import (
    Names,
    number,
    say,
    say_change,
    say_ends,
    say_grid,
    say_phase,
    say_restart,
    sentence,
)
from drills.game.variations import apply
from drills.queries import words

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


@dataclass(frozen=True)
class Difference:
    """One field that differs: its label, and its words before and after, a line per item."""

    field: str
    label: str
    before: list[str]
    after: list[str]


def differences(before: DrillDocument, after: DrillDocument) -> list[Difference]:
    """The fields that differ, in the order in which a coach would tell them."""
    return [
        Difference(field, str(label), in_words(before, field), in_words(after, field))
        for field, label in LABELS.items()
        if getattr(before, field) != getattr(after, field)
    ]


@dataclass(frozen=True)
class Clash:
    """One field that two people left differently: the words of yours, theirs, and what both began with."""

    field: str
    label: str
    yours: list[str]
    theirs: list[str]
    before: list[str]
    by: str = ""  # who of the two changed it, in words


def clashes(yours: DrillDocument, theirs: DrillDocument, before: DrillDocument | None) -> list[Clash]:
    """The fields in which yours and theirs differ."""
    return [
        Clash(
            each.field,
            each.label,
            each.after,
            each.before,
            in_words(before, each.field) if before else [],
            _changed_by(each.field, yours, theirs, before) if before else "",
        )
        for each in differences(theirs, yours)
    ]


def _changed_by(field: str, yours: DrillDocument, theirs: DrillDocument, before: DrillDocument) -> str:
    if getattr(yours, field) == getattr(before, field):
        return _("Only they changed this: it stands in the form now.")
    if getattr(theirs, field) == getattr(before, field):
        return _("Only you changed this.")
    return _("Both of you changed this.")


def in_words(document: DrillDocument, field: str) -> list[str]:
    """The lines that one field of a document reads as."""
    value = getattr(document, field)
    if value in (None, "", ()):
        return []
    say_it = _WORDS.get(field)
    if say_it is not None:
        return list(say_it(document, value, Names.of(document, _)))
    if isinstance(value, tuple):
        return [_item(each) for each in value]
    return [_item(value)]


def _item(value: Any) -> str:
    """Anything without words of its own: its texts and numbers, in order."""
    if isinstance(value, float | int) and not isinstance(value, bool):
        return number(float(value))
    if isinstance(value, str):
        return str(getattr(value, "value", value))
    if isinstance(value, tuple):
        return ", ".join(_item(each) for each in value)
    told = (getattr(value, name) for name in value.__struct_fields__ if name != "key")
    return " · ".join(_item(each) for each in told if each not in (None, "", (), False))


def _variations(document: DrillDocument, value: Any, names: Names) -> Iterable[str]:
    for variation in value:
        changed = apply(document, variation)
        changes = " ".join(say_change(each, document, changed, names) for each in variation.changes)
        yield f"{variation.title} ({variation.rung.value}): {changes}"


def _groups(document: DrillDocument, value: Any, names: Names) -> Iterable[str]:
    sides = words.side_names(document.groups)
    for each in value:
        count = words.count_words(each.least, each.most)
        yield f"{each.name}: {count} {words.group_words(each, sides)}"


def _scene(document: DrillDocument, value: Any, names: Names) -> Iterable[str]:
    yield _("{n} people, {m} steps").format(n=len(value.players), m=len(value.steps))


_WORDS: dict[str, Callable[[DrillDocument, Any, Names], Iterable[str]]] = {
    "grids": lambda doc, value, names: (f"{say_grid(each)}: {each.purpose}" for each in value),
    "conditions": lambda doc, value, names: (sentence(say(each, names)) for each in value),
    "restarts": lambda doc, value, names: (say_restart(each, names) for each in value),
    "phases": lambda doc, value, names: (say_phase(each, names) for each in value),
    "work": lambda doc, value, names: [
        _("{bouts}, {minutes} min in all, CR10 {effort}").format(
            bouts=words.work_words(value), minutes=value.minutes, effort=number(value.effort)
        )
    ],
    "groups": _groups,
    "kit": lambda doc, value, names: (
        f"{each.count} {words.kit_word(each.kind, each.count)}" for each in value
    ),
    "balls": lambda doc, value, names: [words.balls_line(value)],
    "scoring": lambda doc, value, names: (words.scoring_line(each, names.groups) for each in value),
    "start": lambda doc, value, names: words.start_lines(value, names.groups),
    "queue": lambda doc, value, names: words.queue_lines(value),
    "goals": lambda doc, value, names: (
        f"{names.goals[each.key]}: {words.GOAL_SIZES[each.size]}" for each in value
    ),
    "zones": lambda doc, value, names: (each.name for each in value),
    "ends": lambda doc, value, names: [say_ends(value, names)],
    "variations": _variations,
    "scene": _scene,
}
