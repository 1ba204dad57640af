"""Files of docs/ that are computed: `python -m tests.drills.game.published_files` writes them, a test compares them."""

import json
from collections import Counter
from pathlib import Path

from club.ages import under_words
from drills.game.document import DrillDocument, published_schema
from drills.game.evening import Evening, Piece, one_year
from drills.game.fit.setup import SetUp
from drills.game.fits import Fits, fits
from drills.game.pitches import usual_a_side
from tests.bibrack.demo.documents import SLUGS, demo_document

ROOT = Path(__file__).parents[3]
DOCS = ROOT / "docs"
LEAST, MOST = 5, 24
ADULTS = 2
CAGE = Piece("cage", 40, 30, "fence", "fence", "fence", "fence")
GRASS = Piece("grass", 60, 40)
YOUNGEST, OLDEST = 7, 18

HEAD = """# Fit's first answers

What Fit answers first for every drill of the demo club, for 5 to 24 players and two adults, on 40 × 30 m with a fence all round and on
60 × 40 m of open ground: numbers, size of a grid in metres, who is off, or why nothing works. The players are the youngest that the
drill is for, in the match format that is usual for them from season 2026-27; nobody said who keeps goal, and kit is there. Made by `python -m
tests.drills.game.published_files`; a test holds it to what is computed now. The form and the weights of the distance are our own judgement;
coaches have not tried them yet. What a coach would do on twelve evenings stands in `tests/drills/game/fit/test_judged.py`.

## What still reads odd, or differs from a coach's answer

- **1v1 in the cage.** For 13 and 14 under-elevens a coach paces four grids of 12 × 10 m; Fit gives 16 × 12 and 15 × 11. The drills' own grids are 14 × 14
  and 16 × 14, and 2 m to the fence are kept: it keeps to the drill. Numbers and who is off are the coach's.
- **Stepping Stones.** Two lanes of 30 × 12 m where a coach takes 22 × 10: 30 × 12 is the drill's own lane, and there is room.
- **Games for ten and more in the cage, from about 18 players** (Clear the Harbour, Coast to Coast, Quiet Sevens, Three Rooms, Show Them the Line,
  Wide Open). What is left on 40 × 30 m is far from the drill, with helpers outside that it does not have, and its distance (above 1.3)
  says so. A coach would take another drill or a second station; search shows what is nearer first.
- **Five for a game of ten.** Three against two is half the drill and another overload; a coach takes a drill for five.
- **Early Birds, 19 to 24.** Three against three with jokers, since no side of under-sevens may be larger than three and two adults stand between four
  grids at most: more players than the two of them should run alone.
- **Bears to Bed and Shells Ashore, 7, 13 and 14.** Three against three with one at the side, since no side of under-sevens may be larger than three. A
  coach plays four against three, or lets that one come inside. From 22 on some are off in turn: three games of seven take 21, and so
  many need four adults anyway.
- **Uneven numbers in duels.** The odd one is off in turn. A coach lets the spare serve, which Fit has no word for.
"""


def first_answers() -> str:
    """The tables in Markdown."""
    return HEAD + "".join(_table(slug) for slug in SLUGS)


def _table(slug: str) -> str:
    document = demo_document(slug)
    under = min(max(document.under_from or YOUNGEST, YOUNGEST), OLDEST)
    lines = [f"\n## {document.title} ({document.format}), {under_words(under, under)}\n"]
    lines += ["| players | cage, 40 × 30 m | grass, 60 × 40 m |", "| ---: | --- | --- |"]
    for players in range(LEAST, MOST + 1):
        cells = [_answer(document, players, under, ground) for ground in (CAGE, GRASS)]
        lines.append(f"| {players} | " + " | ".join(cells) + " |")
    return "\n".join(lines) + "\n"


def _answer(document: DrillDocument, players: int, under: int, ground: Piece) -> str:
    ages = one_year(under, usual_a_side(under))
    found: Fits = fits(document, "", Evening(players, None, ADULTS, ages, (ground,)), most=1)
    return _cell(found[0]) if found else found.refusals[0].text


def _cell(setup: SetUp) -> str:
    grids = Counter(
        f"{fmt} on {length:g} × {width:g}"
        for fmt, (length, width) in zip(setup.grid_formats, setup.grid_sizes, strict=True)
    )
    text = ", ".join(f"{count} × ({said})" if count > 1 else said for said, count in grids.items())
    text += " with an adult" if setup.adult_plays else ""
    return f"{text}; {setup.waiting} off" if setup.waiting else text


def schema() -> str:
    """The JSON Schema of the document."""
    return json.dumps(published_schema(), indent=2, sort_keys=True, ensure_ascii=False) + "\n"


FILES = {"first-answers.md": first_answers, "drill.schema.json": schema}

if __name__ == "__main__":
    for name, made in FILES.items():
        (DOCS / name).write_text(made(), encoding="utf-8")
