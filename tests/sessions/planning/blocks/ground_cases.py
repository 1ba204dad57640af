"""Lost pitches by chance: one evening that can be tried through, and all of a club's grass for a month."""

import random

from sessions.planning.blocks import ClubGround, GroundSession, LostGround, LostRequest


def small(seed: int) -> LostRequest:
    """Three or four sessions of an evening or two on a pitch, a second one and a hall."""
    chance = random.Random(seed)
    grounds = (
        ClubGround("grass", 3),
        ClubGround("court", chance.choice((1, 2))),
        ClubGround("hall", 1, chance.choice((14, 30))),
    )
    sessions = []
    for at in range(chance.choice((3, 4))):
        starts = chance.choice((1020, 1050, 1080))
        least = chance.choice((1, 1, 2))
        sessions.append(
            GroundSession(
                f"s{at}",
                f"team {at}",
                chance.choice((0, 0, 1)),
                starts,
                starts + chance.choice((60, 75, 90)),
                chance.randrange(8, 20),
                chance.choice(("grass", "grass", "court")),
                chance.choice((least, 2)),
                least,
                (f"coach {chance.randrange(3)}",),
                chance.random() < 0.7,
                frozenset({"court"}) if chance.random() < 0.2 else None,
                ((0, 1140),) if chance.random() < 0.3 else (),
            )
        )
    lost = LostGround(
        "grass", 0, chance.choice((0, 1)), 0, chance.choice((1080, 1440)), chance.choice((None, 2))
    )
    return LostRequest(grounds, tuple(sessions), (lost,))


def month(seed: int, *, teams: int = 16, weeks: int = 4) -> LostRequest:
    """Two grass pitches lost for weeks; there are an all-weather pitch, a small one and a hall."""
    chance = random.Random(seed)
    grounds = (
        *(ClubGround("north", 4), ClubGround("south", 4), ClubGround("all-weather", 4)),
        *(ClubGround("cage", 1), ClubGround("hall", 1, 18)),
    )
    sessions = []
    for at in range(teams):
        for weekday in sorted(chance.sample(range(5), chance.choice((1, 2)))):
            starts = chance.choice((1020, 1035, 1050, 1110))
            ground = chance.choice(("north", "south", "all-weather"))
            thirds = chance.choice((1, 2))
            players, other_day = chance.randrange(9, 20), chance.randrange(5)
            sessions += [
                GroundSession(
                    f"{at} on {7 * week + weekday}",
                    f"team {at}",
                    7 * week + weekday,
                    starts,
                    starts + 75,
                    players,
                    ground,
                    thirds,
                    1,
                    (f"coach {at}",),
                    moves=((7 * week + weekday, 1140), (7 * week + other_day, 1020)),
                )
                for week in range(weeks)
            ]
    last = 7 * weeks
    return LostRequest(grounds, tuple(sessions), (LostGround("north", 0, last), LostGround("south", 0, last)))
