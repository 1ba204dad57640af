"""What the page for drawing is told: where it begins, and what a drawing looks like and says of itself."""

from collections import Counter
from collections.abc import Iterator
from typing import Any, get_args

import msgspec
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from drills.drawing.picture import scene_as_written
from drills.drawing.reading import Reading, read
from drills.drawing.svg import DrawingOptions, render
from drills.drawing.svg.sheet import lay
from drills.drawing.words import CLAIMS, player_name, say_claim, say_receiver, say_step
from drills.game.bibs import free_colour
from drills.game.document import DrillDocument
from drills.game.scene import (
    COACH_KEY,
    ClaimKind,
    Scene,
    SceneBall,
    SceneGate,
    SceneGoal,
    ScenePlayer,
    SceneZone,
    Side,
)
from drills.game.variations import own_scene, played, with_own_scene
from drills.pages.plan import reason_words, seconds

# Which fields of a claim its kind asks for; every one may name a step.
CLAIM_FIELDS: dict[ClaimKind, tuple[str, ...]] = {
    "third player finishes": ("who",),
    "everyone touches it": (),
    "switch of side": (),
    "through a gate": ("gate",),
    "into a zone": ("zone",),
    "passes": ("number",),
    "goal": ("goal",),
    "lane is open": ("who", "receiver"),
    "lane is shut": ("who", "receiver"),
}
CLAIM_LABELS: dict[ClaimKind, str] = {
    "passes": gettext_noop("So many passes"),
    "lane is open": gettext_noop("A pass is open at the start of a step"),
    "lane is shut": gettext_noop("A pass is closed at the start of a step"),
}
LEAST_SIDES = ("A", "B", "neutral")  # offered in every drill


def drawn_start(document: DrillDocument, key: str = "") -> dict[str, Any]:
    """Where a drawing of a rung begins: the one by hand if there is one, the generated layout, and the rung's grid.

    Raises KeyError for a rung that is not there.
    """
    doc, own, generated = played(document, key), own_scene(document, key), generated_scene(document, key)
    reading = read(doc, generated)
    return {
        "rung": key,
        "scene": plain_scene(own or generated),
        "by_hand": own is not None,
        "generated": plain_scene(generated),
        "grid": {"length_m": doc.grids[0].length_m, "width_m": doc.grids[0].width_m},
        "bibs": _bibs_of_sides(generated),
        "pace": {"ball": reading.pace.ball_speed, "run": reading.pace.defender_speed},
        "claims": {kind: list(fields) for kind, fields in CLAIM_FIELDS.items()},
    }


def _bibs_of_sides(scene: Scene) -> dict[Side, str]:
    """What a player wears who is put down for a side: the bib of that side, or one that no other side wears."""
    worn: dict[Side, str] = {each.side: each.bib for each in scene.players if each.bib}
    for side in get_args(Side):
        worn.setdefault(side, free_colour(side, worn.values()))
    return {side: worn[side] for side in get_args(Side)}


def rungs_to_draw(document: DrillDocument) -> list[tuple[str, str, bool]]:
    """Key, title and whether there is a drawing of its own: the drill as written, then its rungs."""
    rungs = [("", _("As written")), *((each.key, each.title) for each in document.variations)]
    return [(key, title, own_scene(document, key) is not None) for key, title in rungs]


def claim_kinds() -> list[tuple[str, str]]:
    """What a text may say that the moves show, for a list to choose from."""
    return [(kind, _(CLAIM_LABELS.get(kind, CLAIMS[kind]))) for kind in CLAIM_FIELDS]


def sides_of(start: dict[str, Any]) -> list[tuple[str, str]]:
    """The sides that can be put down, with their bibs: those of the drill, and always two and neutrals."""
    used = {each.get("side", "A") for each in start["scene"]["players"] + start["generated"]["players"]}
    return [(side, bib) for side, bib in start["bibs"].items() if side in used or side in LEAST_SIDES]


