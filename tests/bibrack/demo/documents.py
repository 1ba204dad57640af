"""The demo club's drills as documents, for tests that need no database."""

from functools import cache
from pathlib import Path

import bibrack
from drills.game.document import DrillDocument, decode

FOLDER = Path(bibrack.__file__).parent / "demo" / "drills"
SLUGS = sorted(path.stem for path in FOLDER.glob("*.json"))


@cache
def demo_document(slug: str) -> DrillDocument:
    """One of them, by the name of its file."""
    return decode((FOLDER / f"{slug}.json").read_bytes())
