"""The ladder of one station as a phone climbs it: each rung's change, its open condition and its plan."""

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from club.caches import MIB, remembered
from drills.drawing.picture import scene_of
from drills.drawing.svg import DrawingOptions, render
from drills.game.document import DrillDocument, Limit, WhenThen
from drills.game.evening import Evening, PlayerAges
from drills.game.fit.serialize import KeptSetUp, as_plain
from drills.game.fits import fits
from drills.game.played import Played, as_played, dressed
from drills.game.scene import Scene
from drills.game.sentences import Names, rules_of, say_change, say_grid
from drills.game.steps import Steps, in_order, steps
from drills.game.variations import apply, find
from drills.game.wording import sentence, text_of
from drills.pages import grid_words, told
from drills.queries import StationDrill
from sessions.bridge import setup_kept
from sessions.pages.pitch.tonight import headline
from sessions.queries.plan import PartView


@dataclass(frozen=True)
class RungShown:
    """One rung. `plan` numbers the picture that shows it, since rungs that change no ground share one."""

    key: str
    title: str
    side: str
    numbers: str
    changes: list[str]
    condition: str
    rules: list[str]  # every rule, phase, score and restart, whole
    colours: list[str]
    plan: int
    is_now: bool
    steps: Steps


@dataclass(frozen=True)
class RungLadder:
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
    kept: KeptSetUp | None,
    evening: Evening | None,
    prefix: str,
    ages: PlayerAges,
    middle: str | None = None,
) -> RungLadder:
    """The rungs of a station's drill. `key` is the one that is played; with a set-up each rung is drawn as it fits.

    `middle` is the planned rung where another one is played: rungs that lead sideways are shown only if planned.
    """
    tonight = (kept, evening) if kept is not None and evening is not None else None
    return _ladder(drill, key, key if middle is None else middle, tonight, ages, prefix, get_language())


def _ladder_key(
    drill: StationDrill, key: str, middle: str, tonight: tuple[KeptSetUp, Evening] | None, *more: Any
) -> tuple[Any, ...]:
    """A pinned revision never changes: its digest stands for its document."""
    if tonight is None:
        return drill.sha256, key, middle, None, *more
    kept, evening = tonight
    return drill.sha256, key, middle, json.dumps(as_plain(kept), sort_keys=True), evening.fit_key(), *more


@remembered(most_bytes=9 * MIB, key=_ladder_key)
def _ladder(
    drill: StationDrill,
    key: str,
    middle: str,
    tonight: tuple[KeptSetUp, Evening] | None,
    ages: PlayerAges,
    prefix: str,
    language: str,
) -> RungLadder:
    document = drill.document
    pictures: dict[str, int] = {}
    plans: list[SafeString] = []
    rungs = []
    for each in _keys(document, middle):
        run = _run(document, each, key, tonight, ages)
        scenes = [scene_of(run, grid) for grid, _times in run.pictures]
        bare = "".join(render(scene, options=_options("-")) for scene in scenes)
        if bare not in pictures:
            pictures[bare] = len(plans)
            plans.append(plan_of_grids(run, scenes, f"{prefix}{len(plans)}-"))
        rungs.append(rung_shown(run, key, pictures[bare]))
    return RungLadder(rungs, plans)


def plan_of_grids(run: Played, scenes: Sequence[Scene], prefix: str) -> SafeString:
    """The plan of every grid that differs, with what it is where there are several."""
    drawn = [
        (mark_safe(render(scene, options=_options(f"{prefix}{number or ''}"))), words)
        for number, (scene, words) in enumerate(zip(scenes, grid_words(run), strict=True))
    ]
    if len(drawn) == 1 and not drawn[0][1]:
        return drawn[0][0]
    each = format_html_join("", '<span class="grid-plan">{}<small class="second">{}</small></span>', drawn)
    return format_html('<span class="grid-plans">{}</span>', each)


def _options(prefix: str) -> DrawingOptions:
    return DrawingOptions(prefix=prefix, legend=False, hatched="no", translate=_)


def _keys(document: DrillDocument, key: str) -> list[str]:
    """Easiest first; last the one that is planned, where it leads sideways."""
    keys, planned = in_order(document), find(document, key)
    return [*keys, *([] if planned is None or planned.key in keys else [planned.key])]


def _run(
    document: DrillDocument, each: str, key: str, tonight: tuple[KeptSetUp, Evening] | None, ages: PlayerAges
) -> Played:
    """The rung that is played with its accepted set-up; another one with what fits it best on the same evening."""
    if tonight is None:
        return as_played(document, each, players=ages)
    kept, evening = tonight
    if each == key:
        return as_played(document, each, kept.setup, kept.bibs, players=ages)
    found = fits(document, each, evening, most=1)
    if not found:
        return as_played(document, each, players=ages)
    return dressed(document, each, found[0], replace(evening, ages=ages))


def rung_shown(run: Played, key: str, plan: int = 0) -> RungShown:
    """One rung as it is run in words; `key` is the one that is played."""
    variation = find(run.base, run.rung)
    written = apply(run.base, variation)
    before = Names.of(run.base, _, run.first.wear)
    changes = (
        [say_change(change, run.base, written, before) for change in variation.changes] if variation else []
    )
    said = told(run)
    return RungShown(
        key=run.rung,
        title=variation.title if variation else _("as written"),
        side=variation.rung.value if variation else "base",
        numbers=_numbers(run, written),
        changes=changes,
        condition=open_condition(run),
        rules=list(said.how),
        colours=list(said.colours),
        plan=plan,
        is_now=run.rung == key,
        steps=steps(run.base, run.rung),
    )


def _numbers(run: Played, written: DrillDocument) -> str:
    """What the plan beside it shows."""
    if run.setup is None:
        return f"{written.format} · {say_grid(written.grids[0])}"
    return headline(run.setup)


def open_condition(run: Played) -> str:
    """The condition that play is about: what opens something goes before what limits, that before scoring."""
    document = run.document
    rules = rules_of(document, run.names(_))
    kinds = {each.key: type(each) for each in document.conditions}
    for kind in (WhenThen, Limit):
        found = next((each for each in rules if kinds[each.keys[0]] is kind), None)
        if found is not None:
            return sentence(text_of(found.said, _))
    return sentence(document.scoring[0].what) if document.scoring else ""


def ladder_of(part: PartView, ages: PlayerAges) -> RungLadder | None:
    """The ladder of a part's first station, with every rung's plan; None where it has no drill."""
    station = part.first
    if station is None or station.drill is None:
        return None
    return ladder(
        station.drill,
        station.row.variation_key,
        kept=setup_kept(station.row),
        evening=station.evening,
        prefix=f"p{part.number}-",
        ages=ages,
    )


def planned_alone(found: RungLadder | None) -> RungLadder | None:
    """The same ladder with the planned rung's picture alone: the clock waits for no other, and they come along after it."""
    if found is None:
        return None
    kept = found.now.plan
    return RungLadder([replace(each, plan=0) for each in found.rungs], [found.plans[kept]])
