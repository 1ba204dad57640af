"""The plan of a drill: the one drawn by hand where there is one, else the start layout that its text describes."""

from __future__ import annotations

from collections.abc import Mapping

from drills.drawing.relay import Relaid, relay
from drills.game.document.drill import DrillDocument
from drills.game.places import Tonights, lay_out, layout_of
from drills.game.scene import Scene
from drills.game.variations import played


def scene_of(
    document: DrillDocument,
    variation_key: str = "",
    *,
    setup: Tonights | None = None,
    bibs: Mapping[str, str] | None = None,
    grid_key: str = "",
) -> Scene:
    """The plan of a variation, as written or with tonight's set-up (its first grid): that of `laid`."""
    return laid(document, variation_key, setup=setup, bibs=bibs, grid_key=grid_key).scene


def laid(
    document: DrillDocument,
    variation_key: str = "",
    *,
    setup: Tonights | None = None,
    bibs: Mapping[str, str] | None = None,
    grid_key: str = "",
) -> Relaid:
    """The plan, and what of the drawing by hand has no place on it.

    `bibs` maps A, B, C, D, neutral to the colours there are tonight. Without a drawing it is the generated layout. A
    drawing stands as it is where the drill is played as written, and is laid again for other numbers, another grid or
    other bibs. Raises KeyError for an unknown key, and UnclearFormat.
    """
    doc = played(document, variation_key)
    as_written = setup is None and not bibs and grid_key in ("", doc.grids[0].key)
    if doc.scene is not None and as_written:
        return Relaid(doc.scene)
    layout = layout_of(doc, setup=setup, bibs=bibs, grid_key=grid_key)
    drawn = doc.scene or document.scene
    if drawn is None:
        return Relaid(lay_out(layout))
    changed = any(getattr(doc, name) != getattr(document, name) for name in ("goals", "zones", "gates"))
    return relay(drawn, layout, things=changed and doc.scene is None, under=doc.under_to)
