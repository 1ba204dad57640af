"""Going through the candidates: grids × keepers × players who wait × numbers × ways to lay the grids."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from drills.game.design import Design
from drills.game.evening import Evening
from drills.game.fit.arrays import ArrayCell, places
from drills.game.fit.candidates import formats
from drills.game.fit.distance import helpers, numbers_terms, rotates_as_teams
from drills.game.fit.ground import Ground, lay
from drills.game.fit.kit import kit_list
from drills.game.fit.rules import Rules, rules_for
from drills.game.fit.weights import DEFAULT_WEIGHTS, DistanceWeights
from drills.game.format import MOST_PLAYERS, Format

# How many of the best formats of one grid are tried beside another grid's; the very best always is.
TRIED_BESIDE = 4
TRIED_BESIDE_WITH_KIT = 6


@dataclass(frozen=True, slots=True)
class Shared:
    """Who keeps goal, and how many are left to play or to wait."""

    keepers: tuple[int, ...]  # in goal, per grid
    serving: int  # keepers without a goal
    outfield: int
    most_waiting: int  # of the outfield players
    most_off: int  # of them where nobody off is not possible


@dataclass(frozen=True, slots=True)
class Split:
    """How tonight's players are shared out before their numbers are chosen."""

    keepers: tuple[int, ...]  # in goal, per grid
    serving: int  # keepers without a goal
    outfield: tuple[int, ...]  # per grid
    waiting: int  # outfield players
    adult: int


@dataclass(frozen=True, slots=True)
class FoundSetUp:
    """A candidate that works, before it is put into words."""

    distance: float
    split: Split
    formats: tuple[Format, ...]
    grounds: tuple[Ground, ...]


class Nearest:
    """Keeps the nearest so many candidates; `limit` is the distance that a further one has to beat."""

    def __init__(self, most: int) -> None:
        self.most = most
        self.limit = math.inf
        self._kept: list[FoundSetUp] = []

    def add(self, found: FoundSetUp) -> None:
        """Take in a candidate. Of twice `most` only the nearest are kept; `limit` is then the distance of the last of them."""
        self._kept.append(found)
        if len(self._kept) >= 2 * self.most:
            self._cut()

    def _cut(self) -> None:
        self._kept.sort(key=rank)
        del self._kept[self.most :]
        if len(self._kept) == self.most:
            # A hair above, so that equally near ones are still compared by rank.
            self.limit = self._kept[-1].distance + 1e-9

    def ranked(self) -> list[FoundSetUp]:
        """The nearest candidates, at most `most`, in the order of `rank`."""
        self._cut()
        return self._kept


def rank(found: FoundSetUp) -> tuple[float, int, int, int]:
    """The nearest first; of equally near ones the fewest grids, adults in play and players waiting. The distance has no
    unit.
    """
    return found.distance, len(found.formats), found.split.adult, found.split.waiting


# One format of one grid: its own share of the distance, and where it would lie.
Option = tuple[float, Format, Ground]