def generated_scene(document: DrillDocument, key: str = "") -> Scene:
    """The layout that the text describes, whatever was drawn by hand; for a rung, the drill's drawing laid again."""
    if not key:
        return scene_as_written(msgspec.structs.replace(document, scene=None, variations=()))
    return scene_as_written(with_own_scene(document, key, None), key)


def scene_to_draw(document: DrillDocument, key: str = "") -> Scene:
    """What stands on the sheet at first: the drawing by hand where there is one."""
    return own_scene(document, key) or generated_scene(document, key)


def plain_scene(scene: Scene) -> dict[str, Any]:
    """A scene as plain data."""
    made: dict[str, Any] = msgspec.to_builtins(scene)
    return made


def drawn_look(
    document: DrillDocument, scene: Scene, *, key: str = "", step: int | None = None, lanes: bool = False
) -> dict[str, Any]:
    """The drawing as a picture, how metres lie on it, its names, its checks, its claims and its open lanes."""
    reading, names = read(played(document, key), scene), dict(_names(scene))
    moment = next((each for each in reading.moments if each.number == step), None)
    shown = moment.lanes if lanes and moment else ()
    options = DrawingOptions(prefix="draw-", legend=False, lanes=shown, seconds="always", translate=_)
    sheet = lay(scene, options)
    return {
        "svg": render(scene, step=step, options=options),
        "sheet": {
            name: getattr(sheet, name)
            for name in ("unit_per_m", "left_m", "top_m", "left_u", "top_u", "radius_u")
        },
        "names": names,
        "reasons": [
            {
                "level": "stop" if each.severity == "error" else "warning",
                "text": reason_words(each),
                "items": list(each.items),
            }
            for each in reading.reasons
        ],
        "claims": [
            {
                "text": say_claim(scene, claim, _),
                "shown": found is True,
                "missing": _(found) if isinstance(found, str) else "",
            }
            for claim, found in reading.claims
        ],
        "steps": list(_steps(scene, reading, names)),
    }


def _steps(scene: Scene, reading: Reading, names: dict[str, str]) -> Iterator[dict[str, Any]]:
    known = {each.number: each for each in reading.moments}
    for number in range(1, len(scene.steps) + 1):
        moment = known.get(number)
        lanes = moment.lanes if moment else ()
        yield {
            "words": say_step(scene, number, _),
            "on_ball": names.get(moment.passer or "", "") if moment else "",
            "open": moment.open if moment else 0,
            "lanes": [
                {
                    "to": names[each.receiver],
                    "open": each.open,
                    "margin": seconds(each.margin_s),
                    "cut_by": names.get(each.cut_by or "", ""),
                    "awaits": say_receiver(each, names, _),
                }
                for each in lanes
            ],
        }


def _names(scene: Scene) -> Iterator[tuple[str, str]]:
    """A name for every key; those who share one are told apart by their edge, or counted."""
    counts: dict[type, int] = {}
    given: dict[str, str] = {}
    for each in scene.items():
        counts[type(each)] = counts.get(type(each), 0) + 1
        given[each.key] = _name(each, counts[type(each)])
    shared = Counter(given.values())
    seen: Counter[str] = Counter()
    for key, name in given.items():
        item = scene.item(key)
        edge = item.edge if isinstance(item, ScenePlayer) and shared[name] > 1 else None
        known = _("{name}, {edge}").format(name=name, edge=_(edge)) if edge else name
        seen[known] += 1
        yield key, known if seen[known] == 1 else f"{known} ({seen[known]})"
    yield COACH_KEY, _("Coach")


def _name(item: Any, number: int) -> str:
    if isinstance(item, ScenePlayer):
        return player_name(item, _)
    if isinstance(item, SceneZone):
        return item.title or _("Zone {n}").format(n=number)
    if isinstance(item, SceneGoal):
        return _("Goal {name}").format(name=item.label or number)
    if isinstance(item, SceneBall):
        return (
            _("{count} balls").format(count=item.count) if item.count > 1 else _("Ball {n}").format(n=number)
        )
    return (_("Gate {n}") if isinstance(item, SceneGate) else _("Cone {n}")).format(n=number)
