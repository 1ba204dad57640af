"""Easier and harder: the variations of a drill in their order, each with a small plan and only what it changes."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from drills.game.document import DrillDocument
from drills.game.document.choices import Rung
from drills.game.document.operations import change_class
from drills.game.sentences import Names, say_change, say_grid
from drills.game.variations import apply, find
from drills.pages import words
from drills.pages.library import thumbnail


@dataclass(frozen=True)
class ChangeLine:
    cls: str
    cls_word: str
    text: str


@dataclass(frozen=True)
class RungRow:
    key: str
    title: str
    side: str
    side_word: str
    why: str
    numbers: str
    effort: float
    changes: list[ChangeLine]
    shown: bool
    picture: SafeString


def ladder_of(base: DrillDocument, key: str, digest: str) -> list[RungRow]:
    """Harder above, easier below, the drill as written between them; another theme just above it.

    `digest` is the content's own, by which small plans are drawn once.
    """
    rows = [_rung(base, each.key, key, digest) for each in base.variations]
    by_side = {side: [each for each in rows if each.side == side.value] for side in Rung}
    return [
        *reversed(by_side[Rung.HARDER]),
        *by_side[Rung.SIDEWAYS],
        _rung(base, "", key, digest),
        *by_side[Rung.EASIER],
    ]


def _rung(base: DrillDocument, key: str, shown: str, digest: str) -> RungRow:
    variation = find(base, key)
    changed = apply(base, variation)
    numbers = f"{changed.format} · {say_grid(changed.grids[0])} · {words.effort_words(changed.work.effort)}"
    picture = thumbnail(digest, base, key)
    if variation is None:
        as_written, effort = _("as written"), base.work.effort
        return RungRow("", base.title, "base", as_written, "", numbers, effort, [], not shown, picture)
    names = Names.of(base, _)
    changes = [
        ChangeLine(
            change_class(each).value, _(change_class(each).value), say_change(each, base, changed, names)
        )
        for each in variation.changes
    ]
    return RungRow(
        key=key,
        title=variation.title,
        side=variation.rung.value,
        side_word=str(words.RUNG_WORDS[variation.rung]),
        why=variation.why or "",
        numbers=numbers,
        effort=changed.work.effort,
        changes=changes,
        shown=key == shown,
        picture=picture,
    )