class SetUpSearch:
    """One search; it remembers what it computed for a number of players, since the same come back in many splits."""

    def __init__(
        self,
        design: Design,
        tonight: Evening,
        weights: DistanceWeights = DEFAULT_WEIGHTS,
        *,
        rules: Rules | None = None,
    ) -> None:
        """On the evening's first piece of ground. `rules`: other bounds than those of tonight."""
        self.design = design
        self.tonight = tonight
        self.weights = weights
        self.rules = rules or rules_for(design, tonight)
        self._numbers: dict[tuple[int, int, int], list[tuple[float, Format, int, bool]]] = {}
        self._grounds: dict[tuple[int, int, bool, tuple[ArrayCell, ...]], Ground | None] = {}
        self._options: dict[tuple[int, int, int, tuple[ArrayCell, ...]], list[Option]] = {}
        self._kits: dict[Format, dict[str, int]] = {}
        self._rotates = rotates_as_teams(design.format, 0)

    # --- terms of the whole evening ----------------------------------------------------------------------------

    def planned_waiting(self) -> int:
        """How many of tonight's players wait by design, rounded up."""
        return math.ceil(self.design.planned_waiting * self.tonight.players - 1e-9)

    def waiting_term(self, waiting: int) -> float:
        """Its weight × the share of tonight's players who wait beyond the design's plan."""
        return self.weights.waiting * max(0, waiting - self.planned_waiting()) / self.tonight.players

    def rotation_term(self, fmt: Format, waiting: int) -> float:
        """Its weight where whole teams rotate in the design and can't in this format; else 0. No unit."""
        if not self._rotates:
            return 0.0
        return self.weights.rotation * (not rotates_as_teams(fmt, waiting))

    def once_terms(self, split: Split) -> float:
        """The terms that do not depend on the numbers chosen (waiting, apart, grids, adult), added; no unit."""
        grids, adults = self.weights.grids * (len(split.outfield) - 1), self.weights.adult * split.adult
        return self.waiting_term(split.waiting) + self.apart_term(split) + grids + adults

    def apart_term(self, split: Split) -> float:
        """Its weight × ln(players of the largest grid ÷ of the smallest); 0 for a single grid."""
        if len(split.outfield) == 1:
            return 0.0
        players = [sum(each) for each in zip(split.outfield, split.keepers, strict=True)]
        return self.weights.apart * math.log(max(players) / min(players))

    def unlike_term(self, fmts: tuple[Format, ...]) -> float:
        """Its weight where several grids play games of unlike kinds, helpers in one and none in another; else 0. No unit."""
        return self.weights.unlike * (len({helpers(fmt) for fmt in fmts}) > 1)

    # --- one grid ----------------------------------------------------------------------------------------------

    def options(self, outfield: int, keepers: int, adult: int, places: tuple[ArrayCell, ...]) -> list[Option]:
        """(distance, format, where it lies) of every format of one grid that fits one of these places, nearest first."""
        key = (outfield, keepers, adult, places)
        if key not in self._options:
            options: list[Option] = []
            for far, fmt, counted, outside in self._usable(outfield, keepers, adult):
                ground = self._ground(fmt, counted, outside, places)
                if ground is not None:
                    options.append((far + ground.far, fmt, ground))
            options.sort(key=lambda option: option[0])
            self._options[key] = options
        return self._options[key]

    def _usable(self, outfield: int, keepers: int, adult: int) -> list[tuple[float, Format, int, bool]]:
        """Formats within the drill's numbers: distance of the numbers, format, counted players, anyone outside."""
        key = (outfield, keepers, adult)
        if key not in self._numbers:
            design, usable = self.design, []
            if design.least_players <= outfield + keepers <= (design.max_players or MOST_PLAYERS):
                for fmt in formats(design.format, outfield, keepers, self.rules.bounds):
                    # An adult fills up the neutrals, never beyond the design's number.
                    if adult and fmt.neutrals >= design.format.neutrals:
                        continue
                    far = sum(numbers_terms(design, fmt, adult, self.weights).values())
                    usable.append((far, fmt, design.counted(fmt), fmt.players_outside > 0))
            self._numbers[key] = usable
        return self._numbers[key]

    def _ground(
        self, fmt: Format, counted: int, outside: bool, places: tuple[ArrayCell, ...]
    ) -> Ground | None:
        key = (fmt.players, counted, outside, places)
        if key not in self._grounds:
            most = self.rules.area_most_m2
            laid = [lay(self.design, fmt, place, self.weights, most) for place in places]
            self._grounds[key] = min((g for g in laid if g is not None), key=lambda g: g.far, default=None)
        return self._grounds[key]

    # --- all grids ---------------------------------------------------------------------------------------------

    def found(self, most: int, most_grids: int | None = None) -> list[FoundSetUp]:
        """The nearest candidates that work with tonight's players, adults, room and kit: at most `most`, nearest first.

        `most_grids` limits the grids below what the rules allow. More are off than planned only where nothing else works.
        """
        planned = self._found(most, most_grids, off=False)
        return planned or self._found(most, most_grids, off=True)

    def _found(self, most: int, most_grids: int | None, *, off: bool) -> list[FoundSetUp]:
        nearest = Nearest(most)
        for grids in range(1, min(self.rules.most_grids, most_grids or self.rules.most_grids) + 1):
            rooms = self._rooms(grids)
            for split in self.splits(grids, off=off) if rooms else ():
                once = self.once_terms(split)
                if once < nearest.limit:
                    self._lay_out(split, once, rooms, nearest)
        return nearest.ranked()

    def _rooms(self, grids: int) -> list[tuple[ArrayCell, ...]]:
        """A single grid may lie in any way; several in an array all lie the same way."""
        found = places(self.tonight.ground[0], grids, self.rules.shots)
        return [found] if grids == 1 and found else [(place,) for place in found]

    def _lay_out(
        self, split: Split, once: float, rooms: list[tuple[ArrayCell, ...]], nearest: Nearest
    ) -> None:
        per_grid = list(zip(split.outfield, split.keepers, strict=True))
        best: tuple[float, list[list[Option]]] | None = None
        for room in rooms:
            lists = [self.options(outfield, keepers, split.adult, room) for outfield, keepers in per_grid]
            if all(lists):
                mean = sum(options[0][0] for options in lists) / len(lists)
                if best is None or mean < best[0]:
                    best = mean, lists
        if best is not None and once + best[0] < nearest.limit:
            self._take(split, once, best[1], nearest)

    def _take(self, split: Split, once: float, lists: list[list[Option]], nearest: Nearest) -> None:
        beside = TRIED_BESIDE_WITH_KIT if self.tonight.kit else TRIED_BESIDE
        for chosen in _chosen(lists, beside):
            far = once + sum(option[0] for option in chosen) / len(chosen)
            if far >= nearest.limit:
                continue
            rotation = sum(self.rotation_term(option[1], split.waiting) for option in chosen) / len(chosen)
            fmts = tuple(option[1] for option in chosen)
            far += rotation + self.unlike_term(fmts)
            if self._kit_is_there(fmts):
                nearest.add(FoundSetUp(round(far, 9), split, fmts, tuple(option[2] for option in chosen)))

    def _kit_is_there(self, fmts: tuple[Format, ...]) -> bool:
        there = self.tonight.kit
        if not there:
            return True
        for fmt in fmts:
            if fmt not in self._kits:
                self._kits[fmt] = kit_list(self.design, [fmt], turns_in_goal=self.rules.turns_in_goal)
        kits = [self._kits[fmt] for fmt in fmts]
        return all(sum(kit.get(kind, 0) for kit in kits) <= count for kind, count in there.items())

    # --- sharing out -------------------------------------------------------------------------------------------

    def splits(self, grids: int, *, off: bool = False) -> Iterator[Split]:
        """Every way to share tonight's players out over so many grids.

        `off`: those alone in which more are off than planned; else the others alone.
        """
        for shared in self.shared(grids):
            counts = range(shared.most_waiting + 1)
            if off:
                counts = range(shared.most_waiting + 1, shared.most_off + 1)
            for waiting in counts:
                sizes = shares(shared.outfield - waiting, grids)
                if sizes is None:
                    continue
                for adult in range(self.most_adults_in(grids) + 1):
                    yield Split(shared.keepers, shared.serving, sizes, waiting, adult)

    def shared(self, grids: int) -> Iterator[Shared]:
        """Every way to put the keepers in goal, with who is left to play and how many of them may wait."""
        rules, players = self.rules, self.tonight.players
        for keepers, serving, outfield in self.keepers(grids):
            anyone = self.tonight.keepers is None or rules.turns_in_goal
            given_up = anyone and sum(keepers) < self.design.format.keepers * grids
            # Nobody is off beside an empty goal.
            most, off = (0, 0) if given_up else (rules.most_waiting(players), rules.most_off(players))
            yield Shared(keepers, serving, outfield, min(outfield, most), min(outfield, off))

    def keepers(self, grids: int) -> Iterator[tuple[tuple[int, ...], int, int]]:
        """Every (keepers in goal by grid, keepers who serve in turn, outfield players)."""
        design, players, there = self.design, self.tonight.players, self.tonight.keepers
        if not design.format.has_opponents and not design.format.players_inside:
            # Keepers among themselves: all train as one group, and a player who is no keeper has nothing to do.
            train = players if there is None else there
            yield (0,) * grids, players - train, train
            return
        goals = design.format.keepers
        if there is None or self.rules.turns_in_goal:
            for each in range(goals, -1, -1):
                yield (each,) * grids, 0, players - each * grids
            if grids > 1 and goals:
                vector = (goals,) * (grids - 1) + (goals - 1,)
                yield vector, 0, players - sum(vector)
        elif not goals:
            yield (0,) * grids, 0, players  # no goals to keep: the keepers play out, best outside the grid
        else:
            kept = min(there, goals * grids)
            vector = tuple(kept // grids + (number < kept % grids) for number in range(grids))
            yield vector, there - kept, players - there

    def most_adults_in(self, grids: int) -> int:
        """How many adults may play: one as a neutral, where the design has neutrals, on a single grid, if one is spare;
        else 0.
        """
        design = self.design
        adults = self.tonight.adults_for(design.adults_needed)
        spare = adults - max(design.adults_needed, 1)
        return int(grids == 1 and spare >= 1 and design.format.neutrals > 0)


def shares(outfield: int, grids: int) -> tuple[int, ...] | None:
    """Outfield players per grid, as evenly as can be: groups differ by one player at most. None for fewer than one each."""
    if outfield < grids:
        return None
    return tuple(outfield // grids + (number < outfield % grids) for number in range(grids))


def _chosen(lists: list[list[Option]], beside: int) -> Iterator[tuple[Option, ...]]:
    """One option per grid: all for a single grid, the nearest few of each for several, each set of grids once."""
    if len(lists) == 1:
        yield from ((option,) for option in lists[0])
        return
    short = [options[:beside] for options in lists]
    for picked in product(*(range(len(options)) for options in short)):
        # Grids with the same choice before them take theirs in order, so that no set comes twice.
        if all(lists[n] is not lists[n - 1] or picked[n - 1] <= picked[n] for n in range(1, len(lists))):
            yield tuple(options[place] for options, place in zip(short, picked, strict=True))
