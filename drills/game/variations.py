"""A variation applied to its base, what it changes in words, and why it can't be applied any more.

Every operation is against the base document; nothing is chained. An operation names what it touches by key, so an
edit of the base shows in every variation that does not itself change that field.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

import msgspec

from drills.game.document import operations as op
from drills.game.document.drill import DrillDocument
from drills.game.document.operations import Operation, Variation
from drills.game.scene import Scene
from drills.game.wording.rendering import SaidError, text_of
from drills.game.wording.shapes import Sentence

BASE = "base"


Thing = Literal["condition", "condition_twice", "group", "goal", "zone", "gate", "drawn"]


class CannotApply(SaidError):
    """A change whose target the base no longer has. `key` names the missing thing."""

    def __init__(self, variation: str, key: str, what: Thing) -> None:
        thing = Sentence(f"thing_{what}")
        super().__init__(Sentence("cannot_apply", {"title": variation, "what": thing, "key": key}))
        self.variation = variation
        self.key = key
        self.what = text_of(thing)


def apply(document: DrillDocument, variation: Variation | None) -> DrillDocument:
    """The document as it is played in this variation. `None` is the base. Raises CannotApply."""
    if variation is None:
        return document
    changed = document
    # A drawing of its own is drawn for all the other changes.
    for change in sorted(variation.changes, key=lambda each: isinstance(each, op.SetScene)):
        changed = _apply_one(changed, change, variation.title)
    if variation.effort is not None:
        changed = _with(changed, work=msgspec.structs.replace(changed.work, effort=variation.effort))
    return changed


def find(document: DrillDocument, key: str) -> Variation | None:
    """The variation with this key; None for the base or an empty key. KeyError when there is none such."""
    if key in ("", BASE):
        return None
    for variation in document.variations:
        if variation.key == key:
            return variation
    raise KeyError(key)


def played(document: DrillDocument, key: str) -> DrillDocument:
    """The document as played in the variation with this key."""
    return apply(document, find(document, key))


def _with(document: DrillDocument, **changes: Any) -> DrillDocument:
    return msgspec.structs.replace(document, **changes)


def _put(items: tuple[Any, ...], item: Any) -> tuple[Any, ...]:
    """Replace the item with the same key where it stands, else add it at the end."""
    if any(each.key == item.key for each in items):
        return tuple(item if each.key == item.key else each for each in items)
    return (*items, item)


def _drop(items: tuple[Any, ...], key: str, title: str, what: Thing) -> tuple[Any, ...]:
    if all(each.key != key for each in items):
        raise CannotApply(title, key, what)
    return tuple(each for each in items if each.key != key)


def _need(items: tuple[Any, ...], key: str, title: str, what: Thing) -> Any:
    for each in items:
        if each.key == key:
            return each
    raise CannotApply(title, key, what)


def _set_grid(doc: DrillDocument, change: op.SetGrid, title: str) -> DrillDocument:
    first = msgspec.structs.replace(doc.grids[0], length_m=change.length_m, width_m=change.width_m)
    return _with(doc, grids=(first, *doc.grids[1:]), scene=None)


def _set_format(doc: DrillDocument, change: op.SetFormat, title: str) -> DrillDocument:
    # A drawing made by hand for other numbers would lie; the generated start layout takes its place.
    return _with(doc, format=change.format, scene=None)


def _add_condition(doc: DrillDocument, change: op.AddCondition, title: str) -> DrillDocument:
    if any(each.key == change.condition.key for each in doc.conditions):
        raise CannotApply(title, change.condition.key, "condition_twice")
    return _with(doc, conditions=(*doc.conditions, change.condition))


def _replace_condition(doc: DrillDocument, change: op.ReplaceCondition, title: str) -> DrillDocument:
    _need(doc.conditions, change.condition.key, title, "condition")
    return _with(doc, conditions=_put(doc.conditions, change.condition))


def _move_goal(doc: DrillDocument, change: op.MoveGoal, title: str) -> DrillDocument:
    goal = _need(doc.goals, change.key, title, "goal")
    moved = msgspec.structs.replace(goal, edge=change.edge, along=change.along)
    return _with(doc, goals=_put(doc.goals, moved), **_redrawn("goals"))


def _move_item(doc: DrillDocument, change: op.MoveItem, title: str) -> DrillDocument:
    if doc.scene is None:
        raise CannotApply(title, change.key, "drawn")
    moved = doc.scene.with_item_moved(change.key, change.x_m, change.y_m)
    if moved is None:
        raise CannotApply(title, change.key, "drawn")
    return _with(doc, scene=moved)


def own_scene(document: DrillDocument, key: str) -> Scene | None:
    """The drawing that was made for this rung, the base included; None where there is none. KeyError as in `find`."""
    variation = find(document, key)
    if variation is None:
        return document.scene
    return next((each.scene for each in variation.changes if isinstance(each, op.SetScene)), None)


def with_own_scene(document: DrillDocument, key: str, scene: Scene | None) -> DrillDocument:
    """The document with another drawing for this rung, or with none."""
    variation = find(document, key)
    if variation is None:
        return _with(document, scene=scene)
    others = tuple(each for each in variation.changes if not isinstance(each, op.SetScene))
    drawn = (op.SetScene(scene=scene),) if scene is not None else ()
    made = msgspec.structs.replace(variation, changes=(*others, *drawn))
    return _with(document, variations=_put(document.variations, made))


DRAWN = frozenset({"groups", "goals", "zones", "gates"})


def _redrawn(field: str) -> dict[str, Any]:
    """A drawing made by hand would lie once something else stands on the grid: the start layout takes its place."""
    return {"scene": None} if field in DRAWN else {}


def _putter(field: str, part: str) -> Callable[[DrillDocument, Any, str], DrillDocument]:
    def put(doc: DrillDocument, change: Any, title: str) -> DrillDocument:
        return _with(doc, **{field: _put(getattr(doc, field), getattr(change, part))}, **_redrawn(field))

    return put


def _dropper(field: str, what: Thing) -> Callable[[DrillDocument, Any, str], DrillDocument]:
    def drop(doc: DrillDocument, change: Any, title: str) -> DrillDocument:
        return _with(doc, **{field: _drop(getattr(doc, field), change.key, title, what)}, **_redrawn(field))

    return drop


def _setter(*fields: str) -> Callable[[DrillDocument, Any, str], DrillDocument]:
    def set_fields(doc: DrillDocument, change: Any, title: str) -> DrillDocument:
        return _with(doc, **{field: getattr(change, field) for field in fields})

    return set_fields


_APPLY: dict[type[Any], Callable[[DrillDocument, Any, str], DrillDocument]] = {
    op.SetGrid: _set_grid,
    op.SetFormat: _set_format,
    op.AddCondition: _add_condition,
    op.ReplaceCondition: _replace_condition,
    op.RemoveCondition: _dropper("conditions", "condition"),
    op.PutGroup: _putter("groups", "group"),
    op.RemoveGroup: _dropper("groups", "group"),
    op.PutGoal: _putter("goals", "goal"),
    op.RemoveGoal: _dropper("goals", "goal"),
    op.MoveGoal: _move_goal,
    op.PutZone: _putter("zones", "zone"),
    op.RemoveZone: _dropper("zones", "zone"),
    op.PutGate: _putter("gates", "gate"),
    op.RemoveGate: _dropper("gates", "gate"),
    op.PutPhase: _putter("phases", "phase"),
    op.SetKit: _setter("kit"),
    op.SetBalls: _setter("balls"),
    op.SetStart: _setter("start"),
    op.SetRestarts: _setter("restarts"),
    op.SetScoring: _setter("scoring"),
    op.SetEnds: _setter("ends"),
    op.SetOnWinning: _setter("on_winning"),
    op.SetQueue: _setter("queue"),
    op.SetDirection: _setter("direction"),
    op.SetHeading: _setter("heading", "headers_per_player"),
    op.SetWork: _setter("work"),
    op.SetScene: _setter("scene"),
    op.MoveItem: _move_item,
}


def _apply_one(document: DrillDocument, change: Operation, title: str) -> DrillDocument:
    return _APPLY[type(change)](document, change, title)
