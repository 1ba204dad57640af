"""Blocks by chance: small ones that can be tried through, and as large as a club's, with what teams share short or plenty."""

import random
from dataclasses import replace

from sessions.planning.blocks import (
    BlockRequest,
    BlockSlot,
    BlockTarget,
    BlockTeam,
    BlockTheme,
    ReadyChoice,
    TaughtSession,
)


def small(seed: int) -> BlockRequest:
    """Two teams of one age, five slots; about one in four cannot be done."""
    chance = random.Random(seed)
    themes = tuple(BlockTheme(name, chance.choice((4.0, 6.0))) for name in ("pass", "press", "score"))
    slots = []
    for team, count in (("a", 3), ("b", 2)):
        stride = chance.choice((1, 3, 7))
        for at in range(count):
            fixed = chance.choice(("pass", "press")) if chance.random() < 0.2 else None
            stands = (chance.choice(("pass", "score")), "") if chance.random() < 0.5 else None
            starts = chance.choice((1020, 1050))
            slots.append(
                BlockSlot(f"{team}{at}", team, at * stride, starts, starts + 75, "main", 1, 45, stands, fixed)
            )
    ready = tuple(
        ReadyChoice(
            f"r{at}",
            chance.choice(("pass", "press", "score")),
            {"pass": chance.randrange(0, 50, 5), "score": chance.randrange(0, 50, 5)},
            chance.choice((60, 75, 90)),
            chance.choice((4.0, 6.0)),
            frozenset({"u9"} if chance.random() < 0.8 else {"u17"}),
            chance.choice((None, 2)),
            {"goals": chance.choice((0, 2))},
        )
        for at in range(2)
    )
    targets = tuple(
        BlockTarget("u9", name, amount, unit, must=chance.random() < 0.15)
        for name, unit, amount in (
            ("pass", "minutes", chance.randrange(0, 120, 15)),
            ("press", "sessions", chance.randrange(3)),
            ("score", "minutes", chance.randrange(0, 90, 15)),
        )
    )
    taught = tuple(
        TaughtSession(
            chance.choice("ab"), chance.randrange(-9, 2), "pass", {"pass": 30}, chance.random() < 0.5, "r0"
        )
        for _ in range(chance.randrange(3))
    )
    teams = tuple(BlockTeam(each, "u9", tuple(chance.sample(range(15), 2))) for each in "ab")
    return BlockRequest(
        teams,
        tuple(slots),
        themes,
        targets,
        ready,
        taught,
        {"main": chance.choice((2, 3))},
        {"goals": chance.choice((0, 2, 3))},
        fewest_changes=chance.random() < 0.5,
        light_before_matches=chance.random() < 0.2,
        hard_apart=chance.random() < 0.2,
    )


def block(seed: int, *, teams: int = 16, weeks: int = 7, themes: int = 8, short: bool = True) -> BlockRequest:
    """A club's block: one or two evenings a week, 48 ready sessions; `short` of kit and thirds, or with plenty."""
    chance = random.Random(seed)
    names = [f"theme {at}" for at in range(themes)]
    ages = [f"u{7 + at}" for at in range(max(1, teams // 2))]
    rows, slots, taught = [], [], []
    for at in range(teams):
        team = f"team {at}"
        matches = tuple(7 * week + chance.choice((5, 6)) for week in range(weeks))
        rows.append(BlockTeam(team, ages[at % len(ages)], matches))
        days = sorted(chance.sample(range(5), chance.choice((1, 2))))
        starts = chance.choice((1020, 1050, 1080))
        for day in (7 * week + day for week in range(weeks) for day in days):
            slots.append(
                BlockSlot(f"{at} on {day}", team, day, starts, starts + 75, f"pitch {at % 3}", 1, 45)
            )
        taught += [
            TaughtSession(team, -ago, chance.choice(names), {}, chance.random() < 0.4)
            for ago in (2, 5, 9, 12)
        ]
    ready = tuple(
        ReadyChoice(
            f"ready {at}",
            names[at % themes],
            {
                names[at % themes]: chance.randrange(25, 55, 5),
                names[(at + 3) % themes]: chance.choice((0, 10)),
            },
            chance.choice((60, 75, 90)),
            chance.choice((3.5, 4.5, 5.5, 6.0)),
            frozenset(chance.sample(ages, max(1, len(ages) // 2))),
            chance.choice((None, 1, 2)),
            {"small goals": chance.choice((0, 2, 4)), "mannequins": chance.choice((0, 0, 4))},
        )
        for at in range(6 * themes)
    )
    targets = tuple(
        BlockTarget(age, name, chance.randrange(30, 150, 15))
        if chance.random() < 0.7
        else BlockTarget(age, name, chance.randrange(1, 4), "sessions")
        for age in ages
        for name in names
        if chance.random() < 0.8
    )
    return BlockRequest(
        tuple(rows),
        tuple(slots),
        tuple(BlockTheme(name, chance.choice((3.0, 4.0, 6.0))) for name in names),
        targets,
        ready,
        tuple(taught),
        {f"pitch {at}": 4 if short else 12 for at in range(3)},
        {"small goals": 6 if short else 40, "mannequins": 4 if short else 40},
    )


def medium(seed: int) -> BlockRequest:
    """Three teams over four weeks, that share."""
    asked = block(seed, teams=3, weeks=4, themes=4)
    return replace(asked, ready=asked.ready[:8])
