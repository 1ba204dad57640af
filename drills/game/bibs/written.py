"""Bibs in a document that is being written: colours that will not follow them, and a colour that was changed."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from drills.game.bibs.recoloured import in_colours, texts_of
from drills.game.bibs.words import colours_in, colours_of_goals
from drills.game.document.drill import DrillDocument
from drills.game.document.operations import PutGroup
from drills.game.problem import Problem
from drills.game.wording.shapes import Sentence


def bibs_worn(document: DrillDocument) -> set[str]:
    """Every bib that somebody wears in the drill or in one of its variations."""
    put = (
        each.group
        for variation in document.variations
        for each in variation.changes
        if isinstance(each, PutGroup)
    )
    return {each.bib.lower() for each in (*document.groups, *put) if each.bib}


def bib_hints(document: DrillDocument) -> Iterator[Problem]:
    """Colour words that nobody wears, and those that would stay when other bibs are worn.

    Things that have a colour of their own, and what is called out (in quotation marks), are no players' colours. A drill
    without bibs speaks of none.
    """
    worn = bibs_worn(document)
    if not worn:
        return
    seen: set[tuple[str, str]] = set()
    goals = colours_of_goals(each.key for each in document.goals)
    for each in texts_of(document):
        for word in colours_in(each.text, name=each.name, goals=goals):
            if word.colour in worn and word.players:
                continue
            key = "bib_stays" if word.colour in worn else "bib_nobody_wears"
            if (key, each.text) not in seen:
                seen.add((key, each.text))
                yield Problem(each.field, Sentence(key, {"colour": word.colour, "text": each.text}), "hint")


def bibs_follow(before: DrillDocument, after: DrillDocument) -> DrillDocument:
    """The new document, with every sentence in the new colour of a group whose bib was changed.

    Only where nobody wears the old colour any more: else nobody can tell whom a word means.
    """
    now = {each.key: each.bib for each in after.groups}
    changed = {
        each.bib: now[each.key]
        for each in before.groups
        if each.bib and now.get(each.key) not in (None, each.bib)
    }
    left = {each.bib for each in after.groups}
    wear = {old: str(new) for old, new in changed.items() if old not in left}
    made = in_colours(after, wear)
    # Groups have been written as they are meant; a name that was left as it was goes along.
    names = {each.key: each.name for each in before.groups}
    spoken = {each.key: each.name for each in made.groups}
    groups = tuple(
        msgspec.structs.replace(each, name=spoken[each.key]) if names.get(each.key) == each.name else each
        for each in after.groups
    )
    return msgspec.structs.replace(made, groups=groups)
