"""Drills as a file: one drill to take along, and what became of a file that was brought in, in a coach's words."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol
from uuid import UUID

from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club.actor import Actor
from club.errors import FieldProblem
from drills.bridge import document_of, plain
from drills.game.document import SCHEMA_VERSION
from drills.pages.words import LABELS
from drills.queries.found import FoundDrill, kept_drills

if TYPE_CHECKING:
    from drills.models import Drill

# How the document's own reader puts it → how it is said. A place in the text is kept as {0}, {1}.
_PLAINER = (
    (r"Expected `\w+` <= ([\d.]+?)(?:\.0)?", gettext_lazy("At most {0}.")),
    (r"Expected `\w+` >= ([\d.-]+?)(?:\.0)?", gettext_lazy("At least {0}.")),
    (r"Expected `str` of length <= (\d+)", gettext_lazy("At most {0} characters.")),
    (r"Expected `array` of length <= (\d+)", gettext_lazy("At most {0} of them.")),
    (r"Expected `\w+` of length >= (\d+)", gettext_lazy("At least {0}.")),
    (r"Expected `(?:int|float)(?: \| null)?`, got `\w+`", gettext_lazy("A number belongs here.")),
    (r"Expected `str(?: \| null)?`, got `\w+`", gettext_lazy("Words belong here.")),
    (r"Invalid enum value '?(.*?)'?", gettext_lazy("“{0}” is not one of the words that can be here.")),
    (r"Object contains unknown field `(.+?)`", gettext_lazy("“{0}” is not a part of a drill.")),
    (r"Object missing required field `(.+?)`", gettext_lazy("“{0}” is missing.")),
)


class FileRow(Protocol):
    """What became of one row of a file."""

    @property
    def row(self) -> int: ...
    @property
    def outcome(self) -> str: ...
    @property
    def title(self) -> str: ...
    @property
    def public_id(self) -> UUID | None: ...
    @property
    def problems(self) -> list[FieldProblem]: ...


@dataclass(frozen=True)
class Outcome:
    """A row of a file as it is shown: its place from 1, and why it was refused."""

    place: int
    outcome: str
    title: str
    public_id: UUID | None
    reasons: list[tuple[str, str]]  # where, what


def outcomes(rows: Iterable[FileRow]) -> list[Outcome]:
    """Every row: those refused first, because they want something done."""
    shown = [
        Outcome(
            each.row + 1, each.outcome, each.title, each.public_id, [_reason(why) for why in each.problems]
        )
        for each in rows
    ]
    return sorted(shown, key=lambda each: (each.outcome != "refused", each.place))


def _reason(problem: FieldProblem) -> tuple[str, str]:
    """`grids[0].length_m` is said as “Grids 1, length”."""
    found = re.match(r"(\w++)(?:\[(\d++)\])?", problem.field)
    label = str(LABELS.get(found[1], "")) if found else ""
    place = f" {int(found[2]) + 1}" if found and found[2] else ""
    last = re.search(r"\.([a-z_]{1,60}?)(?:_m|_s)?$", problem.field)
    detail = f", {last[1].replace('_', ' ')}" if last else ""
    return f"{label}{place}{detail}" if label else problem.field, plainly(problem.text)


def plainly(text: str) -> str:
    """What the document's reader says of a wrong value, without the names of its types."""
    for pattern, words in _PLAINER:
        found = re.fullmatch(pattern, text)
        if found:
            return str(words).format(*found.groups())
    return (
        f"{text[:1].upper()}{text[1:]}"
        if text.endswith((".", "!", "?"))
        else f"{text[:1].upper()}{text[1:]}."
    )


def file_of(found: FoundDrill) -> tuple[str, str]:
    """One drill as a file that can be brought in again: its name and its text."""
    content: dict[str, Any] = {"schema_version": SCHEMA_VERSION, "drills": [exported(found.drill)]}
    name = slugify(found.document.title) or _("drill")
    return f"{name}.json", json.dumps(content, ensure_ascii=False, indent=1)


def export_rows(actor: Actor) -> Iterator[dict[str, Any]]:
    """Every drill that this person may read and that is not retired, in the order of the shelf."""
    for drill in kept_drills(actor):
        yield exported(drill)


def exported(drill: Drill) -> dict[str, Any]:
    """A drill as a row of an exchange file."""
    assert drill.current_revision is not None
    return {
        "id": str(drill.public_id),
        "state": drill.state,
        "sha256": drill.current_revision.sha256,
        "document": plain(document_of(drill.current_revision)),
    }
