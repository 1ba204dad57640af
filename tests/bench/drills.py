"""Invented drills by the thousand, written in bulk: rows as an import makes them, rooms shared by drills of one pattern.

Each has four rungs, ages, kit, sentences and questions; one in ten is a draft of somebody else, two are for review.
"""

import random
from copy import copy
from itertools import islice
from typing import Any

from club.models import User
from drills.actions.derive import derive, keep_words
from drills.bridge import plain, project
from drills.choices import DrillState
from drills.game.document import DrillDocument, decode, digest
from drills.models import Drill, DrillRevision, Variation
from tests.drills.samples import SMALL

ACTIVITIES = ("rondo", "possession", "directional game", "waves", "fun game", "warm-up")
THEMES = ("press", "finish", "combine", "keep-the-ball", "switch-play", "one-v-one")
FORMATS = (
    "5v5+2", "3v3", "5v2", "4v2", "5v5", "6v6", "3v3+2", "7v7", "2v2+2", "4v1", "GK+4v4+GK", "GK+6v6+GK", "3v2", "6v4+GK",
)  # fmt: skip
STATES = (*[DrillState.CLUB_STANDARD] * 7, *[DrillState.FOR_REVIEW] * 2, DrillState.DRAFT)
SYLLABLES = (
    "al",
    "ber",
    "cor",
    "dun",
    "el",
    "fen",
    "gar",
    "hol",
    "is",
    "kem",
    "lor",
    "mar",
    "nor",
    "os",
    "pel",
    "rin",
)
PLACES = [
    f"{one}{two}{three}" for one in SYLLABLES for two in SYLLABLES[:8] for three in ("ton", "wick", "ley")
]
WORDS = ("winger", "lantern", "harbour", "gate", "shadow", "bridge", "orchard", "meadow", "beacon", "quarry")
PATTERNS = (
    200  # so many different numbers on grids, with 600 rooms of rungs and 200 of whole drills between them
)
BATCH = 1000


def fill(owner: User, count: int, seed: int = 3) -> None:
    """So many drills. Each pattern of numbers and grid is derived once, then shared."""
    rng = random.Random(seed)
    shared: dict[int, list[Variation]] = {}
    numbers = iter(range(count))
    while batch := list(islice(numbers, BATCH)):
        _write(owner, rng, batch, shared)


def _write(owner: User, rng: random.Random, numbers: list[int], shared: dict[int, list[Variation]]) -> None:
    patterns = [rng.randrange(PATTERNS) for _ in numbers]
    made = [
        decode(_document(rng, number, pattern)) for number, pattern in zip(numbers, patterns, strict=True)
    ]
    drills = [_drill(owner, rng, each) for each in made]
    Drill.objects.bulk_create(drills)
    revisions = DrillRevision.objects.bulk_create(map(_revision, drills, made))
    rungs: list[Variation] = []
    for drill, revision, document, pattern in zip(drills, revisions, made, patterns, strict=True):
        drill.current_revision = revision
        if pattern not in shared:
            derive(drill, document)
            shared[pattern] = list(drill.variations.select_related("drill"))
        else:
            rungs += _rungs(drill, document, shared[pattern])
    Drill.objects.bulk_update(drills, ["current_revision", "footprint"])
    Variation.objects.bulk_create(rungs)
    keep_words(drills)


def _document(rng: random.Random, number: int, pattern: int) -> dict[str, Any]:
    length = 14 + pattern % 15 * 2
    grid = {"key": "usual", "length_m": length, "width_m": length - 4, "purpose": "room"}
    low = rng.choice((None, 7, 9, 11, 13))
    return {
        **SMALL,
        "title": f"{rng.choice(WORDS).title()} {rng.choice(WORDS)} {number}",
        "purpose": f"Find the {rng.choice(WORDS)} behind the {rng.choice(WORDS)} at {rng.choice(PLACES).title()}.",
        "activity": ACTIVITIES[pattern % len(ACTIVITIES)],
        "themes": rng.sample(THEMES, 2),
        "under_from": low,
        "under_to": low and low + 5,
        "format": FORMATS[pattern % len(FORMATS)],
        "grids": [grid],
        "goals": [{"key": f"g{place}", "edge": ("left", "right")[place % 2]} for place in range(pattern % 3 * 2)],
        "kit": [{"kind": "marker cones", "count": 8 + pattern % 2 * 4}],
        "say_this": [_sentence(rng) for _ in range(3)],
        "points": [{"role": rng.choice(WORDS), "looks_like": _sentence(rng)}],
        "questions": [
            {"key": f"q{each}", "role": "all", "moment": "between bouts", "ask": _sentence(rng), "listen_for": "Yes."}
            for each in range(3)
        ],
        "variations": _ladder(length),
        "work": {"minutes": rng.choice((10, 15, 20, 25)), "effort": rng.choice((3.0, 5.0, 6.5, 8.0))},
    }  # fmt: skip


def _ladder(length: int) -> list[dict[str, Any]]:
    wide = {"type": "set_grid", "length_m": length + 6, "width_m": length + 2}
    tight = {"type": "set_grid", "length_m": length - 2, "width_m": length - 5}
    return [
        {"key": "calm", "title": "Wide and calm", "rung": "easier", "effort": 2, "changes": [wide]},
        {"key": "tight", "title": "Tight", "rung": "harder", "effort": 8.5, "changes": [tight]},
        {
            "key": "two", "title": "Two touches", "rung": "harder",
            "changes": [{"type": "add_condition", "condition": {
                "type": "limit", "key": "two", "kind": "touches", "scope": {}, "number": 2}}],
        },
    ]  # fmt: skip


def _sentence(rng: random.Random) -> str:
    return f"Look for the {rng.choice(WORDS)} near {rng.choice(PLACES)}, then leave the {rng.choice(WORDS)} alone."


def _drill(owner: User, rng: random.Random, document: DrillDocument) -> Drill:
    drill = Drill(owner=owner, state=rng.choice(STATES))
    project(drill, document)
    return drill


def _rungs(drill: Drill, document: DrillDocument, pattern: list[Variation]) -> list[Variation]:
    """As its pattern's rungs, with its own effort where the rung has none of its own."""
    drill.footprint_id = pattern[0].drill.footprint_id
    rungs = [copy(each) for each in pattern]
    for each in rungs:
        each.pk, each.drill, each.title = None, drill, each.title if each.key else document.title
        if each.key in ("", "two"):
            each.effort = document.work.effort
    return rungs


def _revision(drill: Drill, document: DrillDocument) -> DrillRevision:
    return DrillRevision(
        drill=drill,
        number=1,
        drill_version=1,
        document=plain(document),
        schema_version=document.schema_version,
        sha256=digest(document),
    )
