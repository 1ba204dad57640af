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


@dataclass(frozen=True)
class PlannedDrill:
    """A part of an evening: so many of the drill's own rounds, "drill" or "drill:variation".

    The rounds and the rests between them are as long as the drill says, so they alone decide the minutes.
    """

    kind: str
    drill: str
    rounds: int
    changeover_s: int | None = None  # behind it, where laying the next part takes longer than usual


@dataclass(frozen=True)
class Planned:
    title: str
    theme: str
    parts: tuple[PlannedDrill, ...]


MILL_N, MILL_S = ("Mill Field", "North half"), ("Mill Field", "South half")
CAGE_G, CAGE_F = ("The Cage", "Gate end"), ("The Cage", "Far end")
PADDOCK = (("The Paddock", "Near pitch"), ("The Paddock", "Far pitch"))
SLOTS = (
    WeeklySlot("U12", 0, time(18, 0), (CAGE_G,)),
    WeeklySlot("U9", 0, time(17, 0), (MILL_S,)),
    WeeklySlot("U14", 0, time(18, 30), (MILL_N, MILL_S)),
    WeeklySlot("U7", 1, time(17, 0), PADDOCK),
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

ARRIVAL, WARM, PRACTICE, GAME = "arrival", "warm-up", "practice", "game"
# Which drills each age group meets: the evenings of the three weeks, taken in turn. Each of them runs on every pitch that the
# group has, keeps inside its budget whatever the team's own factor, and leaves a few minutes to drink and to talk.
EVENINGS: dict[str, tuple[Planned, ...]] = {
    "U7": (
        Planned(
            "Foxes about",
            "ball-mastery",
            (
                PlannedDrill(ARRIVAL, "gate-collectors", 6),
                PlannedDrill(GAME, "hens-and-foxes", 5),
                PlannedDrill(PRACTICE, "post-round", 4),
                PlannedDrill(GAME, "bears-to-bed", 4),
            ),
        ),
        Planned(
            "Over the river",
            "ball-mastery",
            (
                PlannedDrill(ARRIVAL, "gate-collectors:pairs", 6),
                PlannedDrill(GAME, "otters-in-the-river", 5),
                PlannedDrill(PRACTICE, "fox-and-four", 5),
                PlannedDrill(GAME, "shells-ashore", 5),
            ),
        ),
    ),
    "U8": (
        Planned(
            "Through the windows",
            "ball-mastery",
            (
                PlannedDrill(ARRIVAL, "early-birds", 3),
                PlannedDrill(GAME, "night-cats", 4, changeover_s=150),
                PlannedDrill(PRACTICE, "pick-a-door", 4, changeover_s=150),
                PlannedDrill(GAME, "bears-to-bed", 4),
            ),
        ),
        Planned(
            "Who shares the ball?",
            "keep-the-ball",
            (
                PlannedDrill(ARRIVAL, "gate-collectors", 6),
                PlannedDrill(GAME, "otters-in-the-river", 5),
                PlannedDrill(PRACTICE, "fox-and-four:fox-cub", 5),
                PlannedDrill(GAME, "bears-to-bed:share-honey", 5),
            ),
        ),
    ),
    "U9": (
        Planned(
            "Two against one",
            "combine",
            (
                PlannedDrill(ARRIVAL, "gate-collectors", 6),
                PlannedDrill(PRACTICE, "pick-a-door", 5, changeover_s=180),
                PlannedDrill(PRACTICE, "gatekeeper-two-on-one", 4, changeover_s=180),
                PlannedDrill(GAME, "early-birds", 3),
            ),
        ),
        Planned(
            "Beat your partner",
            "one-v-one",
            (
                PlannedDrill(ARRIVAL, "early-birds", 3),
                PlannedDrill(PRACTICE, "three-gates-one-secret", 4),
                PlannedDrill(PRACTICE, "two-bridges:wide-river", 6),
                PlannedDrill(GAME, "night-cats", 5),
            ),
        ),
    ),
    "U10": (
        Planned(
            "Bridges",
            "keep-the-ball",
            (
                PlannedDrill(ARRIVAL, "gate-collectors", 6),
                PlannedDrill(PRACTICE, "who-is-behind-you", 4),
                PlannedDrill(PRACTICE, "two-bridges:wide-river", 6),
                PlannedDrill(GAME, "quiet-sevens:fives", 2),
            ),
        ),
        Planned(
            "One goes, one guards",
            "one-v-one",
            (
                PlannedDrill(ARRIVAL, "gate-collectors:two-guards", 6),
                PlannedDrill(PRACTICE, "three-gates-one-secret", 3),
                PlannedDrill(PRACTICE, "one-goes-one-guards:cosy", 4),
                PlannedDrill(GAME, "quiet-sevens", 2),
            ),
        ),
    ),
    "U11": (
        Planned(
            "All aboard",
            "combine",
            (
                PlannedDrill(WARM, "colour-chain", 4),
                PlannedDrill(PRACTICE, "split-the-pair:four-left", 7),
                PlannedDrill(PRACTICE, "all-aboard", 5),
                PlannedDrill(GAME, "landing-strip", 4),
            ),
        ),
        Planned(
            "Three ways home",
            "finish",
            (
                PlannedDrill(WARM, "stepping-stones", 4),
                PlannedDrill(PRACTICE, "three-ways-home", 4),
                PlannedDrill(PRACTICE, "rebound-alley", 4),
                PlannedDrill(GAME, "quiet-sevens", 2),
            ),
        ),
    ),
    "U12": (
        Planned(
            "Find the spare one",
            "combine",
            (
                PlannedDrill(WARM, "who-is-behind-you", 5),
                PlannedDrill(PRACTICE, "split-the-pair:four-left", 7),
                PlannedDrill(PRACTICE, "all-aboard", 5),
                PlannedDrill(GAME, "wide-open", 4),
            ),
        ),
        Planned(
            "Win it, go",
            "counter",
            (
                PlannedDrill(WARM, "stepping-stones", 4),
                PlannedDrill(PRACTICE, "ferry-crossing:calm-sea", 5),
                PlannedDrill(PRACTICE, "two-stay-three-fly:four-on-two", 4),
                PlannedDrill(GAME, "echo", 5),
            ),
        ),
        Planned(
            "From side to side",
            "switch-play",
            (
                PlannedDrill(WARM, "who-is-behind-you", 5),
                PlannedDrill(PRACTICE, "two-bridges:wide-river", 6),
                PlannedDrill(PRACTICE, "landing-strip:deep-strips", 4),
                PlannedDrill(GAME, "wide-open", 4),
            ),
        ),
    ),
    "U14": (
        Planned(
            "Press as one",
            "press",
            (
                PlannedDrill(WARM, "who-is-behind-you", 5),
                PlannedDrill(PRACTICE, "one-goes-one-guards", 5),
                PlannedDrill(PRACTICE, "hunt-as-one:one-more", 3),
                PlannedDrill(GAME, "three-rooms", 3),
            ),
        ),
        Planned(
            "Out from the back",
            "play-out",
            (
                PlannedDrill(WARM, "who-is-behind-you", 5),
                PlannedDrill(PRACTICE, "post-and-return", 4),
                PlannedDrill(PRACTICE, "clear-the-harbour:five-press", 4),
                PlannedDrill(GAME, "three-rooms", 3),
            ),
        ),
    ),
    "U16": (
        Planned(
            "Press, then through",
            "press",
            (
                PlannedDrill(WARM, "who-is-behind-you", 5),
                PlannedDrill(PRACTICE, "hunt-as-one:one-more", 4),
                PlannedDrill(PRACTICE, "three-rooms", 3),
                PlannedDrill(GAME, "rebound-alley", 5),
            ),
        ),
        Planned(
            "Show them the line",
            "press-and-cover",
            (
                PlannedDrill(WARM, "colour-chain", 4),
                PlannedDrill(PRACTICE, "split-the-pair", 7),
                PlannedDrill(PRACTICE, "line-head-out:overload", 4),
                PlannedDrill(PRACTICE, "show-them-the-line", 6),
                PlannedDrill(GAME, "echo", 5),
            ),
        ),
    ),
}
