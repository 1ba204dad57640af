"""The plan of a drill as a picture: to scale, for a page, a printed sheet and a file alike.

Classes that a page may colour: `plan` (and `plan-small`, `plan-hatched`) on the root; `paper`, `square`, `square-5`,
`grid`, `zone`, `goal`, `net`, `net-line`, `cone`, `gate-line`; `ghosts`; `player` with `side-A` … `side-neutral` and `bib-red` …
`bib-none`, inside it `body`, `hatch`, `hole`, `label`; `cross`; `ball`; `move` with `ball`, `high`, `run` or `carry`, inside
it `path` and `head`; `badge`; `lane`, `cut`; `measure`, `measure-head`; `text`, `text-2`; `papered` for words with paper behind them. A page
shows `.hatch` in print, and `.seconds` on demand, with `display: inline`; so it does `.of-open`, `.of-shut` and
`.of-seconds` of the legend while such lanes are shown. Groups carry `data-key` and `data-step` for the editor and the clock.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from drills.drawing.bibs import slug
from drills.drawing.lanes import Lane
from drills.drawing.paper import Element, el, group, hatch, picture, write
from drills.drawing.pose import Pose, pose_at
from drills.drawing.svg import arrows, figures, ghosts, ground, motion
from drills.drawing.svg.legend import legend
from drills.drawing.svg.sheet import STRIP, DrawingOptions, DrawingSheet, lay
from drills.drawing.words import describe, say_lanes, title_of
from drills.game.scene import Scene, Step

__all__ = ["DrawingOptions", "render"]

_DEFAULT = DrawingOptions()


def render(scene: Scene, *, step: int | None = None, options: DrawingOptions = _DEFAULT) -> str:
    """The scene as SVG text; the same scene and options give the same bytes.

    `step` 0 shows the set-up alone, 1 … n one step with everybody where they stand when it starts; None shows the
    set-up with the paths of all steps, numbered. With `moving` the picture has a timeline in the scene's seconds:
    everybody moves, and each step's paths are there while it lasts. Raises ValueError for a step that is not there.
    """
    if options.moving and step is not None:
        raise ValueError("moving: shows every step, so it goes without one")
    shown = _shown(scene, step)
    sheet = lay(scene, options)
    pose = pose_at(scene, shown[0][1].start_s if step else 0.0)
    height = (
        sheet.top_u + sheet.ground_height_u + (STRIP if options.measures and not options.thumbnail else 3.0)
    )
    parts = [_hatches(sheet), *_body(sheet, pose, shown)]
    if options.legend and not options.thumbnail:
        made, tall = legend(sheet, pose, shown, height + 2)
        parts.append(made)
        height += tall + 4
    cls = (
        "plan"
        + (" plan-small" if options.thumbnail else "")
        + (" plan-hatched" if options.hatched == "always" else "")
    )
    return write(
        picture(
            sheet.width_u,
            height,
            *parts,
            title=title_of(scene, options.translate),
            desc="" if options.thumbnail else _told(scene, step, options),
            prefix=options.prefix,
            cls=cls,
        )
    )


def _told(scene: Scene, step: int | None, options: DrawingOptions) -> str:
    """The text alternative: what happens, and what is said of the lanes that are drawn."""
    told = describe(scene, step=step, translate=options.translate)
    return " ".join(filter(None, (told, say_lanes(scene, options.lanes, options.translate))))


def _shown(scene: Scene, step: int | None) -> tuple[tuple[int, Step], ...]:
    every = tuple(enumerate(scene.steps, start=1))
    if step is None:
        return every
    if not 0 <= step <= len(every):
        raise ValueError(f"step: must be 0 to {len(every)}")
    return every[step - 1 : step] if step else ()


def _body(sheet: DrawingSheet, pose: Pose, shown: tuple[tuple[int, Step], ...]) -> list[Element | None]:
    """From the ground up, so that nobody is hidden by what they stand on."""
    return [
        ground.paper(sheet),
        *ground.zones(sheet),
        ground.grid(sheet),
        ground.zone_titles(sheet),
        ground.measures(sheet),
        *ground.goals(sheet),
        *ground.gates(sheet),
        *ground.cones(sheet),
        ghosts.ghosts(sheet, pose),
        *arrows.lanes(sheet, sheet.options.lanes),
        *_moments(sheet, lambda _, lanes: arrows.lanes(sheet, lanes)),
        *_paths(sheet, pose, shown),
        figures.coach(sheet),
        *_people_and_balls(sheet, pose),
        *arrows.lane_marks(sheet, pose, sheet.options.lanes, shown[0][1] if len(shown) == 1 else None),
        *_moments(
            sheet,
            lambda step, lanes: arrows.lane_marks(sheet, pose_at(sheet.scene, step.start_s), lanes, step),
        ),
    ]


def _paths(sheet: DrawingSheet, pose: Pose, shown: tuple[tuple[int, Step], ...]) -> list[Element]:
    drawn = list(arrows.steps(sheet, shown, pose))
    if sheet.options.moving:
        motion.shown_in_turn(drawn, [each for _, each in shown])
    return drawn


def _people_and_balls(sheet: DrawingSheet, pose: Pose) -> Iterator[Element]:
    if sheet.options.moving:
        yield from motion.figures_in_motion(sheet, figures.players(sheet, pose))
        return
    yield figures.players(sheet, pose)
    yield from figures.balls(sheet, pose)


def _moments(
    sheet: DrawingSheet, draw: Callable[[Step, tuple[Lane, ...]], Iterator[Element]]
) -> Iterator[Element]:
    """The lanes at the start of each step, hidden until a page shows them."""
    pairs = zip(sheet.scene.steps, sheet.options.moments, strict=False)
    for number, (step, lanes) in enumerate(pairs, start=1):
        if lanes:
            yield group(draw(step, lanes), cls="lanes", data_step=str(number), display="none")


def _hatches(sheet: DrawingSheet) -> Element | None:
    if sheet.options.hatched == "no" or sheet.thumbnail:
        return None
    names = sorted({slug(each.bib) for each in sheet.scene.players if each.kind != "adult"})
    return el("defs", *(hatch(sheet.options.prefix, each) for each in names)) if names else None
