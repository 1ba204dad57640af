"""What changed against the design, as sentences a coach would say."""

from __future__ import annotations

from collections.abc import Iterator

from drills.game.design import Design
from drills.game.fit.ground import Ground
from drills.game.fit.search import Found, is_youngest
from drills.game.fit.tonight import Tonight
from drills.game.format import Format
from drills.game.reasons import Reason, in_words, joined, plural, sentence, size
from drills.game.space import STRIP_WISHED_M


def reasons(design: Design, tonight: Tonight, found: Found) -> tuple[Reason, ...]:
    """Changes first (people, space, task, equipment as they come), warnings after; "as planned" when nothing did."""
    changes = [
        *_grids(found),
        *_people(design, found),
        *_waiting(design, tonight, found),
        *_adult(found),
        *_keepers(design, tonight, found),
        *_space(design, found),
    ]
    if not changes:
        changes = [Reason("as_planned", "As planned.", "people")]
    return (*changes, *_warnings(design, tonight, found))


# --- people --------------------------------------------------------------------------------------------------


def _grids(found: Found) -> Iterator[Reason]:
    count = len(found.formats)
    if count == 1:
        return
    if len(set(found.formats)) == 1:
        text = f"{plural(count, 'grid')} of {found.formats[0]} side by side."
    else:
        text = f"{plural(count, 'grid')} side by side: {joined([str(fmt) for fmt in found.formats])}."
    names = ", ".join(str(fmt) for fmt in found.formats)
    yield Reason("split", sentence(text), "people", {"grids": count, "formats": names})


def _people(design: Design, found: Found) -> Iterator[Reason]:
    """One sentence of what is more or fewer; several grids of other numbers than planned get one for each kind."""
    for fmt in dict.fromkeys(found.formats):
        parts = [*_side_parts(design.format, fmt), *_helper_parts(design.format, fmt)]
        if not parts:
            continue
        text = joined(parts)
        if len(found.formats) > 1:
            text = f"{fmt}: {text}"
        yield Reason("numbers", sentence(text), "people", {"format": str(fmt), "planned": str(design.format)})


def _more(change: int) -> str:
    return f"{in_words(abs(change))} {'more' if change > 0 else 'fewer'}"


def _side_parts(planned: Format, fmt: Format) -> Iterator[str]:
    if len(fmt.sides) == 1 and not fmt.players_inside:
        yield from (
            [f"{_more(fmt.keepers - planned.keepers)} in the group"] if fmt.keepers != planned.keepers else []
        )
        return
    changes = [new.inside - old.inside for new, old in zip(fmt.sides, planned.sides, strict=True)]
    if not any(changes):
        return
    if len(changes) == 1:
        yield f"{_more(changes[0])} in the group"
    elif len(set(changes)) == 1:
        yield f"{_more(changes[0])} on each side"
    elif len(changes) > 2:
        yield f"sides of {joined([in_words(side.inside) for side in fmt.sides])}"
    else:
        names = ("the first side", "the second side")
        parts = [f"{_more(change)} on {name}" for change, name in zip(changes, names, strict=True) if change]
        if planned.is_even and not fmt.is_even:
            parts.append("so one side is a player up")
        yield ", ".join(parts)


def _helper_parts(planned: Format, fmt: Format) -> Iterator[str]:
    own = fmt.sides[0].outside - planned.sides[0].outside
    if own:
        yield f"{_more(own)} outside for each side" if len(fmt.sides) > 1 else f"{_more(own)} outside"
    yield from _neutral_part(planned.neutrals_inside, fmt.neutrals_inside, "inside")
    yield from _neutral_part(planned.neutrals_outside, fmt.neutrals_outside, "outside")


def _neutral_part(planned: int, now: int, where: str) -> Iterator[str]:
    if now == planned:
        return
    if now == 0:
        yield f"nobody neutral {where}"
    elif planned == 0:
        yield f"{plural(now, 'neutral')} {where}, with whoever has the ball"
    else:
        yield f"{_more(now - planned)} {where}"


def _waiting(design: Design, tonight: Tonight, found: Found) -> Iterator[Reason]:
    waiting = found.split.waiting
    if not waiting:
        return
    params = {"waiting": waiting, "players": tonight.players}
    if design.waiting_kind == "queue" or design.planned_waiting:
        text = f"{plural(waiting, 'player')} {'waits' if waiting == 1 else 'wait'} for the next go."
        yield Reason("wait_in_queue", sentence(text), "people", params)
    elif waiting == 1:
        yield Reason("rest_in_turn", "One rests in turn: change after every bout.", "people", params)
    else:
        text = f"{in_words(waiting)} rest in turn: change after every bout."
        yield Reason("rest_in_turn", sentence(text), "people", params)


def _adult(found: Found) -> Iterator[Reason]:
    if found.split.adult:
        where = (
            "inside"
            if found.formats[0].neutrals_inside and not found.formats[0].neutrals_outside
            else "outside"
        )
        text = f"An adult joins {where} as a neutral, never tackling."
        yield Reason("adult_plays", text, "people", {"adults": found.split.adult})


# --- keepers -------------------------------------------------------------------------------------------------


