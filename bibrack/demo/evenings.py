"""The invented club's week: when each squad trains, where, and which drills its sessions hold."""

from dataclasses import dataclass
from datetime import time


@dataclass(frozen=True)
class WeeklySlot:
    """A squad's weekly time. `shift` is added to today's weekday, so that somebody always trains tonight."""

    group: str
    shift: int
    starts: time
    zones: tuple[tuple[str, str], ...]


MILL_N, MILL_S = ("Mill Field", "North half"), ("Mill Field", "South half")
CAGE_G, CAGE_F = ("The Cage", "Gate end"), ("The Cage", "Far end")
SLOTS = (
    WeeklySlot("U12", 0, time(18, 0), (CAGE_G,)),
    WeeklySlot("U9", 0, time(17, 0), (MILL_S,)),
    WeeklySlot("U14", 0, time(18, 30), (MILL_N, MILL_S)),
    WeeklySlot("U7", 1, time(17, 0), (CAGE_G,)),
    WeeklySlot("U10", 1, time(18, 0), (CAGE_G,)),
    WeeklySlot("U16", 1, time(19, 15), (CAGE_G, CAGE_F)),
    WeeklySlot("U8", 2, time(17, 0), (CAGE_F,)),
    WeeklySlot("U11", 2, time(18, 0), (CAGE_F,)),
    WeeklySlot("U12", 3, time(17, 30), (CAGE_G,)),
    WeeklySlot("U10", 4, time(17, 30), (MILL_S,)),
    WeeklySlot("U11", 4, time(18, 0), (CAGE_G,)),
    WeeklySlot("U14", 4, time(18, 45), (CAGE_F,)),
    WeeklySlot("U16", 5, time(18, 0), (CAGE_G, CAGE_F)),
)

# Which drills each age group meets: the three weeks' sessions, part by part. "drill" or "drill:variation".
ARRIVAL, WARM, PRACTICE, GAME = "arrival", "warm-up", "practice", "game"
EVENINGS: dict[str, tuple[tuple[str, str, tuple[tuple[str, str, int], ...]], ...]] = {
    # group: (title, theme, ((part, drill, minutes), …)), taken in turn
    "U7": (
        (
            "Foxes about",
            "ball-mastery",
            (
                (ARRIVAL, "early-birds", 10),
                (GAME, "hens-and-foxes", 10),
                (PRACTICE, "post-round", 11),
                (GAME, "early-birds", 10),
            ),
        ),
        (
            "Over the river",
            "ball-mastery",
            (
                (ARRIVAL, "early-birds", 10),
                (GAME, "otters-in-the-river", 10),
                (PRACTICE, "fox-and-four", 8),
                (GAME, "night-cats", 11),
            ),
        ),
    ),
    "U8": (
        (
            "Through the gates",
            "one-v-one",
            (
                (ARRIVAL, "early-birds", 10),
                (GAME, "night-cats", 10),
                (PRACTICE, "three-gates-one-secret", 12),
                (GAME, "gatekeeper-two-on-one", 12),
            ),
        ),
        (
            "Who shares the ball?",
            "keep-the-ball",
            (
                (ARRIVAL, "gate-collectors", 9),
                (GAME, "otters-in-the-river", 11),
                (PRACTICE, "fox-and-four", 8),
                (PRACTICE, "post-round", 12),
            ),
        ),
    ),
    "U9": (
        (
            "Two against one",
            "combine",
            (
                (ARRIVAL, "gate-collectors", 9),
                (PRACTICE, "pick-a-door", 12),
                (PRACTICE, "gatekeeper-two-on-one", 14),
                (GAME, "left-door-right-door", 12),
            ),
        ),
        (
            "Beat your partner",
            "one-v-one",
            (
                (ARRIVAL, "early-birds", 10),
                (PRACTICE, "three-gates-one-secret", 14),
                (PRACTICE, "two-bridges", 12),
                (GAME, "gatekeeper-two-on-one", 12),
            ),
        ),
    ),
    "U10": (
        (
            "Bridges",
            "keep-the-ball",
            (
                (ARRIVAL, "gate-collectors", 9),
                (PRACTICE, "two-bridges", 13),
                (PRACTICE, "two-stay-three-fly", 15),
                (GAME, "quiet-sevens", 12),
            ),
        ),
        (
            "Doors left and right",
            "one-v-one",
            (
                (ARRIVAL, "colour-chain", 9),
                (PRACTICE, "left-door-right-door", 13),
                (PRACTICE, "one-goes-one-guards", 13),
                (GAME, "quiet-sevens", 14),
            ),
        ),
    ),
    "U11": (
        (
            "All aboard",
            "combine",
            (
                (WARM, "colour-chain", 10),
                (PRACTICE, "split-the-pair", 12),
                (PRACTICE, "all-aboard", 18),
                (GAME, "quiet-sevens", 17),
            ),
        ),
        (
            "Three ways home",
            "finish",
            (
                (WARM, "stepping-stones", 9),
                (PRACTICE, "three-ways-home", 16),
                (PRACTICE, "two-stay-three-fly", 16),
                (GAME, "landing-strip", 15),
            ),
        ),
    ),
    "U12": (
        (
            "Find the spare one",
            "combine",
            (
                (WARM, "colour-chain", 10),
                (PRACTICE, "split-the-pair", 12),
                (PRACTICE, "all-aboard", 18),
                (GAME, "wide-open", 18),
            ),
        ),
        (
            "Win it, go",
            "counter",
            (
                (WARM, "stepping-stones", 9),
                (PRACTICE, "ferry-crossing", 14),
                (PRACTICE, "burst-the-bubble", 12),
                (GAME, "echo", 18),
            ),
        ),
        (
            "From side to side",
            "switch-play",
            (
                (WARM, "who-is-behind-you", 12),
                (PRACTICE, "bite-back", 12),
                (PRACTICE, "coast-to-coast", 18),
                (GAME, "wide-open", 17),
            ),
        ),
    ),
    "U14": (
        (
            "Press as one",
            "press",
            (
                (WARM, "stepping-stones", 9),
                (PRACTICE, "bite-back", 14),
                (PRACTICE, "hunt-as-one", 22),
                (GAME, "three-rooms", 20),
            ),
        ),
        (
            "Out from the back",
            "play-out",
            (
                (WARM, "out-in-through", 12),
                (PRACTICE, "post-and-return", 16),
                (PRACTICE, "clear-the-harbour", 20),
                (GAME, "echo", 16),
            ),
        ),
    ),
    "U16": (
        (
            "Through the rooms",
            "combine",
            (
                (WARM, "out-in-through", 12),
                (PRACTICE, "post-and-return", 18),
                (PRACTICE, "three-rooms", 20),
                (GAME, "rebound-alley", 18),
            ),
        ),
        (
            "Show them the line",
            "press-and-cover",
            (
                (WARM, "stepping-stones", 9),
                (PRACTICE, "ferry-crossing", 15),
                (PRACTICE, "show-them-the-line", 20),
                (GAME, "echo", 20),
            ),
        ),
    ),
}
