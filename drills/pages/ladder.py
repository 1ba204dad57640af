"""The ladder of a drill's variations: harder above, easier below, with what each changes in words."""

from dataclasses import dataclass

from django.utils.translation import gettext as _

from drills.game.document import DrillDocument
from drills.game.document.choices import Rung
from drills.game.document.operations import change_class
from drills.game.sentences import Names, say_change, say_grid
from drills.game.variations import apply, find
from drills.pages import words


@dataclass(frozen=True)
class Change:
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
    changes: list[Change]
    shown: bool


def ladder_of(base: DrillDocument, key: str) -> list[RungRow]:
    """Harder above, easier below, the drill as written between them; another theme just above it."""
    rows = [_rung(base, each.key, key) for each in base.variations]
    by_side = {side: [each for each in rows if each.side == side.value] for side in Rung}
    return [
        *reversed(by_side[Rung.HARDER]),
        *by_side[Rung.SIDEWAYS],
        _rung(base, "", key),
        *by_side[Rung.EASIER],
    ]


def _rung(base: DrillDocument, key: str, shown: str) -> RungRow:
    variation = find(base, key)
    changed = apply(base, variation)
    numbers = f"{changed.format} · {say_grid(changed.grids[0])} · CR10 {changed.work.effort:g}"
    if variation is None:
        return RungRow("", base.title, "base", _("as written"), "", numbers, base.work.effort, [], not shown)
    names = Names.of(base, _)
    changes = [
        Change(change_class(each).value, _(change_class(each).value), say_change(each, base, changed, names))
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
    )
