"""What differs between two drills, revisions or rungs, in a coach's words; and a drill's past."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING, Any

import msgspec
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from drills.bridge import document_of
from drills.choices import kit_word
from drills.drawing.picture import scene_as_written
from drills.drawing.svg import DrawingOptions, render
from drills.game.document import DrillDocument
from drills.game.leaves import Leaf, are_pieces, leaves, paired
from drills.game.sentences import (
    Names,
    goal_name,
    say,
    say_change,
    say_ends,
    say_grid,
    say_phase,
    say_restart,
)
from drills.game.variations import apply, find, played
from drills.game.wording import number, sentence
from drills.pages import words
from drills.pages.words import label_of, plain_words, told
from drills.queries.found import latest_revisions, revisions_numbered

MOST_DETAILS = 8  # of one line; a drawing that was moved as a whole has a hundred


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
        _difference(before, after, field)
        for field in DrillDocument.__struct_fields__
        if getattr(before, field) != getattr(after, field)
    ]


def _difference(before: DrillDocument, after: DrillDocument, field: str) -> Difference:
    """The words of both, and beside them what those words do not tell."""
    old, new = _Telling(before, field), _Telling(after, field)
    first, second = old.lines(), new.lines()
    for here, there, found in _untold(old, new):
        _add(first, here, [told(each, each.before) for each in found])
        _add(second, there, [told(each, each.after) for each in found])
    said, now = _flat(first), _flat(second)
    if said == now:  # items that read the same changed places, or their keys
        every = list(leaves(old.value, new.value))
        said += _few([told(each, each.before) for each in every])
        now += _few([told(each, each.after) for each in every])
    return Difference(field, label_of(field), said, now)


@dataclass(frozen=True)
class EditConflict:
    """One field that two people left differently: the words of yours, theirs, and what both began with."""

    field: str
    label: str
    yours: list[str]
    theirs: list[str]
    before: list[str]
    by: str = ""  # who of the two changed it, in words


def clashes(yours: DrillDocument, theirs: DrillDocument, before: DrillDocument | None) -> list[EditConflict]:
    """The fields in which yours and theirs differ."""
    return [
        EditConflict(
            each.field,
            each.label,
            each.after,
            each.before,
            _words_before(each, yours, theirs, before) if before else [],
            _changed_by(each.field, yours, theirs, before) if before else "",
        )
        for each in differences(theirs, yours)
    ]


def _changed_by(field: str, yours: DrillDocument, theirs: DrillDocument, before: DrillDocument) -> str:
    if getattr(yours, field) == getattr(before, field):
        return _("Only they changed this: it is in the form now.")
    if getattr(theirs, field) == getattr(before, field):
        return _("Only you changed this.")
    return _("Both of you changed this.")


def _words_before(
    each: Difference, yours: DrillDocument, theirs: DrillDocument, before: DrillDocument
) -> list[str]:
    """What both began with, in as many words as what came of it."""
    if getattr(theirs, each.field) == getattr(before, each.field):
        return each.before
    if getattr(yours, each.field) == getattr(before, each.field):
        return each.after
    return _difference(before, yours, each.field).before


@dataclass(frozen=True)
class _Telling:
    """A field of a document, told an item at a time where it is a list of pieces."""

    document: DrillDocument
    field: str

    @property
    def value(self) -> Any:
        return getattr(self.document, self.field)

    @property
    def items(self) -> tuple[Any, ...]:
        if self.value in (None, "", ()):
            return ()
        return self.value if are_pieces(self.value) else (self.value,)

    @cached_property
    def names(self) -> Names:
        return Names.of(self.document, _)

    def lines(self) -> list[list[str]]:
        """The lines of each item."""
        return [self.say(each) for each in self.items]

    def say(self, item: Any) -> list[str]:
        """An item of this field, as this document would tell it."""
        say_it = _WORDS.get(self.field)
        if say_it is not None:
            return list(say_it(self.document, item, self.names))
        return [plain_words(each) for each in item] if isinstance(item, tuple) else [plain_words(item)]


def _untold(old: _Telling, new: _Telling) -> Iterator[tuple[int, int, list[Leaf]]]:
    """Of the items that both have: their places, and the differences that their words do not show."""
    for _name, here, there in paired(old.items, new.items) if are_pieces(old.items + new.items) else ():
        if here is not None and there is not None:
            found = list(_hidden(old, old.items[here], new.items[there]))
            if found:
                yield here, there, found


def _hidden(old: _Telling, before: Any, after: Any) -> Iterator[Leaf]:
    if type(before) is not type(after):
        if old.say(before) == old.say(after):
            yield Leaf((), before, after)
        return
    for name in before.__struct_fields__:
        was, now = getattr(before, name), getattr(after, name)
        if was != now and not _shows(old, before, name, now):
            yield from leaves(was, now, (name,))


def _shows(old: _Telling, item: Any, name: str, value: Any) -> bool:
    """Whether the item reads otherwise when only this changes."""
    try:
        return old.say(msgspec.structs.replace(item, **{name: value})) != old.say(item)
    except ValueError:  # alone it cannot change: another change goes with it
        return False


def _add(lines: list[list[str]], place: int, details: list[str]) -> None:
    if details:
        *others, last = lines[place] or [""]
        lines[place] = [*others, f"{last} ({'; '.join(_few(details))})".strip()]


def _few(details: list[str]) -> list[str]:
    more = len(details) - MOST_DETAILS
    return [*details[:MOST_DETAILS], _("and {n} more").format(n=more)] if more > 0 else details


def _flat(lines: list[list[str]]) -> list[str]:
    return [line for each in lines for line in each]


def _variation(document: DrillDocument, variation: Any, names: Names) -> list[str]:
    changed = apply(document, variation)
    changes = " ".join(say_change(each, document, changed, names) for each in variation.changes)
    return [f"{variation.title} ({variation.rung.value}): {changes}"]


def _group(document: DrillDocument, group: Any, names: Names) -> list[str]:
    count = words.count_words(group.least, group.most)
    return [f"{group.name}: {count} {words.group_words(group, words.side_names(document.groups))}"]


def _gate(document: DrillDocument, gate: Any, names: Names) -> list[str]:
    text = _("{gate}: {width} m wide, {x} % along the length, {y} % across the width")
    where = {name: number(round(100 * getattr(gate, name), 1)) for name in ("x", "y")}
    return [text.format(gate=names.where(gate.key), width=number(gate.width_m), **where)]


def _work(document: DrillDocument, work: Any, names: Names) -> list[str]:
    text = _("{bouts}, {minutes} min in all, CR10 {effort}")
    return [text.format(bouts=words.work_words(work), minutes=work.minutes, effort=number(work.effort))]


def _scene(document: DrillDocument, scene: Any, names: Names) -> list[str]:
    return [_("{n} people, {m} steps").format(n=len(scene.players), m=len(scene.steps))]


# An item of a list, or the whole where the field is no list.
_WORDS: dict[str, Callable[[DrillDocument, Any, Names], list[str]]] = {
    "grids": lambda doc, each, names: [f"{say_grid(each)}: {each.purpose}"],
    "conditions": lambda doc, each, names: [sentence(say(each, names))],
    "restarts": lambda doc, each, names: [say_restart(each, names)],
    "phases": lambda doc, each, names: [say_phase(each, names)],
    "work": _work,
    "groups": _group,
    "kit": lambda doc, each, names: [f"{each.count} {kit_word(each.kind, each.count)}"],
    "balls": lambda doc, value, names: [words.balls_line(value)],
    "scoring": lambda doc, each, names: [words.scoring_line(each, names.groups)],
    "start": lambda doc, value, names: words.start_lines(value, names.groups),
    "queue": lambda doc, value, names: words.queue_lines(value),
    "goals": lambda doc, each, names: [f"{goal_name(each.key)}: {words.GOAL_SIZES[each.size]}"],
    "gates": _gate,
    "zones": lambda doc, each, names: [each.name],
    "ends": lambda doc, value, names: [say_ends(value, names)],
    "variations": _variation,
    "scene": _scene,
}


if TYPE_CHECKING:
    from drills.models import Drill


@dataclass(frozen=True)
class RevisionRow:
    """One save."""

    number: int
    at: datetime
    author: str
    note: str
    changes: list[Difference]


def revision_rows(drill: Drill, most: int = 12) -> list[RevisionRow]:
    """The latest revisions, newest first, each with what it changed against the one before. One query."""
    revisions = latest_revisions(drill, most + 1)
    rows = []
    for place, revision in enumerate(revisions[:most]):
        before = revisions[place + 1] if place + 1 < len(revisions) else None
        changes = differences(document_of(before), document_of(revision)) if before else []
        author = revision.author.name if revision.author else ""
        rows.append(RevisionRow(revision.number, revision.at, author, revision.note, changes))
    return rows


def changes_between(drill: Drill, first: int, second: int) -> list[Difference]:
    """What changed from one revision's number to another's. Raises KeyError for a number that is not there."""
    found = revisions_numbered(drill, first, second)
    return differences(document_of(found[first]), document_of(found[second]))


@dataclass(frozen=True)
class ComparedRung:
    """A rung of a drill beside another: its title and its plan."""

    key: str
    title: str
    numbers: str
    picture: SafeString


def compared(document: DrillDocument, first: str, second: str) -> tuple[list[ComparedRung], list[Difference]]:
    """Two rungs side by side; "" is the drill as written. Raises KeyError for one that is not there."""
    played_ = [played(document, key) for key in (first, second)]
    sides = [
        _side(document, key, doc, f"rung{place}-")
        for place, (key, doc) in enumerate(zip((first, second), played_, strict=True))
    ]
    return sides, [each for each in differences(*played_) if each.field != "scene"]


def _side(document: DrillDocument, key: str, doc: DrillDocument, prefix: str) -> ComparedRung:
    variation = find(document, key)
    picture = render(
        scene_as_written(document, key), options=DrawingOptions(prefix=prefix, legend=False, translate=_)
    )
    numbers = f"{doc.format} · {say_grid(doc.grids[0])} · CR10 {doc.work.effort:g}"
    return ComparedRung(key, variation.title if variation else _("as written"), numbers, mark_safe(picture))
