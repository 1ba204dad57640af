"""What changed against the design, as sentences a coach would say."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from drills.game.design import Design
from drills.game.evening import Evening
from drills.game.fit.ground import Ground
from drills.game.fit.rules import TURNS_IN_GOAL_UNDER, YOUNGEST_UNDER, is_under
from drills.game.fit.search import FoundSetUp
from drills.game.format import Format
from drills.game.margins import RUN_OFF_WISHED_M
from drills.game.reasons import ChangeClass, Reason
from drills.game.space import ALL_EDGES, STRIP_WISHED_M
from drills.game.wording.shapes import Part, Sentence


def reasons(design: Design, tonight: Evening, found: FoundSetUp) -> tuple[Reason, ...]:
    """What differs from the design: changes first (people, space, task, equipment, as they come), then warnings.

    Where nothing differs, "as planned" stands in place of the changes.
    """
    changes = [
        *_grids(found),
        *_people(design, found),
        *_waiting(design, tonight, found),
        *_adult(found),
        *_keepers(design, tonight, found),
        *_space(design, found),
    ]
    if not changes:
        changes = [Reason("as_planned", Sentence("as_planned"), "people")]
    return (*changes, *_warnings(design, tonight, found))


# --- people --------------------------------------------------------------------------------------------------


def _grids(found: FoundSetUp) -> Iterator[Reason]:
    count = len(found.formats)
    if count == 1:
        return
    said = Sentence("split_unlike", {"grids": count, "formats": tuple(str(fmt) for fmt in found.formats)})
    if len(set(found.formats)) == 1:
        said = Sentence("split_alike", {"grids": count, "format": str(found.formats[0])})
    names = ", ".join(str(fmt) for fmt in found.formats)
    yield Reason("split", said, "people", {"grids": count, "formats": names})


def _people(design: Design, found: FoundSetUp) -> Iterator[Reason]:
    """One sentence of what is more or fewer; several grids of other numbers than planned get one for each kind."""
    for fmt in dict.fromkeys(found.formats):
        changes = (*_side_parts(design.format, fmt), *_helper_parts(design.format, fmt))
        if not changes:
            continue
        said = Sentence("numbers_changed", {"changes": changes})
        if len(found.formats) > 1:
            said = Sentence("numbers_changed_in", {"format": str(fmt), "changes": changes})
        yield Reason("numbers", said, "people", {"format": str(fmt), "planned": str(design.format)})


def _more(key: str, change: int) -> Sentence:
    """So many more or fewer, where the key says."""
    return Sentence(key, {"change": Sentence("more" if change > 0 else "fewer", {"n": abs(change)})})


def _side_parts(planned: Format, fmt: Format) -> Iterator[Sentence]:
    if len(fmt.sides) == 1 and not fmt.players_inside:
        if fmt.keepers != planned.keepers:
            yield _more("in_group", fmt.keepers - planned.keepers)
        return
    changes = [new.inside - old.inside for new, old in zip(fmt.sides, planned.sides, strict=True)]
    if not any(changes):
        return
    if len(changes) == 1:
        yield _more("in_group", changes[0])
    elif len(set(changes)) == 1:
        yield _more("on_each_side", changes[0])
    elif len(changes) > 2:
        yield Sentence("sides_of", {"sides": tuple(side.inside for side in fmt.sides)})
    else:
        keys = ("on_first_side", "on_second_side")
        parts = [_more(key, change) for change, key in zip(changes, keys, strict=True) if change]
        if planned.is_even and not fmt.is_even:
            parts.append(Sentence("one_side_up"))
        yield Sentence("one_by_one", {"each": tuple(parts)})


def _helper_parts(planned: Format, fmt: Format) -> Iterator[Sentence]:
    own = fmt.sides[0].outside - planned.sides[0].outside
    if own:
        yield _more("outside_each_side" if len(fmt.sides) > 1 else "more_outside", own)
    yield from _neutral_part(planned.neutrals_inside, fmt.neutrals_inside, "inside")
    yield from _neutral_part(planned.neutrals_outside, fmt.neutrals_outside, "outside")


def _neutral_part(planned: int, now: int, where: Literal["inside", "outside"]) -> Iterator[Sentence]:
    if now == planned:
        return
    if now == 0:
        yield Sentence(f"no_neutral_{where}")
    elif planned == 0:
        yield Sentence(f"neutral_{where}", {"n": now})
    else:
        yield _more(f"more_{where}", now - planned)


def _waiting(design: Design, tonight: Evening, found: FoundSetUp) -> Iterator[Reason]:
    waiting = found.split.waiting
    if not waiting:
        return
    queue = design.waiting_kind == "queue" or design.planned_waiting
    key = "wait_in_queue" if queue else "rest_in_turn"
    params = {"waiting": waiting, "players": tonight.players}
    yield Reason(key, Sentence(key, {"waiting": waiting}), "people", params)


def _adult(found: FoundSetUp) -> Iterator[Reason]:
    if found.split.adult:
        first = found.formats[0]
        inside = first.neutrals_inside and not first.neutrals_outside
        said = Sentence("adult_inside" if inside else "adult_outside")
        yield Reason("adult_plays", said, "people", {"adults": found.split.adult})


# --- keepers -------------------------------------------------------------------------------------------------


def _keepers(design: Design, tonight: Evening, found: FoundSetUp) -> Iterator[Reason]:
    planned, split = design.format, found.split
    goals, kept = planned.keepers * len(found.formats), sum(split.keepers)
    if planned.keepers and not planned.players_inside:
        yield from _others(split.serving)
    elif not planned.keepers:
        if tonight.keepers and planned.has_opponents:
            yield _said("keepers_play_out", "people", keepers=tonight.keepers)
    else:
        turns = is_under(tonight.ages, TURNS_IN_GOAL_UNDER)
        if turns:
            yield _said("keepers_rotate", "people", goals=goals)
        elif kept < goals:
            said = _unkept(design, kept, goals)
            yield Reason("goals_without_keeper", said, "equipment", {"kept": kept, "goals": goals})
        if split.serving:
            yield _said("keepers_serve", "people", keepers=split.serving)


def _said(key: str, change_class: ChangeClass, **params: int) -> Reason:
    """A reason whose sentence has its key and says its parameters."""
    return Reason(key, Sentence(key, params), change_class, params)


def _others(count: int) -> Iterator[Reason]:
    """Players who came, but are no keepers, when only keepers train."""
    if count:
        yield _said("others_elsewhere", "people", others=count)


def _unkept(design: Design, kept: int, goals: int) -> Sentence:
    parts: dict[str, Part] = {"kept": kept, "goals": goals}
    if not design.format.has_opponents:
        return Sentence("few_keepers_goal_empty" if kept else "no_keeper_goal_empty", parts)
    # What stands in for one goal that nobody keeps, or for several.
    instead = "instead_small_goal" if design.instead_of_keeper == "small goal" else "instead_end_zone"
    parts["instead"] = Sentence(instead, {"n": goals - kept})
    if not kept:
        return Sentence("no_keeper", parts)
    return Sentence("goals_kept" if goals > 2 else "goal_kept", parts)


# --- space ---------------------------------------------------------------------------------------------------


def _space(design: Design, found: FoundSetUp) -> Iterator[Reason]:
    said: set[tuple[float, float]] = set()
    for fmt, ground in zip(found.formats, found.grounds, strict=True):
        now = (ground.grid.length_m, ground.grid.width_m)
        if now == (design.length_m, design.width_m) or now in said:
            continue
        said.add(now)
        yield _grid_reason(design, fmt, ground, len(found.formats) > 1)


def _grid_reason(design: Design, fmt: Format, ground: Ground, several: bool) -> Reason:
    length, width = ground.grid.length_m, ground.grid.width_m
    said = Sentence(
        "grid_now",
        {
            "length": length,
            "width": width,
            "planned_length": design.length_m,
            "planned_width": design.width_m,
        },
    )
    params: dict[str, float | str] = {"length_m": length, "width_m": width}
    planned = design.area_per_player_m2
    if planned is not None:
        area = ground.grid.area_m2 / design.counted(fmt)
        params |= {"area_per_player_m2": area, "planned_m2": planned}
        room = _room(area, planned, "each_player" if design.counts_everyone else "each_player_inside")
        said = Sentence("grid_and_room", {"grid": said, "room": room})
    parts: dict[str, Part] = {"grid": said, "format": str(fmt)}
    return Reason("grid", Sentence("grid_changed_in" if several else "grid_changed", parts), "space", params)


def _room(area_m2: float, planned_m2: float, who: str) -> Sentence:
    change = area_m2 / planned_m2 - 1
    if abs(change) < 0.06:
        return Sentence("room_same", {"who": Sentence(who)})
    much = "a_little_" if abs(change) < 0.25 else ("" if abs(change) < 0.45 else "much_")
    word = Sentence(f"room_{much}{'tighter' if change < 0 else 'wider'}")
    return Sentence(
        "room_differs", {"change": word, "area": area_m2, "planned": planned_m2, "who": Sentence(who)}
    )


# --- warnings ------------------------------------------------------------------------------------------------


def _warnings(design: Design, tonight: Evening, found: FoundSetUp) -> Iterator[Reason]:
    yield from _adults(design, tonight, found)
    strip = min(ground.strip_m for ground in found.grounds)
    if 0 < strip < STRIP_WISHED_M:
        said = Sentence("narrow_strip", {"strip": strip})
        yield Reason("narrow_strip", said, "space", {"strip_m": strip}, weight="warning")
    run_off = min(found.grounds[0].place.run_off_m)
    if run_off < RUN_OFF_WISHED_M:
        fence = any(tonight.ground[0].at(edge) == "fence" for edge in ALL_EDGES)
        said = Sentence("near_fence" if fence else "near_others", {"run_off": run_off})
        yield Reason("near_edge", said, "space", {"run_off_m": run_off}, weight="warning")


def _adults(design: Design, tonight: Evening, found: FoundSetUp) -> Iterator[Reason]:
    """Too few pairs of eyes. The youngest are not left without a game: a parent is asked to stay."""
    grids = len(found.formats)
    watching = tonight.adults_for(design.adults_needed) - found.split.adult
    params = {"grids": grids, "adults": watching}
    parts: dict[str, Part] = {
        "grids": Sentence("grids", {"n": grids}),
        "adults": Sentence("adults", {"n": watching}),
    }
    youngest = is_under(tonight.ages, YOUNGEST_UNDER)
    if watching < max(design.adults_needed, grids if youngest else 1):
        yield Reason("ask_parent", Sentence("ask_parent", parts), "people", params, weight="warning")
    elif grids > watching:
        yield Reason("few_adults", Sentence("few_adults", parts), "people", params, weight="warning")
