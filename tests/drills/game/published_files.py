"""Files of docs/ that are computed: `python -m tests.drills.game.published_files` writes them, a test compares them."""

import json
import math
from collections import Counter
from pathlib import Path

from drills.game.design import Design
from drills.game.document import decode, published_schema
from drills.game.fit import fit
from drills.game.fit.setup import SetUp
from drills.game.playable import design_of

ROOT = Path(__file__).parents[3]
DOCS = ROOT / "docs"
DEMO = ROOT / "bibrack" / "demo" / "drills"
DESIGNS = ("two-locks", "post-and-return", "split-the-pair", "two-stay-three-fly", "echo", "hens-and-foxes")
LEAST, MOST = 5, 26
FREE_M = (60.0, 40.0)
YOUNGEST_PER_ADULT = 6  # NSPCC/CPSU, ages 4 to 8

HEAD = """# Fit's first answers

What Fit answers first for 5 to 26 players on {length:g} × {width:g} m of free space, for six drills of the demo club: numbers, size of
a grid in metres, who waits. Kit is there, and as many adults as each drill needs: for the youngest one for six children, as the NSPCC
advises for ages 4 to 8. Nobody said who keeps goal. Made by `python -m tests.drills.game.published_files`, and a test holds it to what
is computed now. The form and the weights of the distance are our own judgement; coaches have not tried them yet.

A queue's waiting is planned: only what goes beyond the plan counts against an answer.
"""


def first_answers() -> str:
    """The table in Markdown."""
    documents = {name: decode((DEMO / f"{name}.json").read_bytes()) for name in DESIGNS}
    designs = {name: design_of(document) for name, document in documents.items()}
    heads = [f"{documents[name].title} ({designs[name].format})" for name in DESIGNS]
    lines = [HEAD.format(length=FREE_M[0], width=FREE_M[1])]
    lines += ["| players | " + " | ".join(heads) + " |", "| ---: |" + " --- |" * len(heads)]
    for players in range(LEAST, MOST + 1):
        cells = [_answer(designs[name], players) for name in DESIGNS]
        lines.append(f"| {players} | " + " | ".join(cells) + " |")
    return "\n".join(lines) + "\n"


def _answer(design: Design, players: int) -> str:
    adults = math.ceil(players / YOUNGEST_PER_ADULT) if design.youngest else 1
    adults = max(adults, design.adults_needed)
    found = fit(design, players=players, adults=adults, length_m=FREE_M[0], width_m=FREE_M[1])
    return _cell(found[0]) if found else "–"


def _cell(setup: SetUp) -> str:
    grids = Counter(
        f"{fmt} on {length:g} × {width:g}"
        for fmt, (length, width) in zip(setup.grid_formats, setup.grid_sizes, strict=True)
    )
    text = ", ".join(f"{count} × ({said})" if count > 1 else said for said, count in grids.items())
    return f"{text}; {setup.waiting} wait" if setup.waiting else text


def schema() -> str:
    """The JSON Schema of the document."""
    return json.dumps(published_schema(), indent=2, sort_keys=True, ensure_ascii=False) + "\n"


FILES = {"first-answers.md": first_answers, "drill.schema.json": schema}

if __name__ == "__main__":
    for name, made in FILES.items():
        (DOCS / name).write_text(made(), encoding="utf-8")
