"""A drill as it is run tonight: its rung, set-up and bibs in one value."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from drills.game.bibs import Wear, bibs_for, bibs_in, in_colours
from drills.game.document.choices import GoalSize
from drills.game.document.content import Goal
from drills.game.document.drill import DrillDocument
from drills.game.evening import Evening, PlayerAges
from drills.game.fit.kit import BIBS, kit_list
from drills.game.fit.setup import SetUp
from drills.game.pitches import GoalFrame, goal_of
from drills.game.playable import design_of
from drills.game.played.document import document_tonight
from drills.game.played.grids import GridTonight, grids_tonight
from drills.game.sentences import Names
from drills.game.variations import played
from drills.game.wording.rendering import Translate, as_written
from drills.game.wording.shapes import Sentence


@dataclass(frozen=True)
class Played:
    """A drill as it is run. `document` speaks of the first grid; `base` is the drill without its rung, in the same colours.

    `setup` None: as it is written, with the ranges of its groups as they stand. `written` is what all was made from.
    """

    written: DrillDocument
    base: DrillDocument
    rung: str
    document: DrillDocument
    setup: SetUp | None
    grids: tuple[GridTonight, ...]
    grid_key: str = ""
    goal: GoalFrame | None = None  # tonight's age group's own; None: nobody said who plays

    @property
    def has_own_goals(self) -> bool:
        """Whether goals stand that are as large as those of tonight's matches."""
        return self.goal is not None and any(is_age_groups(each) for each in self.document.goals)

    @property
    def first(self) -> GridTonight:
        """The grid that `document` speaks of."""
        return self.grids[0]

    @cached_property
    def kit(self) -> dict[str, int]:
        """What has to be carried, by kind; as many bibs as are worn, not the fewest that would do."""
        setup = self.setup
        kit = setup.kit if setup else kit_list(design_of(self.written, self.rung), [self.first.format])
        worn = sum(self.bibs.values())
        return {**{kind: n for kind, n in kit.items() if kind != BIBS}, **({BIBS: worn} if worn else {})}

    @cached_property
    def pictures(self) -> tuple[tuple[GridTonight, int], ...]:
        """The grids that differ, each with how many there are of it."""
        found: list[tuple[GridTonight, int]] = []
        for grid in self.grids:
            place = next((n for n, (each, _) in enumerate(found) if grid.like(each)), None)
            if place is None:
                found.append((grid, 1))
            else:
                found[place] = found[place][0], found[place][1] + 1
        return tuple(found)

    def names(self, translate: Translate = as_written) -> Names:
        """What everything is called tonight."""
        return Names.of(self.document, translate, self.first.wear)

    @property
    def off(self) -> int:
        """Players who are off at one time."""
        return sum(each.off for each in self.grids)

    @cached_property
    def bibs(self) -> dict[str, int]:
        """How many bibs of each colour are worn, over all grids, those who are off among them; keepers wear their own."""
        found: dict[str, int] = {}
        for grid in self.grids:
            for each in (*grid.groups, *grid.waiting):
                if each.bib and not each.keeps_goal:
                    found[each.bib] = found.get(each.bib, 0) + each.count
        return found

    @property
    def other_colours(self) -> tuple[Sentence, ...]:
        """Who wears what on a grid whose colours are not those of the words: a sentence for each such grid."""
        first = self.first
        said = []
        for grid in self.grids[1:]:
            pairs = tuple(
                Sentence("colour_for_colour", {"tonight": grid.worn[side], "words": first.worn[side]})
                for side in grid.worn
                if side in first.worn and grid.worn[side] != first.worn[side]
            )
            if pairs:
                said.append(Sentence("grid_in_other_colours", {"number": grid.number, "pairs": pairs}))
        return tuple(said)


def as_played(
    document: DrillDocument,
    rung: str = "",
    setup: SetUp | None = None,
    bibs: Sequence[Wear] = (),
    *,
    grid_key: str = "",
    players: PlayerAges | None = None,
) -> Played:
    """A rung as it is run with a set-up (as it is written without one), in the bibs of each grid (`bibs_for`).

    `players` says whose goals stand on it. Raises KeyError for an unknown rung or grid, CannotApply, and UnclearFormat.
    """
    wear = bibs[0] if bibs else {}
    base = in_colours(document, wear)
    doc = played(base, rung)
    grids = tuple(grids_tonight(played(document, rung), setup, bibs, grid_key))
    first = grids[0]
    tonights = doc if setup is None else document_tonight(doc, setup, first)
    goal = None if players is None else goal_of(players)
    return Played(document, base, rung, tonights, setup, grids, grid_key, goal)


def is_age_groups(goal: Goal) -> bool:
    """Whether it is a goal of a match, without a width of its own: it stands in the size of tonight's age."""
    return goal.size in (GoalSize.AGE_GROUP, GoalSize.FULL) and goal.width_m is None


def dressed(document: DrillDocument, rung: str, setup: SetUp, evening: Evening) -> Played:
    """A set-up that has only been offered, in the bibs that it would be written down with."""
    bibs = bibs_tonight(document, rung, setup, evening)
    return as_played(document, rung, setup, bibs, players=evening.ages)


def bibs_tonight(document: DrillDocument, rung: str, setup: SetUp, evening: Evening) -> tuple[Wear, ...]:
    """What each grid of a set-up wears, out of the bibs of the evening's kit."""
    doc = played(document, rung)
    return bibs_for(doc, setup.grid_formats, bibs_in(evening.kit), waiting=setup.waiting)
