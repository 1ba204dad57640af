"""Lost ground and cover for a second solver (scipy's milp, HiGHS), written from the rules of the oracles."""

from collections import defaultdict

from sessions.planning.blocks import CoverRequest, LostRequest
from tests.sessions.planning.blocks import cover_oracle, ground_oracle
from tests.sessions.planning.blocks.block_milp import Columns

Levels = list[list[tuple[int, float]]]
MANY = 1000  # more adults, players and children to an adult than there are


def in_order(columns: Columns, levels: Levels, seconds: float) -> tuple[int, ...]:
    """Each sum made as small as it can be, those before it kept."""
    found = []
    for cells in levels:
        columns.cost = [0.0] * len(columns.cost)
        for column, value in cells:
            columns.cost[column] += value
        least = columns.least(seconds, len(columns.cost))
        assert least is not None
        found.append(round(least))
        columns.at_most(found[-1] + 0.5, cells)
    return tuple(found)


def least_lost(request: LostRequest, *, seconds: float = 60) -> tuple[int, ...]:
    """What the best changes for lost ground come to, in the order asked for."""
    columns, sums = Columns(), defaultdict(list)
    thirds, players, people = defaultdict(list), defaultdict(list), defaultdict(list)
    booked = defaultdict(int)
    all_spots = {s.key: ground_oracle.spots(request, s) for s in request.sessions}
    starts = {(spot[2], spot[3]) for spots in all_spots.values() for spot in spots}
    starts |= {(s.day, s.ends) for s in request.sessions}
    for s in request.sessions:
        one = []
        for spot in all_spots[s.key]:
            code, ground, day, begins, ends, takes = spot
            column = columns.add()
            one.append(column)
            sums["without"].append((column, s.players * (code == "off")))
            sums["moved"].append((column, s.players * (code == "moved")))
            length = 0 if code == "off" else ends - begins
            sums["minutes"].append((column, s.players * (s.ends - s.starts - length)))
            sums["changes"].append((column, code != "stays"))
            for at in (at for on, at in starts if on == day and begins <= at < ends and code != "off"):
                thirds[ground, day, at].append((column, takes))
                players[ground, day, at].append((column, s.players))
                for who in {*s.people, "team " + s.team}:
                    people[who, day, at].append((column, 1))
                    booked[who, day, at] += code == "stays"
                if code == "stays":
                    booked["thirds", ground, day, at] += takes
                    booked["players", ground, day, at] += s.players
        columns.at_most(1, [(column, 1) for column in one])
        columns.at_most(-1, [(column, -1) for column in one])
    grounds = {each.key: each for each in request.grounds}
    for (ground, day, at), cells in thirds.items():
        gone = [
            grounds[ground].thirds if lost.thirds is None else lost.thirds
            for lost in request.lost
            if lost.ground == ground
            and lost.first_day <= day <= lost.last_day
            and lost.starts <= at < lost.ends
        ]
        left = grounds[ground].thirds - max(gone, default=0)
        columns.at_most(left if gone else max(left, booked["thirds", ground, day, at]), cells)
        if grounds[ground].most_players is not None:
            most = max(grounds[ground].most_players, booked["players", ground, day, at])
            columns.at_most(most, players[ground, day, at])
    for at, cells in people.items():
        columns.at_most(max(1, booked[at]), cells)
    return in_order(columns, [sums[name] for name in request.order], seconds)


def least_cover(request: CoverRequest, *, seconds: float = 60) -> tuple[int, ...]:
    """What the best cover comes to: children without, minutes, people asked, teams that join, changes.

    Nobody is down for two sessions at one time.
    """
    columns, levels = Columns(), [[] for _ in range(5)]
    sessions = {each.key: each for each in request.sessions}
    adult = {each.key for each in request.people if each.adult}
    there = {key: [w for w in cover_oracle.present(request, s) if w in adult] for key, s in sessions.items()}
    x = {key: [(way, columns.add()) for way in cover_oracle.ways(request, s)] for key, s in sessions.items()}
    spans = defaultdict(list)
    for key, s in sessions.items():
        columns.at_most(1, [(n, 1) for _, n in x[key]])
        columns.at_most(-1, [(n, -1) for _, n in x[key]])
        for (code, lead, _, a, b), n in x[key]:
            asked = bool(lead) and lead not in s.staff
            lost = s.ends - s.starts - (0 if code == "off" else b - a)
            costs = (s.players * (code == "off"), s.players * lost, asked, code == "joins", code != "stays")
            for level, cost in zip(levels, costs, strict=True):
                level.append((n, cost))
            if asked:
                spans[lead].append((s.day, a, b, n))
    for key in sessions:
        looked_after(request, key, x, there, spans, levels, columns)
    for those in spans.values():
        for day, at in {(day, a) for day, a, _, _ in those}:
            columns.at_most(1, [(n, 1) for on, a, b, n in those if on == day and a <= at < b])
    return in_order(columns, levels, seconds)


def looked_after(request: CoverRequest, key: str, x, there, spans, levels: Levels, columns: Columns) -> None:
    """Adults and room for a session with all that join it."""
    sessions = {each.key: each for each in request.sessions}
    s, adult = sessions[key], {each.key for each in request.people if each.adult}
    guests = [(o, n) for o in sessions for way, n in x[o] if way[2] == key]
    hit = len(cover_oracle.present(request, s)) < len(s.staff)
    if not hit and not guests:
        return
    extra = []
    for person in request.people:
        free = cover_oracle.longest(request, person, s) == (s.starts, s.ends)
        if person.adult and person.key not in s.staff and free:
            n = columns.add()
            extra.append((n, -1))
            spans[person.key].append((s.day, s.starts, s.ends, n))
            levels[2].append((n, 1))
            levels[4].append((n, 1))
    led = [(n, -1) for w, n in x[key] if w[1] in adult and w[1] not in cover_oracle.present(request, s)]
    brought = [(n, -len(there[o])) for o, n in guests]
    more = [(n, sessions[o].players) for o, n in guests]
    runs = [(n, 1) for w, n in x[key] if w[0] not in ("joins", "off")] if hit else []
    whole = [(n, -1) for w, n in x[key] if w[0] in ("stays", "assistant", "neighbour")]
    for literals, rule in (
        (runs, s.rule),
        *(([(n, 1)], r) for o, n in guests for r in (s.rule, sessions[o].rule)),
    ):
        if rule is None or not literals:
            continue
        on = [(n, MANY) for n, _ in literals]
        columns.at_most(MANY - (rule.fewest or 0) + len(there[key]), [*on, *led, *brought, *extra])
        if (each := rule.children_per_adult) is not None:
            adults = [(n, value * each) for n, value in (*led, *brought, *extra)]
            columns.at_most(MANY - s.players + each * len(there[key]), [*on, *more, *adults])
    for _, n in guests:
        columns.at_most(0, [(n, 1), *whole])
        if s.most_players is not None:
            columns.at_most(MANY + s.most_players - s.players, [(n, MANY), *more])
