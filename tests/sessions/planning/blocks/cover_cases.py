"""Absent coaches by chance: one evening that can be tried through, and as many teams as a club has, for a week."""

import random

from sessions.planning.blocks import CoachAway, CoverPerson, CoverRequest, CoverSession
from sessions.planning.supervision import AdultRule


def small(seed: int) -> CoverRequest:
    """Three sessions of an evening, six people, one or two of them away."""
    chance = random.Random(seed)
    people = tuple(
        CoverPerson(
            f"p{at}",
            chance.random() < 0.8,
            chance.random() < 0.6,
            ((0, chance.choice((1000, 1050, 1080)), chance.choice((1110, 1170, 1200))),)
            if chance.random() < 0.6
            else (),
        )
        for at in range(6)
    )
    sessions = []
    for at in range(3):
        starts = chance.choice((1020, 1050, 1060))
        staff = tuple(dict.fromkeys((f"p{at}", f"p{chance.randrange(6)}")))
        rule = AdultRule(chance.choice((8, 10, None)), chance.choice((1, 2, None)), "club")
        sessions.append(
            CoverSession(
                f"s{at}",
                f"team {at}",
                chance.choice((8, 10, 12)),
                0,
                starts,
                starts + chance.choice((60, 90)),
                chance.randrange(6, 18),
                staff[0],
                staff,
                rule if chance.random() < 0.9 else None,
                chance.choice((None, 24, 30)),
            )
        )
    away = tuple(
        CoachAway(f"p{each}", 0, 0, chance.choice((0, 1080)), chance.choice((1110, 1440)))
        for each in chance.sample(range(4), chance.choice((1, 2)))
    )
    return CoverRequest(tuple(sessions), people, away)


def week(seed: int, *, teams: int = 16, weeks: int = 1, away: int = 4) -> CoverRequest:
    """All teams of a club, a lead and an assistant each; some leads are away for all of it."""
    chance = random.Random(seed)
    people, sessions = [], []
    for at in range(teams):
        under = 7 + at // 2
        days = sorted(chance.sample(range(5), chance.choice((1, 2))))
        starts = chance.choice((1020, 1035, 1050, 1110))
        for name in ("lead", "assistant"):
            free = tuple((day, 1000, 1200) for day in range(7 * weeks) if chance.random() < 0.3)
            people.append(CoverPerson(f"{name} {at}", True, name == "lead" or chance.random() < 0.4, free))
        sessions += [
            CoverSession(
                f"{at} on {day}",
                f"team {at}",
                under,
                day,
                starts,
                starts + 75,
                chance.randrange(9, 20),
                f"lead {at}",
                (f"lead {at}", f"assistant {at}"),
                AdultRule(10 if under < 10 else 12, 2, "club"),
                30,
            )
            for day in (7 * number + weekday for number in range(weeks) for weekday in days)
        ]
    gone = tuple(CoachAway(f"lead {each}", 0, 7 * weeks) for each in chance.sample(range(teams), away))
    return CoverRequest(tuple(sessions), tuple(people), gone)
