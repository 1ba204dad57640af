"""The demo library: one document a file, taken in through the same checks as any other drill."""

from collections.abc import Iterator, Mapping
from pathlib import Path

from bibrack.demo import board
from club import queries as club
from club.models import User
from drills import actions
from drills.game.document import DrillDocument, decode
from drills.models import Drill

FOLDER = Path(__file__).parent / "drills"
DRAFTS = ("first-pass-from-home",)
FOR_REVIEW = ("show-them-the-line", "bite-back")


def documents() -> Iterator[tuple[str, DrillDocument]]:
    """Slug and document of each demo drill, in order of slugs."""
    for path in sorted(FOLDER.glob("*.json")):
        yield path.stem, decode(path.read_bytes())


def add_drills(staff: Mapping[str, User]) -> dict[str, Drill]:
    """The library with its owners: most are the club's standard, some still on their way."""
    director = club.actor_of(staff["director@demo.example"])
    writers = [
        club.actor_of(staff[email])
        for email in ("coach@demo.example", "coach.fourteens@demo.example", "coach.nines@demo.example")
    ]
    made = {}
    for index, (slug, document) in enumerate(documents()):
        writer = writers[index % len(writers)]
        drill = actions.create_drill(actor=writer, document=document)
        if slug not in DRAFTS:
            drill = actions.send_for_review(actor=writer, public_id=drill.public_id)
        if slug not in (*DRAFTS, *FOR_REVIEW):
            drill = actions.approve_drill(actor=director, public_id=drill.public_id)
        if slug == board.SLUG:
            board.add_board(director, drill, document)
        made[slug] = drill
    return made
