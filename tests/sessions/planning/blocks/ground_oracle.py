"""A lost pitch once more, from the rules and apart from the package: whether it can be so, what it costs, the best of all."""

from collections import Counter
from itertools import product

from sessions.planning.blocks import LostRequest

# (code, ground, day, starts, ends, thirds)
Spot = tuple[str, str, int, int, int, int]


def hit(request: LostRequest, session) -> bool:
    return any(
        lost.ground == session.ground
        and lost.first_day <= session.day <= lost.last_day
        and lost.starts < session.ends
        and session.starts < lost.ends
        for lost in request.lost
    )


def spots(request: LostRequest, s) -> list[Spot]:
    """All that may be done with a session, if there is room."""
    found: list[Spot] = [("stays", s.ground, s.day, s.starts, s.ends, s.thirds)]
    if s.least_thirds < s.thirds and (s.may_share or hit(request, s)):
        found.append(("gives", s.ground, s.day, s.starts, s.ends, s.least_thirds))
    half = (s.ends - s.starts) // 2
    times = [(s.starts, s.starts + half), (s.ends - half, s.ends)] if half >= 25 else []
    if not hit(request, s):
        return found + [("half", s.ground, s.day, a, b, s.thirds) for a, b in times if s.may_share]
    for g in request.grounds:
        if g.key != s.ground and s.grounds is not None and g.key not in s.grounds:
            continue
        if g.most_players is not None and s.players > g.most_players:
            continue
        if s.least_thirds > g.thirds:
            continue
        if g.key != s.ground:
            found.append(("goes", g.key, s.day, s.starts, s.ends, s.least_thirds))
        found += [("half", g.key, s.day, a, b, s.least_thirds) for a, b in times]
        found += [("moved", g.key, day, at, at + s.ends - s.starts, s.least_thirds) for day, at in s.moves]
    return [*found, ("off", "", s.day, s.starts, s.ends, 0)]


def there_is_room(request: LostRequest, given: dict[str, Spot]) -> bool:
    """Every five minutes: thirds and players of each ground, and nobody in two places who was not so before.

    Where nothing is lost, what was booked stays possible.
    """
    sessions = {each.key: each for each in request.sessions}
    booked = {key: ("stays", s.ground, s.day, s.starts, s.ends, s.thirds) for key, s in sessions.items()}

    def load(spots_: dict[str, Spot], day: int, at: int) -> tuple[Counter, Counter, Counter]:
        thirds: Counter = Counter()
        players: Counter = Counter()
        people: Counter = Counter()
        for key, (code, ground, on, starts, ends, takes) in spots_.items():
            if code != "off" and on == day and starts <= at < ends:
                thirds[ground] += takes
                players[ground] += sessions[key].players
                people.update({*sessions[key].people, "team " + sessions[key].team})
        return thirds, players, people

    for day in {spot[2] for spot in given.values()}:
        for at in range(1000, 1300):
            now, before = load(given, day, at), load(booked, day, at)
            for ground in request.grounds:
                gone = max(
                    (
                        ground.thirds if lost.thirds is None else lost.thirds
                        for lost in request.lost
                        if lost.ground == ground.key
                        and lost.first_day <= day <= lost.last_day
                        and lost.starts <= at < lost.ends
                    ),
                    default=0,
                )
                most = ground.thirds - gone if gone else max(ground.thirds, before[0][ground.key])
                if now[0][ground.key] > max(0, most):
                    return False
                if ground.most_players is not None and now[1][ground.key] > max(
                    ground.most_players, before[1][ground.key]
                ):
                    return False
            if any(count > max(1, before[2][who]) for who, count in now[2].items()):
                return False
    return True


def costs(request: LostRequest, given: dict[str, Spot]) -> tuple[int, ...]:
    """In the order asked for."""
    sums: Counter = Counter()
    for s in request.sessions:
        code, _, _, starts, ends, _ = given[s.key]
        sums["without"] += s.players * (code == "off")
        sums["moved"] += s.players * (code == "moved")
        kept = 0 if code == "off" else ends - starts
        sums["minutes"] += s.players * (s.ends - s.starts - kept)
        sums["changes"] += code != "stays"
    return tuple(sums[name] for name in request.order)


def best(request: LostRequest) -> tuple[int, ...]:
    keys = [each.key for each in request.sessions]
    all_ = (
        dict(zip(keys, each, strict=True)) for each in product(*(spots(request, s) for s in request.sessions))
    )
    least: tuple[int, ...] | None = None
    for given in all_:
        cost = costs(request, given)
        if (least is None or cost < least) and there_is_room(request, given):
            least = cost
    assert least is not None
    return least