def _keepers(design: Design, tonight: Tonight, found: Found) -> Iterator[Reason]:
    planned, split = design.format, found.split
    goals, kept = planned.keepers * len(found.formats), sum(split.keepers)
    if planned.keepers and not planned.players_inside:
        yield from _others(split.serving)
    elif not planned.keepers:
        if tonight.keepers and planned.has_opponents:
            text = "No goals here: keepers play out, best outside the grid with their feet."
            yield Reason("keepers_play_out", text, "people", {"keepers": tonight.keepers})
    else:
        if kept < goals:
            text = _unkept(design, kept, goals)
            yield Reason("goals_without_keeper", text, "equipment", {"kept": kept, "goals": goals})
        if split.serving:
            text = f"{plural(split.serving, 'keeper')} {'serves' if split.serving == 1 else 'serve'} the balls in turn"
            yield Reason("keepers_serve", sentence(text), "people", {"keepers": split.serving})
        if design.keepers_rotate and kept:
            text = "Everyone has a turn in goal: change after every bout."
            yield Reason("keepers_rotate", text, "people", {"goals": kept})


def _others(count: int) -> Iterator[Reason]:
    """Players who came, but are no keepers, when only keepers train."""
    if count:
        who = f"{plural(count, 'player')} who {'does' if count == 1 else 'do'} not keep goal"
        yield Reason(
            "others_elsewhere", sentence(f"{who}: give them another station"), "people", {"others": count}
        )


def _unkept(design: Design, kept: int, goals: int) -> str:
    if not design.format.has_opponents:
        who = "No keeper" if not kept else f"Only {plural(kept, 'keeper')} for {in_words(goals)} goals"
        return f"{who}: {'the goal' if goals == 1 else 'a goal'} stays empty, so corners and low balls count."
    instead = "a small goal" if design.instead_of_keeper == "small goal" else "an end zone to pass into"
    many = "small goals" if design.instead_of_keeper == "small goal" else "end zones to pass into"
    if not kept:
        return f"No keeper: {instead if goals == 1 else many} instead of the goal{'s' if goals > 1 else ''}."
    who, what = plural(kept, "keeper"), plural(kept, "goal")
    return sentence(
        f"{who}: {what} {'is' if kept == 1 else 'are'} kept, {instead if goals - kept == 1 else many} for the rest"
        if goals > 2
        else f"{who}: {what} is kept, {instead} at the other end"
    )


# --- space ---------------------------------------------------------------------------------------------------


def _space(design: Design, found: Found) -> Iterator[Reason]:
    said: set[tuple[float, float]] = set()
    for fmt, ground in zip(found.formats, found.grounds, strict=True):
        now = (ground.grid.length_m, ground.grid.width_m)
        if now == (design.length_m, design.width_m) or now in said:
            continue
        said.add(now)
        yield _grid_reason(design, fmt, ground, len(found.formats) > 1)


def _grid_reason(design: Design, fmt: Format, ground: Ground, several: bool) -> Reason:
    length, width = size(ground.grid.length_m), size(ground.grid.width_m)
    text = f"{f'{fmt}: g' if several else 'G'}rid {length} × {width} m instead of "
    text += f"{size(design.length_m)} × {size(design.width_m)} m"
    params: dict[str, float | str] = {"length_m": ground.grid.length_m, "width_m": ground.grid.width_m}
    planned = design.area_per_player_m2
    if planned is not None:
        area = ground.grid.area_m2 / design.counted(fmt)
        params |= {"area_per_player_m2": area, "planned_m2": planned}
        text += f": {_feel(area, planned, 'player' if design.counts_everyone else 'player inside')}"
    return Reason("grid", text + ".", "space", params)


def _feel(area_m2: float, planned_m2: float, who: str) -> str:
    change = area_m2 / planned_m2 - 1
    if abs(change) < 0.06:
        return f"the same room for each {who}"
    much = "a little " if abs(change) < 0.25 else ("" if abs(change) < 0.45 else "much ")
    word = "tighter" if change < 0 else "wider"
    return f"{much}{word}, {area_m2:.0f} instead of {planned_m2:.0f} m² for each {who}"


# --- warnings ------------------------------------------------------------------------------------------------


def _warnings(design: Design, tonight: Tonight, found: Found) -> Iterator[Reason]:
    grids = len(found.formats)
    watching = tonight.adults - found.split.adult
    params = {"grids": grids, "adults": watching}
    if is_youngest(design, tonight):
        if watching <= grids and tonight.players >= (grids + 1) * design.format.players:
            text = f"{plural(watching, 'adult')}, so no more than {plural(watching, 'grid')}: up to U10 each has its own"
            yield Reason("adult_per_grid", sentence(text), "people", params, weight="warning")
    elif grids > watching:
        text = f"{plural(grids, 'grid')} and {plural(watching, 'adult')}: stand where you see them all"
        yield Reason("few_adults", sentence(text), "people", params, weight="warning")
    strip = min(ground.strip_m for ground in found.grounds)
    if 0 < strip < STRIP_WISHED_M:
        text = f"Only {strip:.1f} m beside the grid for those outside; 2 m is better."
        yield Reason(
            "narrow_strip", text.replace(".0 m", " m"), "space", {"strip_m": strip}, weight="warning"
        )
