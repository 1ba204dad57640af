"""`python -m tests.sweep`: every demo drill × rung × 6 to 24 players × two stocks of bibs. Ends with 1 where anything contradicts itself."""

from __future__ import annotations

import os
import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

DRILLS = sorted(Path("bibrack/demo/drills").glob("*.json"))
PLAYERS = range(6, 25)
# Plenty of every colour that the demo club has; and a small club with three colours, none of them enough for two grids.
STOCKS = (
    {
        "red bibs": 14,
        "blue bibs": 14,
        "yellow bibs": 12,
        "green bibs": 10,
        "orange bibs": 10,
        "white bibs": 10,
    },
    {"yellow bibs": 9, "orange bibs": 9, "purple bibs": 5},
)
MOST_SHOWN = 40


def _swept(path: Path) -> tuple[int, int, list[str]]:
    """Set-ups tried, evenings without an answer, and contradictions of one drill."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bibrack.settings.testing")
    os.environ.setdefault("DATABASE_URL", "postgres://nobody@localhost:1/none")
    import django

    django.setup()
    from drills.game.document import decode
    from drills.game.evening import Evening, typed_ground
    from drills.game.fits import fits
    from drills.game.played import as_played, dressed
    from tests.sweep.held import contradictions

    document = decode(path.read_bytes())
    tried = none = 0
    found: list[str] = []
    for rung in ("", *(each.key for each in document.variations)):
        runs = [("as written", as_played(document, rung))]
        for number, stock in enumerate(STOCKS):
            for players in PLAYERS:
                evening = Evening(players, adults=2, pieces=typed_ground(60, 40), kit=stock)
                answer = fits(document, rung, evening)
                none += not answer
                runs += [
                    (f"{players} players, stock {number + 1}", dressed(document, rung, each, evening))
                    for each in answer.first
                ]
        for words, run in runs:
            tried += 1
            found += [f"{path.stem} · {rung or '-'} · {words}: {each}" for each in contradictions(run)]
    return tried, none, found


def main() -> int:
    """Sweep and say what was found."""
    with ProcessPoolExecutor() as several:
        every = list(several.map(_swept, DRILLS))
    found = [line for _tried, _none, lines in every for line in lines]
    for line in found[:MOST_SHOWN]:
        print(line)
    if len(found) > MOST_SHOWN:
        print(f"… and {len(found) - MOST_SHOWN} more:", Counter(line.split(" · ")[0] for line in found))
    tried, none = sum(each[0] for each in every), sum(each[1] for each in every)
    print(
        f"{len(DRILLS)} drills, {tried} set-ups tried, {none} evenings without an answer, {len(found)} contradictions"
    )
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
