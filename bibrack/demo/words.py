"""The invented club in words: its age groups, people, places and bag. Nobody and nothing here is real."""

from dataclasses import dataclass
from datetime import time
from typing import Any

CLUB = "Larkmoor Athletic"
TIME_ZONE = "Europe/London"


@dataclass(frozen=True)
class Group:
    """An age group of one year with one squad: its format is that of the season that runs, never taken from the age alone."""

    under: int
    squad: str
    old_format: str  # up to season 2025-26
    new_format: str  # from season 2026-27
    ball: int
    minutes: int
    sessions: int
    match_minutes: int
    players: int

    @property
    def label(self) -> str:
        return f"U{self.under}"


GROUPS = (
    Group(7, "Wrens", "5v5", "3v3", 3, 50, 1, 0, 10),
    Group(8, "Swifts", "5v5", "5v5", 3, 55, 1, 40, 12),
    Group(9, "Plovers", "7v7", "5v5", 3, 60, 1, 40, 12),
    Group(10, "Kestrels", "7v7", "7v7", 3, 60, 2, 60, 13),
    Group(11, "Magpies", "9v9", "7v7", 4, 70, 2, 60, 14),
    Group(12, "Herons", "9v9", "9v9", 4, 75, 2, 60, 15),
    Group(14, "Harriers", "11v11", "11v11", 4, 80, 2, 70, 16),
    Group(16, "Ravens", "11v11", "11v11", 5, 85, 2, 80, 16),
)

# Match pitches, metres: of a format, of 11 a side by the age group. The FA, handbook 2016-17; 3v3 from 2026-27: the most it may be.
GROUNDS = {
    "3v3": (20.0, 15.0),
    "5v5": (36.58, 27.43),
    "7v7": (54.86, 36.58),
    "9v9": (73.15, 45.72),
    "U14": (82.30, 50.29),
    "U16": (91.44, 54.86),
}

# fmt: off
NAMES = (
    "Ada", "Alba", "Amir", "Anouk", "Arlo", "Aisha", "Basia", "Bea", "Bram", "Cato", "Ciaran", "Cleo",
    "Dario", "Della", "Demi", "Elif", "Emre", "Esme", "Ezra", "Farah", "Femi", "Fenna", "Finn", "Gwen",
    "Hamza", "Hana", "Hugo", "Ida", "Ilse", "Imani", "Ines", "Isaac", "Ivo", "Jaro", "Jodie", "Jonah",
    "Juno", "Kaja", "Kofi", "Lale", "Leif", "Leon", "Lina", "Lotte", "Luca", "Maeve", "Malik", "Mara",
    "Milo", "Mina", "Nadia", "Nico", "Noor", "Olga", "Omar", "Orla", "Otis", "Pablo", "Petra", "Quinn",
    "Rafi", "Remi", "Rhea", "Robin", "Rosa", "Ruben", "Sami", "Sana", "Senna", "Silas", "Suri",
    "Tariq", "Tess", "Theo", "Tilda", "Uma", "Vera", "Viggo", "Wren", "Xan", "Yara", "Yusuf", "Zane",
    "Zeno", "Zita", "Zoe",
)
# fmt: on
INITIALS = "BCDFGHKLMNPRSTVW"

STAFF = (
    # email, name, roles: (role, age group or "")
    ("director@demo.example", "Morwenna Tait", (("director", ""),)),
    ("coach@demo.example", "Idris Lowther", (("coach", "U12"),)),
    ("helper@demo.example", "Pia Sandell", (("helper", "U12"),)),
    ("reader@demo.example", "Olwen Marsh", (("reader", ""),)),
    ("coach.young@demo.example", "Bettina Crewe", (("coach", "U7"), ("coach", "U8"))),
    ("coach.nines@demo.example", "Callum Ferris", (("coach", "U9"), ("coach", "U10"))),
    ("coach.elevens@demo.example", "Naledi Brook", (("coach", "U11"),)),
    ("coach.fourteens@demo.example", "Tomasz Hale", (("coach", "U14"),)),
    ("coach.sixteens@demo.example", "Greta Lindqvist", (("coach", "U16"),)),
    ("helper.young@demo.example", "Jo Penhale", (("helper", "U7"), ("helper", "U8"), ("helper", "U9"))),
    ("helper.old@demo.example", "Samir Doyle", (("helper", "U14"), ("helper", "U16"))),
)

Zone = tuple[str, float, float, dict[str, str], tuple[dict[str, Any], ...]]
# Zones with their length, width, what stands at their edges (open where nothing is said) and their fixed goals; in the
# order in which they lie side by side, the first one near.
PITCHES: tuple[tuple[str, str, bool, tuple[Zone, ...]], ...] = (
    (
        "Mill Field",
        "grass",
        False,
        (
            ("North half", 50.0, 40.0, {"top": "group"}, ()),
            ("South half", 50.0, 40.0, {"bottom": "group"}, ()),
        ),
    ),
    (
        "The Cage",
        "artificial",
        True,
        (
            (
                "Gate end",
                40.0,
                30.0,
                {"left": "fence", "right": "fence", "bottom": "fence", "top": "group"},
                ({"edge": "bottom", "along": 0.5, "size": "age group"},),
            ),
            (
                "Far end",
                40.0,
                30.0,
                {"left": "fence", "right": "fence", "bottom": "group", "top": "fence"},
                ({"edge": "top", "along": 0.5, "size": "age group"},),
            ),
        ),
    ),
)

KIT = (
    ("balls", 36),
    ("marker cones", 90),
    ("flat markers", 40),
    ("tall cones", 24),
    ("mini goals", 8),
    ("moveable goals", 4),
    ("poles", 12),
    ("hoops", 12),
    ("mannequins", 4),
)
BIBS = (("red", 12), ("blue", 12), ("yellow", 10), ("green", 8), ("orange", 6))

THEMES = (
    ("ball-mastery", "Friends with the ball", "in possession"),
    ("one-v-one", "Beat an opponent", "in possession"),
    ("keep-the-ball", "Keep the ball", "in possession"),
    ("play-out", "Play out from the back", "in possession"),
    ("switch-play", "Switch the play", "in possession"),
    ("combine", "Combine to get in", "in possession"),
    ("finish", "Finish", "in possession"),
    ("press", "Press together", "out of possession"),
    ("press-and-cover", "Press and cover", "out of possession"),
    ("defend-goal", "Defend the goal", "out of possession"),
    ("keeper-basics", "Keeper: set, hold, start", "out of possession"),
    ("counter", "Forward on winning it", "winning it"),
    ("counter-press", "Win it straight back", "losing it"),
    ("set-plays", "Corners, free kicks, throws", "set piece"),
)


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
            "Open the locks",
            "keep-the-ball",
            (
                (WARM, "colour-chain", 10),
                (PRACTICE, "split-the-pair", 12),
                (PRACTICE, "two-locks", 18),
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
            "Patience, then through",
            "keep-the-ball",
            (
                (WARM, "colour-chain", 10),
                (PRACTICE, "split-the-pair", 12),
                (PRACTICE, "two-locks", 18),
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
