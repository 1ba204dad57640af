"""The invented club in words: its age groups, people, places and bag. Nobody and nothing here is real."""

from dataclasses import dataclass
from typing import Any

CLUB = "Larkmoor Athletic"
TIME_ZONE = "Europe/London"
LATITUDE, LONGITUDE = "52.60", "-1.30"  # somewhere in the middle of England; the club itself is nowhere


@dataclass(frozen=True)
class DemoAgeGroup:
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
    DemoAgeGroup(7, "Wrens", "5v5", "3v3", 3, 50, 1, 0, 10),
    DemoAgeGroup(8, "Swifts", "5v5", "5v5", 3, 55, 1, 40, 12),
    DemoAgeGroup(9, "Plovers", "7v7", "5v5", 3, 60, 1, 40, 12),
    DemoAgeGroup(10, "Kestrels", "7v7", "7v7", 3, 60, 2, 60, 13),
    DemoAgeGroup(11, "Magpies", "9v9", "7v7", 4, 70, 2, 60, 14),
    DemoAgeGroup(12, "Herons", "9v9", "9v9", 4, 75, 2, 60, 15),
    DemoAgeGroup(14, "Harriers", "11v11", "11v11", 4, 80, 2, 70, 16),
    DemoAgeGroup(16, "Ravens", "11v11", "11v11", 5, 85, 2, 80, 16),
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
    ("helper.tens@demo.example", "Wilma Corrie", (("helper", "U10"),)),
    ("helper.elevens@demo.example", "Anselm Roke", (("helper", "U11"),)),
    ("helper.old@demo.example", "Samir Doyle", (("helper", "U14"), ("helper", "U16"))),
)

# Days from the day on which the demo is made until vetting, safeguarding and first aid run out; None: never entered.
# One runs out soon, so that the director sees where it is said.
CHECKS: dict[str, tuple[int | None, int | None, int | None]] = {
    "director@demo.example": (610, 430, None),
    "coach@demo.example": (820, 510, 700),
    "helper@demo.example": (390, 390, None),
    "coach.young@demo.example": (700, 240, 41),
    "coach.nines@demo.example": (515, 515, 300),
    "coach.elevens@demo.example": (930, 460, 610),
    "coach.fourteens@demo.example": (275, 275, 480),
    "coach.sixteens@demo.example": (640, 350, 205),
    "helper.young@demo.example": (560, 190, 365),
    "helper.tens@demo.example": (480, 480, None),
    "helper.elevens@demo.example": (355, 355, None),
    "helper.old@demo.example": (770, 410, 520),
}
# What stands on an emergency block, by the pitch's name: address, gate for an ambulance, nearest defibrillator.
IN_AN_EMERGENCY = {
    "Mill Field": (
        "Mill Field, Tannery Lane, Larkmoor",
        "North gate, Tannery Lane: key in the box by the post",
        "Outside the pavilion door",
    ),
    "The Cage": (
        "The Cage, Quarry Road, Larkmoor",
        "Quarry Road, the wide gate beside the car park",
        "Inside the sports hall, left of the desk",
    ),
    "The Paddock": (
        "The Paddock, 4 Orchard Rise, Larkmoor",
        "From Orchard Rise, over the grass",
        "On the wall of the primary school",
    ),
}
WELFARE_PHONE = "01632 960 144"  # 01632 960 000 to 960 999 are kept free for stories (Ofcom; from memory)

Zone = tuple[str, float, float, dict[str, str], tuple[dict[str, Any], ...]]
# Zones with their length, width, what stands at their edges (open where nothing is said) and their fixed goals; in the
# order in which they lie side by side, the first one near.
PITCHES: tuple[tuple[str, str, bool, tuple[Zone, ...]], ...] = (
    (
        "Mill Field",
        "grass",
        True,
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
    # Two pitches of the youngest, 20 × 15 m at most (see GROUNDS), with a metre round each.
    (
        "The Paddock",
        "artificial",
        True,
        (("Near pitch", 22.0, 17.0, {}, ()), ("Far pitch", 22.0, 17.0, {}, ())),
    ),
)

KIT = (
    ("balls", 60),
    ("marker cones", 90),
    ("flat markers", 40),
    ("tall cones", 24),
    ("mini goals", 16),
    ("moveable goals", 8),
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
