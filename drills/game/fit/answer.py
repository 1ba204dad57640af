"""The questions that are asked of Fit: what works, what to offer first, and why nothing does."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from drills.game.design import Design
from drills.game.evening import Evening, Piece, PlayerAges
from drills.game.fit.changes import reasons
from drills.game.fit.distance import numbers_terms
from drills.game.fit.kit import kit_list
from drills.game.fit.refusals import refusals
from drills.game.fit.search import FoundSetUp, SetUpSearch
from drills.game.fit.setup import Kind, SetUp
from drills.game.fit.turns import rotation
from drills.game.fit.weights import DEFAULT_WEIGHTS, DistanceWeights
from drills.game.reasons import Reason

MOST_ANSWERS = 24
# A first answer of another kind is only offered when it is not much further from the design than the best one.
FIRST_WITHIN = 0.45


def fit(
    design: Design,
    *,
    players: int,
    length_m: float,
    width_m: float,
    keepers: int | None = None,
    adults: int = 1,
    kit: Mapping[str, int] | None = None,
    weights: DistanceWeights = DEFAULT_WEIGHTS,
    most: int = MOST_ANSWERS,
) -> list[SetUp]:
    """The set-ups that work on one piece of ground, at most 24 (or `most`), nearest to the design first; empty when none does.

    `players` is everyone, keepers among them; length and width are the free space in metres; `keepers` None means that
    anyone may be asked to keep goal; `kit` counts what there is of the kinds it lists, of others there is enough.
    Raises ValueError naming the field for impossible input.
    """
    tonight = Evening(players, keepers, adults, pieces=(Piece("", length_m, width_m),), kit=dict(kit or {}))
    return fit_on(design, tonight, weights=weights, most=most)


def fit_on(
    design: Design, tonight: Evening, *, weights: DistanceWeights = DEFAULT_WEIGHTS, most: int = MOST_ANSWERS
) -> list[SetUp]:
    """The set-ups that work on the largest piece of an evening's ground, at most `most`, nearest to the design first.

    Empty where none does, and where the drill is for other ages than tonight's.
    """
    if not right_age(design, tonight.ages):
        return []
    search = SetUpSearch(design, tonight, weights)
    return [_set_up(search, found) for found in search.found(most)]


def right_age(design: Design, ages: PlayerAges | None) -> bool:
    """Whether some of tonight's year groups are among those that the drill is for; True where no ages are known."""
    if ages is None:
        return True
    too_young = None not in (design.under_from, ages.under_high) and (ages.under_high or 0) < (
        design.under_from or 0
    )
    return not too_young and (design.under_to is None or ages.under_low <= design.under_to)


def _set_up(search: SetUpSearch, found: FoundSetUp) -> SetUp:
    design, split, first = search.design, found.split, found.grounds[0]
    return SetUp(
        format=found.formats[0],
        grids=len(found.formats),
        grid_formats=found.formats,
        grid_sizes=tuple((ground.grid.length_m, ground.grid.width_m) for ground in found.grounds),
        waiting=split.waiting + split.serving,
        waiting_beyond=max(0, split.waiting - search.planned_waiting()),
        serving=split.serving,
        length_m=first.grid.length_m,
        width_m=first.grid.width_m,
        piece=search.tonight.ground[0].key,
        turned=first.place.turned,
        columns=first.place.columns,
        rows=first.place.rows,
        extent_m=_extent(found),
        run_off_m=float(min(first.place.run_off_m)),
        strip_m=min(ground.strip_m for ground in found.grounds),
        area_per_player_m2=first.grid.area_m2 / design.counted(found.formats[0])
        if design.area_matters
        else None,
        adult_plays=split.adult,
        keepers=sum(fmt.keepers for fmt in found.formats),
        distance=found.distance,
        terms=_terms(search, found),
        kind=_kind(search, found),
        as_designed=set(found.formats) == {design.format},
        kit=kit_list(design, found.formats, turns_in_goal=search.rules.turns_in_goal),
        reasons=reasons(design, search.tonight, found),
        turns=rotation(design, found),
    )


def _extent(found: FoundSetUp) -> tuple[float, float]:
    """What all grids take with the gaps between them, along the length of the piece and across."""
    sides = [
        (ground.grid.width_m, ground.grid.length_m)
        if ground.place.turned
        else (ground.grid.length_m, ground.grid.width_m)
        for ground in found.grounds
    ]
    place = found.grounds[0].place
    along = place.columns * max(long for long, _ in sides) + place.gaps_m[0] * (place.columns - 1)
    across = place.rows * max(wide for _, wide in sides) + place.gaps_m[1] * (place.rows - 1)
    return along, across


def _terms(search: SetUpSearch, found: FoundSetUp) -> dict[str, float]:
    """Each term's share of the distance; those of several grids are means. Their sum is the distance."""
    design, split, grids = search.design, found.split, len(found.formats)
    terms = {"waiting": search.waiting_term(split.waiting)}
    for fmt, ground in zip(found.formats, found.grounds, strict=True):
        each = numbers_terms(design, fmt, split.adult, search.weights)
        each |= {
            "space": ground.space,
            "shape": ground.shape,
            "margin": ground.margin,
            "rotation": search.rotation_term(fmt, split.waiting),
        }
        for name, value in each.items():
            terms[name] = terms.get(name, 0.0) + value / grids
    terms["adult"] = search.weights.adult * split.adult
    terms["apart"] = search.apart_term(split)
    terms["unlike"] = search.unlike_term(found.formats)
    terms["grids"] = search.weights.grids * (grids - 1)
    return terms


def _kind(search: SetUpSearch, found: FoundSetUp) -> Kind:
    fmt, planned = found.formats[0], search.design.format
    if len(found.formats) > 1:
        return "split"
    if found.split.waiting > search.planned_waiting():
        return "wait"
    if fmt == planned:
        return "same"
    if fmt.players == planned.players:
        return "regroup"
    return "grow" if fmt.players > planned.players else "shrink"


def first_answers(set_ups: Iterable[SetUp], most: int = 3) -> list[SetUp]:
    """The nearest set-up of each kind, nearest first: at most `most`, none further than `FIRST_WITHIN` behind the first.

    Where the nearest is the design as planned, only a split over several grids stands beside it. Else any kind does, but
    other numbers for the planned players ("regroup") never, and resting ("wait") only with the design's own numbers.
    """
    ranked = sorted(set_ups, key=lambda each: each.distance)
    first: dict[Kind, SetUp] = {}
    for each in ranked:
        if each is ranked[0] or _worth_a_choice(ranked[0], each):
            first.setdefault(each.kind, each)
    return [each for each in first.values() if each.distance <= ranked[0].distance + FIRST_WITHIN][:most]


def _worth_a_choice(best: SetUp, other: SetUp) -> bool:
    if best.kind == "same":
        return other.kind == "split"
    return other.as_designed or other.kind not in ("wait", "regroup")


def explain_none(design: Design, tonight: Evening) -> tuple[Reason, ...]:
    """Why `fit_on` answers with nothing: each cause with its amount; empty when something works."""
    return () if fit_on(design, tonight, most=1) else refusals(design, tonight)
