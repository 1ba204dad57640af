"""The ladder of one station as a phone climbs it: each rung's change, its open condition and its plan."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from club.caches import MIB, remembered
from drills.drawing.picture import scene_of
from drills.drawing.svg import Options, render
from drills.game.document import DrillDocument, Limit, WhenThen
from drills.game.evening import Evening
from drills.game.fit import SetUp
from drills.game.fits import fits
from drills.game.format import Format
from drills.game.sentences import Names, say, say_change, say_grid
from drills.game.steps import Steps, in_order, steps
from drills.game.variations import apply, find
from drills.game.wording import sentence
from drills.queries import StationDrill


@dataclass(frozen=True)
class KeptSetup:
    """What a picture needs of a set-up that was accepted: the numbers and the size of its first grid, in metres."""

    format: Format
    length_m: float
    width_m: float
    waiting: int
    grids: int

    @classmethod
    def of(cls, kept: Mapping[str, Any]) -> "KeptSetup":
        return cls(
            format=Format.parse(kept["format"]),
            length_m=float(kept["length_m"]),
            width_m=float(kept["width_m"]),
            waiting=int(kept["waiting"]),
            grids=int(kept["grids"]),
        )

    @classmethod
    def fitted(cls, setup: SetUp) -> "KeptSetup":
        return cls(setup.format, setup.length_m, setup.width_m, setup.waiting, setup.grids)


@dataclass(frozen=True)
class RungShown:
    """One rung. `plan` numbers the picture that shows it, since rungs that change no ground share one."""

    key: str
    title: str
    side: str
    numbers: str
    changes: list[str]
    condition: str
    conditions: list[str]
    plan: int
    is_now: bool
    steps: Steps


@dataclass(frozen=True)
class Ladder:
    """Rungs from the easiest to the hardest, and their pictures."""

    rungs: list[RungShown]
    plans: list[SafeString]

    @property
    def now(self) -> RungShown:
        return next(each for each in self.rungs if each.is_now)


def ladder(
    drill: StationDrill,
    key: str,
    *,
    setup: Mapping[str, Any] | None,
    evening: Evening | None,
    prefix: str,
    middle: str | None = None,
) -> Ladder:
    """The rungs of a station's drill. `key` is the one that is played; with a set-up each rung is drawn as it fits.

    `middle` is the planned rung where another one is played: rungs that lead sideways are shown only if planned.
    """
    tonight = (KeptSetup.of(setup), evening) if setup is not None and evening is not None else None
    middle = key if middle is None else middle
    return _ladder(drill, key, middle, tonight, prefix, get_language())


def _ladder_key(
    drill: StationDrill, key: str, middle: str, tonight: tuple[KeptSetup, Evening] | None, *more: str
) -> tuple[Any, ...]:
    """A pinned revision never changes: its digest stands for its document."""
    return drill.sha256, key, middle, (tonight[0], tonight[1].fit_key()) if tonight else None, *more


@remembered(most_bytes=12 * MIB, key=_ladder_key)
def _ladder(
    drill: StationDrill,
    key: str,
    middle: str,
    tonight: tuple[KeptSetup, Evening] | None,
    prefix: str,
    language: str,
) -> Ladder:
    document = drill.document
    pictures: dict[str, int] = {}
    plans: list[SafeString] = []
    rungs = []
    for each in _keys(document, middle):
        scene = scene_of(document, each, setup=_tonight(document, each, key, tonight))
        bare = render(scene, options=_options("-"))
        if bare not in pictures:
            pictures[bare] = len(plans)
            plans.append(mark_safe(render(scene, options=_options(f"{prefix}{len(plans)}-"))))
        rungs.append(_rung(document, each, key, pictures[bare]))
    return Ladder(rungs, plans)


def _options(prefix: str) -> Options:
    return Options(prefix=prefix, legend=False, hatched="no", translate=_)


def _keys(document: DrillDocument, key: str) -> list[str]:
    """Easiest first; last the one that is planned, where it leads sideways."""
    keys, planned = in_order(document), find(document, key)
    return [*keys, *([] if planned is None or planned.key in keys else [planned.key])]


def _tonight(
    document: DrillDocument, each: str, key: str, tonight: tuple[KeptSetup, Evening] | None
) -> KeptSetup | None:
    """The rung that is played with its accepted set-up; another one with what fits it best on the same evening."""
    if tonight is None:
        return None
    kept, evening = tonight
    if each == key:
        return kept
    found = fits(document, each, evening, most=1)
    return KeptSetup.fitted(found[0]) if found else None


def _rung(document: DrillDocument, each: str, key: str, plan: int) -> RungShown:
    variation = find(document, each)
    doc = apply(document, variation)
    names, before = Names.of(doc, _), Names.of(document, _)
    changes = [say_change(change, document, doc, before) for change in variation.changes] if variation else []
    conditions = [sentence(say(condition, names)) for condition in doc.conditions]
    return RungShown(
        key=each,
        title=variation.title if variation else _("as written"),
        side=variation.rung.value if variation else "base",
        numbers=f"{doc.format} · {say_grid(doc.grids[0])}",
        changes=changes,
        condition=open_condition(doc, names),
        conditions=conditions,
        plan=plan,
        is_now=each == key,
        steps=steps(document, each),
    )


def open_condition(doc: DrillDocument, names: Names) -> str:
    """The condition that play is about: what opens something goes before what limits, that before scoring."""
    for kind in (WhenThen, Limit):
        found = next((each for each in doc.conditions if isinstance(each, kind)), None)
        if found is not None:
            return sentence(say(found, names))
    return sentence(doc.scoring[0].what) if doc.scoring else ""


def without_plans(found: Ladder) -> Ladder:
    """The same ladder with the planned rung's picture alone, for a page that would grow too heavy."""
    kept = found.now.plan
    return Ladder([replace(each, plan=0) for each in found.rungs], [found.plans[kept]])
