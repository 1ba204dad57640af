"""The rules of a block once more, written apart from the package: what a choice earns, and the best of all choices."""

from collections import Counter
from itertools import pairwise, product

from sessions.planning.blocks import BlockRequest, ClashingWish

Choice = dict[str, tuple[str, str]]


def offered(request: BlockRequest, slot) -> list[tuple[str, str]]:
    """(theme, ready session or "") that a slot may be given."""
    age = next(each.age for each in request.teams if each.key == slot.team)
    themes = [
        each.key
        for each in request.themes
        if each.ages is None or age in each.ages or each.key in (slot.fixed_theme, (slot.stands or ("",))[0])
    ]
    ready = [
        (each.theme, each.key)
        for each in request.ready
        if (age in each.ages and each.length <= slot.ends - slot.starts)
        or each.key in (slot.fixed_ready, (slot.stands or ("", ""))[1] or None)
    ]
    return [*((theme, "") for theme in themes), *ready]


def facts(request: BlockRequest, slot, choice: tuple[str, str]):
    """(minutes by theme, hard, thirds, kit) of a slot with a choice."""
    theme, key = choice
    if not key:
        effort = next(each.effort_cr10 for each in request.themes if each.key == theme)
        return {theme: slot.teaches}, effort >= request.hard_cr10, slot.thirds, {}
    ready = next(each for each in request.ready if each.key == key)
    return ready.minutes, ready.effort_cr10 >= request.hard_cr10, ready.thirds or slot.thirds, ready.kit


def near_match(request: BlockRequest, slot) -> bool:
    """On the day of a match, the two days before, or the day after."""
    matches = next(each.match_days for each in request.teams if each.key == slot.team)
    return any(match - slot.day in (-1, 0, 1, 2) for match in matches)


def history(request: BlockRequest, team: str, chosen: Choice):
    """(day, theme, hard, is a slot) in order of time; what was run first on a day."""
    rows = [(each.day, 0, 0, each.theme, each.hard) for each in request.taught if each.team == team]
    for slot in request.slots:
        if slot.team == team:
            hard = facts(request, slot, chosen[slot.key])[1]
            rows.append((slot.day, 1, slot.starts, chosen[slot.key][0], hard))
    return [
        (day, theme, hard, bool(is_slot))
        for day, is_slot, _, theme, hard in sorted(rows, key=lambda r: r[:3])
    ]


def broken(request: BlockRequest, chosen: Choice) -> set[ClashingWish]:
    """The wishes that a choice does not keep."""
    found = set()
    for slot in request.slots:
        theme, ready = chosen[slot.key]
        if slot.fixed_theme not in (None, theme) or slot.fixed_ready not in (None, ready):
            found.add(ClashingWish("fixed", (slot.key,)))
        if (
            request.light_before_matches
            and facts(request, slot, chosen[slot.key])[1]
            and near_match(request, slot)
        ):
            found.add(ClashingWish("match_days", (slot.team,)))
    for team in request.teams:
        rows = history(request, team.key, chosen)
        for three in zip(rows, rows[1:], rows[2:], strict=False):
            if len({row[1] for row in three}) == 1 and any(row[3] for row in three):
                found.add(ClashingWish("running", (team.key,)))
        for before, after in pairwise(rows):
            close = after[0] - before[0] < 2 and before[2] and after[2] and (before[3] or after[3])
            if request.hard_apart and close:
                found.add(ClashingWish("hard_apart", (team.key,)))
        for target, got in reached(request, team, chosen):
            if target.must and got < target.amount:
                found.add(ClashingWish("target", (team.key, target.theme, target.unit)))
    found |= over_shared(request, chosen)
    return found


def over_shared(request: BlockRequest, chosen: Choice) -> set[ClashingWish]:
    """Pitches and kinds of kit of which more is taken than there is, minute by minute where something begins."""
    found = set()
    for moment in {(slot.day, slot.starts) for slot in request.slots}:
        thirds: Counter = Counter()
        kit: Counter = Counter()
        for slot in request.slots:
            if slot.day == moment[0] and slot.starts <= moment[1] < slot.ends:
                _, _, takes, pieces = facts(request, slot, chosen[slot.key])
                thirds[slot.pitch] += takes
                kit.update(pieces)
        found |= {ClashingWish("ground", (p,)) for p, most in request.pitches.items() if thirds[p] > most}
        found |= {ClashingWish("kit", (k,)) for k, most in request.kit.items() if kit[k] > most}
    return found


def reached(request: BlockRequest, team, chosen: Choice):
    """(target, what the team got of it) in this block."""
    for target in request.targets:
        if target.age != team.age:
            continue
        got = 0
        for each in request.taught:
            if each.team == team.key and each.day >= 0:
                sessions = each.theme == target.theme
                got += each.minutes.get(target.theme, 0) if target.unit == "minutes" else sessions
        for slot in request.slots:
            if slot.team == team.key:
                minutes = facts(request, slot, chosen[slot.key])[0]
                sessions = chosen[slot.key][0] == target.theme
                got += minutes.get(target.theme, 0) if target.unit == "minutes" else sessions
        yield target, got


def missed(request: BlockRequest, target, got: int) -> int:
    """Points for what is short, for what is short beyond half, and for what is over."""
    w = request.weights
    per = (
        (w.short_minute, w.forgotten_minute, w.over_minute)
        if target.unit == "minutes"
        else (w.short_session, w.forgotten_session, w.over_session)
    )
    short, half = max(0, target.amount - got), -(-target.amount // 2)
    return per[0] * short + per[1] * max(0, short - half) + per[2] * max(0, got - target.amount)


def points(request: BlockRequest, chosen: Choice) -> int:
    """What a choice earns: what the targets are worth, less all that is missed."""
    w, total = request.weights, 0
    for team in request.teams:
        for target, got in reached(request, team, chosen):
            total += missed(request, target, 0) - missed(request, target, got)
        rows = history(request, team.key, chosen)
        for day, theme, _, is_slot in rows:
            apart = [other for other in rows if 7 <= abs(other[0] - day) <= 14]
            if is_slot and apart and theme not in {other[1] for other in apart}:
                total -= w.alone
        for before, after in pairwise(rows):
            if after[0] - before[0] < 2 and before[2] and after[2] and (before[3] or after[3]):
                total -= w.hard_close
        had = {each.ready for each in request.taught if each.team == team.key}
        for slot in (each for each in request.slots if each.team == team.key):
            total -= of_slot(request, slot, chosen[slot.key], had)
            had.add(chosen[slot.key][1])
    return total


def of_slot(request: BlockRequest, slot, choice: tuple[str, str], had: set[str]) -> int:
    """What a slot's choice costs whatever the others teach; `had` are the ready sessions that the team had before."""
    w = request.weights
    cost = w.same_again * (choice[1] in had) if choice[1] else w.unready
    if facts(request, slot, choice)[1] and near_match(request, slot):
        cost += w.near_match
    return cost + w.change * bool(request.fewest_changes and slot.stands and slot.stands != choice)


def every(request: BlockRequest):
    """All choices there are."""
    keys = [slot.key for slot in request.slots]
    for picked in product(*(offered(request, slot) for slot in request.slots)):
        yield dict(zip(keys, picked, strict=True))


def best(request: BlockRequest) -> int | None:
    """The most that a choice earns that keeps all wishes; None where none does."""
    return max((points(request, each) for each in every(request) if not broken(request, each)), default=None)
