"""The questions that are asked of Fit: what works, what to offer first, and why nothing does."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from drills.game.design import Design
from drills.game.fit.changes import reasons
from drills.game.fit.distance import numbers_terms
from drills.game.fit.kit import kit_list
from drills.game.fit.refusals import refusals
from drills.game.fit.search import Found, Search
from drills.game.fit.setup import Kind, SetUp
from drills.game.fit.tonight import Tonight
from drills.game.fit.turns import rotation
from drills.game.fit.weights import DEFAULT_WEIGHTS, Weights
from drills.game.reasons import Reason
from drills.game.space import FreeSpace

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
    age: int | None = None,
    weights: Weights = DEFAULT_WEIGHTS,
    most: int = MOST_ANSWERS,
) -> list[SetUp]:
    """The set-ups that work tonight, at most 24 (or `most`), nearest to the design first; empty when none does.

    `players` is everyone, keepers among them; length and width are the free space in metres; `keepers` None means that
    anyone may be asked to keep goal; `kit` None means enough of everything, and a kind it does not list likewise;
    `age` is "under so many years". Raises ValueError naming the field for impossible input.
    """
    tonight = Tonight(players, FreeSpace(length_m, width_m), keepers, adults, kit, age)
    if not right_age(design, age):
        return []
    search = Search(design, tonight, weights)
    return [_set_up(search, found) for found in search.found(most)]


def right_age(design: Design, age: int | None) -> bool:
    if age is None:
        return True
    return (design.under_from or age) <= age <= (design.under_to or age)


def _set_up(search: Search, found: Found) -> SetUp:
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
        turned=first.place.turned,
        row=first.place.row,
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
        kit=kit_list(design, found.formats),
        reasons=reasons(design, search.tonight, found),
        turns=rotation(design, found),
    )


def _terms(search: Search, found: Found) -> dict[str, float]:
    """Each term's share of the distance; those of several grids are means. Their sum is the distance."""
    design, split, grids = search.design, found.split, len(found.formats)
    terms = {"waiting": search.waiting_term(split.waiting)}
    for fmt, ground in zip(found.formats, found.grounds, strict=True):
        each = numbers_terms(design, fmt, split.adult, search.weights)
        each |= {
            "space": ground.space,
            "shape": ground.shape,
            "rotation": search.rotation_term(fmt, split.waiting),
        }
        for name, value in each.items():
            terms[name] = terms.get(name, 0.0) + value / grids
    terms["adult"] = search.weights.adult * split.adult
    terms["apart"] = search.apart_term(split)
    terms["grids"] = search.weights.grids * (grids - 1)
    return terms


def _kind(search: Search, found: Found) -> Kind:
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
    """The best of each kind (grow, split, wait …), at most so many, none much further off than the very best.

    Resting beside other numbers than planned, and other numbers for the planned players, are only offered as the best;
    where the drill works as planned, more grids are the one thing to choose instead.
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


def explain_none(
    design: Design,
    *,
    players: int,
    length_m: float,
    width_m: float,
    keepers: int | None = None,
    adults: int = 1,
    kit: Mapping[str, int] | None = None,
    age: int | None = None,
) -> tuple[Reason, ...]:
    """Why `fit` with the same arguments answers with nothing; empty when something works."""
    tonight = Tonight(players, FreeSpace(length_m, width_m), keepers, adults, kit, age)
    asked = {
        "players": players,
        "length_m": length_m,
        "width_m": width_m,
        "keepers": keepers,
        "adults": adults,
    }
    if fit(design, **asked, kit=kit, age=age):  # type: ignore[arg-type]
        return ()
    return refusals(design, tonight)
