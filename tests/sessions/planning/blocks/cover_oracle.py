"""Cover once more, from the rules and apart from the package: every minute is looked at, every way is tried."""

import math
from itertools import chain, combinations, product

from sessions.planning.blocks import CoverRequest

# (code, lead, host, starts, ends)
Way = tuple[str, str, str, int, int]


def away(request: CoverRequest, who: str, day: int, at: int) -> bool:
    return any(
        each.person == who and each.first_day <= day <= each.last_day and each.starts <= at < each.ends
        for each in request.away
    )


def present(request: CoverRequest, s) -> list[str]:
    return [w for w in s.staff if not any(away(request, w, s.day, at) for at in range(s.starts, s.ends))]


def has_time(request: CoverRequest, person, s, at: int) -> bool:
    """Whether somebody has time for a session at a minute."""
    elsewhere = any(
        o.key != s.key and o.day == s.day and person.key in o.staff and o.starts <= at < o.ends
        for o in request.sessions
    )
    free = person.key in s.staff or any(d == s.day and a <= at < b for d, a, b in person.free)
    return free and not elsewhere and not away(request, person.key, s.day, at)


def longest(request: CoverRequest, person, s) -> tuple[int, int] | None:
    """The longest piece of a session that somebody has time for, the first of equals."""
    best, start = None, None
    for at in range(s.starts, s.ends + 1):
        if at < s.ends and has_time(request, person, s, at):
            start = at if start is None else start
        elif start is not None:
            if best is None or at - start > best[1] - best[0]:
                best = (start, at)
            start = None
    return best


def ways(request: CoverRequest, s) -> list[Way]:
    there, people = present(request, s), {each.key: each for each in request.people}
    led = s.lead in there
    found: list[Way] = [("stays", s.lead, "", s.starts, s.ends)] if led else []
    if not led:
        found += [("assistant", w, "", s.starts, s.ends) for w in there if people[w].may_lead]
    if len(there) == len(s.staff):
        return found
    for person in request.people if not led else ():
        piece = longest(request, person, s) if person.may_lead or person.key == s.lead else None
        if piece == (s.starts, s.ends) and person.key not in s.staff:
            found.append(("neighbour", person.key, "", *piece))
        elif piece and piece != (s.starts, s.ends) and 2 * (piece[1] - piece[0]) >= s.ends - s.starts:
            found.append(("shorter", person.key, "", *piece))
    for host in request.sessions:
        a, b = max(host.starts, s.starts), min(host.ends, s.ends)
        same = host.key != s.key and host.day == s.day and abs(host.starts - s.starts) <= 15
        if same and abs(host.under - s.under) <= request.near_ages and 2 * (b - a) >= s.ends - s.starts:
            found.append(("joins", "", host.key, a, b))
    return [*found, ("off", "", "", s.starts, s.ends)]


def needed(players: int, rules) -> int:
    """The strictest of all."""
    rules = [rule for rule in rules if rule is not None]
    fewest = max((rule.fewest or 0 for rule in rules), default=0)
    ratio = max((math.ceil(players / r.children_per_adult) for r in rules if r.children_per_adult), default=0)
    return max(fewest, ratio)


def holds(request: CoverRequest, given: dict[str, Way], asked: dict[str, tuple[str, ...]]) -> bool:
    """Whether all are led and looked after, there is room, and nobody is asked to be in two places."""
    sessions = {each.key: each for each in request.sessions}
    adult = {each.key for each in request.people if each.adult}
    for key, s in sessions.items():
        code, lead, *_ = given[key]
        guests = [sessions[o] for o, way in given.items() if way[2] == key]
        if guests and code not in ("stays", "assistant", "neighbour"):
            return False
        hit = len(present(request, s)) < len(s.staff)
        if code in ("joins", "off") or (not hit and not guests):
            continue
        who = {*present(request, s), lead, *asked.get(key, ())}
        who |= {w for guest in guests for w in present(request, guest)}
        players = s.players + sum(guest.players for guest in guests)
        if len(who & adult) < needed(players, [s.rule, *(guest.rule for guest in guests)]):
            return False
        if guests and s.most_players is not None and players > s.most_players:
            return False
    spans = [(who, s.day, s.starts, s.ends) for key, s in sessions.items() for who in asked.get(key, ())] + [
        (way[1], sessions[key].day, way[3], way[4])
        for key, way in given.items()
        if way[1] and way[1] not in sessions[key].staff
    ]
    return not any(
        a[0] == b[0] and a[1] == b[1] and a[2] < b[3] and b[2] < a[3] for a, b in combinations(spans, 2)
    )


def costs(request: CoverRequest, given: dict[str, Way], asked: dict[str, tuple[str, ...]]) -> tuple[int, ...]:
    without = minutes = others = joins = changes = 0
    for s in request.sessions:
        code, lead, _, a, b = given[s.key]
        without += s.players * (code == "off")
        minutes += s.players * (s.ends - s.starts - (0 if code == "off" else b - a))
        others += bool(lead) and lead not in s.staff
        joins += code == "joins"
        changes += code != "stays"
    extra = sum(map(len, asked.values()))
    return without, minutes, others + extra, joins, changes + extra


def best(request: CoverRequest) -> tuple[int, ...]:
    can_help = {
        s.key: [
            p.key
            for p in request.people
            if p.adult and p.key not in s.staff and longest(request, p, s) == (s.starts, s.ends)
        ]
        for s in request.sessions
    }
    keys = [each.key for each in request.sessions]
    some = [
        list(chain.from_iterable(combinations(can_help[key], size) for size in range(len(can_help[key]) + 1)))
        for key in keys
    ]
    least: tuple[int, ...] | None = None
    for given in product(*(ways(request, s) for s in request.sessions)):
        chosen = dict(zip(keys, given, strict=True))
        if least is not None and costs(request, chosen, {}) >= least:
            continue
        for asked in product(*some):
            extra = dict(zip(keys, asked, strict=True))
            cost = costs(request, chosen, extra)
            if (least is None or cost < least) and holds(request, chosen, extra):
                least = cost
    assert least is not None
    return least
