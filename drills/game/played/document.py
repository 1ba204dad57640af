"""A drill's document in tonight's numbers: groups as large as they are, on tonight's grid, with the phases that follow."""

from __future__ import annotations

import msgspec

from drills.game.document.choices import NumbersKind, PlaysFor
from drills.game.document.content import Group, Numbers
from drills.game.document.drill import DrillDocument
from drills.game.fit.setup import SetUp
from drills.game.format import Format
from drills.game.format import Side as SideOf
from drills.game.groups import KEEPER, slots_of
from drills.game.played.grids import GridTonight, GroupTonight
from drills.game.scene import Side

_PLAYS_FOR: dict[Side, PlaysFor] = {
    "A": PlaysFor.A,
    "B": PlaysFor.B,
    "C": PlaysFor.C,
    "D": PlaysFor.D,
    "neutral": PlaysFor.BALL,
}


def document_tonight(doc: DrillDocument, setup: SetUp, grid: GridTonight) -> DrillDocument:
    """The document in tonight's numbers on tonight's grid."""
    known = {each.key: each for each in doc.groups}
    counted = {each.key: each for each in grid.groups}
    roster_keys = {key for key, slot in slots_of(doc).items() if slot is not None}
    groups = [
        msgspec.structs.replace(each, least=counted[each.key].count, most=None)
        if each.key in counted
        else each
        for each in doc.groups
        if each.key in counted or each.key not in roster_keys
    ]
    groups += [_written(each) for each in grid.groups if each.key not in known]
    first = msgspec.structs.replace(doc.grids[0], length_m=setup.length_m, width_m=setup.width_m)
    written = Format.parse(doc.format)
    phases = tuple(
        msgspec.structs.replace(each, format=phase_tonight(each.format, written, grid.format))
        for each in doc.phases
    )
    return msgspec.structs.replace(
        doc,
        format=str(grid.format),
        numbers=Numbers(kind=NumbersKind.EXACT),
        groups=tuple(groups),
        grids=(first, *doc.grids[1:]),
        phases=phases,
    )


def phase_tonight(phase: str, written: Format, tonight: Format) -> str:
    """What the game becomes with tonight's numbers: as many more and fewer as it becomes with those of the drill.

    As it is written where that leaves nobody to play with.
    """
    if written == tonight:
        return phase
    try:
        then = Format.parse(phase)
        if not len(then.sides) == len(written.sides) == len(tonight.sides):
            return phase
        sides = tuple(
            SideOf(
                now.inside + new.inside - old.inside,
                max(0, now.outside + new.outside - old.outside),
                min(1, max(0, now.keeper + new.keeper - old.keeper)),
            )
            for new, old, now in zip(then.sides, written.sides, tonight.sides, strict=True)
        )
        more_in = tonight.neutrals_inside + then.neutrals_inside - written.neutrals_inside
        more_out = tonight.neutrals_outside + then.neutrals_outside - written.neutrals_outside
        return str(Format(sides, max(0, more_in), max(0, more_out)))
    except ValueError:  # nobody left on a side, or more than a format holds
        return phase


def _written(added: GroupTonight) -> Group:
    return Group(
        key=added.key,
        name=added.name,
        plays_for=_PLAYS_FOR[added.side],
        place=added.place,
        least=added.count,
        role=KEEPER if added.keeps_goal else None,
        bib=added.bib or None,
    )
