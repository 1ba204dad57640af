"""Drills from a file: each row is taken whole or refused with its reasons; the same content is taken once."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from club.actions import action, lock_name
from club.actor import Actor
from club.errors import Clash, FieldProblem, Refused
from drills.actions.write import create_drill
from drills.choices import DrillState
from drills.game.document import SCHEMA_VERSION, DrillDocument, digest
from drills.game.document.codec import KNOWN_VERSIONS
from drills.models import Drill
from drills.validators import MOST_IMPORTED, to_document

LOCKS = 16  # names of locks: few, since a whole import may be one transaction


@dataclass(frozen=True)
class ImportedRow:
    """What became of one row of the file: created, duplicate or refused."""

    row: int
    outcome: str
    title: str = ""
    public_id: UUID | None = None
    problems: list[FieldProblem] = field(default_factory=list)


def import_drills(*, actor: Actor, data: Any) -> list[ImportedRow]:
    """Take the drills of an exchange file, in its order. Raises Refused when the file as a whole can't be read."""
    rows = rows_of(data)
    version = data.get("schema_version", SCHEMA_VERSION) if isinstance(data, dict) else SCHEMA_VERSION
    known = dict(Drill.objects.visible_to(actor).kept().values_list("current_revision__sha256", "public_id"))
    return [_import_row(actor, number, row, known, version) for number, row in enumerate(rows)]


def rows_of(data: Any) -> Sequence[Any]:
    """The rows of a file: a list of documents, an object whose `drills` is one, or one drill alone."""
    if isinstance(data, dict) and "drills" not in data and ("document" in data or "title" in data):
        data = [data]  # one drill alone
    rows = data.get("drills") if isinstance(data, dict) else data
    version = data.get("schema_version", SCHEMA_VERSION) if isinstance(data, dict) else SCHEMA_VERSION
    if not isinstance(version, int) or version not in KNOWN_VERSIONS:
        raise Refused(
            _("Schema version {version!r} is not known here.").format(version=str(version)[:20]),
            "schema_version",
        )
    if isinstance(rows, str | bytes) or not isinstance(rows, Sequence):
        raise Refused(_("A file of drills is a list, or an object with a list named “drills”."), "drills")
    if len(rows) > MOST_IMPORTED:
        raise Refused(
            _("At most {most_imported} drills in one file; this one has {count}.").format(
                most_imported=MOST_IMPORTED, count=len(rows)
            ),
            "drills",
        )
    return rows


def _import_row(
    actor: Actor, number: int, row: Any, known: dict[Any, Any], version: int = SCHEMA_VERSION
) -> ImportedRow:
    """`version` is what the file says of itself: a row that doesn't say its own is of that one."""
    content = row.get("document", row) if isinstance(row, dict) else row
    title = content.get("title", "") if isinstance(content, dict) else ""
    title = title[:80].encode("utf-8", "replace").decode() if isinstance(title, str) else ""
    try:
        if not isinstance(content, dict):
            raise Refused(_("A row is an object with the fields of a drill."))
        document = to_document({"schema_version": version, **content})
        sha256 = digest(document)
        if sha256 in known:
            return ImportedRow(number, "duplicate", document.title, known[sha256])
        drill, is_new = _taken_once(actor, document, sha256, _state(actor, row))
    except Clash:
        raise  # somebody else is at it: the file can be sent again, what was taken stays taken
    except Refused as error:
        return ImportedRow(number, "refused", title, problems=error.problems)
    known[sha256] = drill.public_id
    return ImportedRow(number, "created" if is_new else "duplicate", drill.title, drill.public_id)


@action
def _taken_once(actor: Actor, document: DrillDocument, sha256: str, state: DrillState) -> tuple[Drill, bool]:
    """The drill of this content, and whether it was made just now: the same file may be sent twice at once."""
    lock_name(f"drill content {int(sha256[:8], 16) % LOCKS}")
    there = Drill.objects.visible_to(actor).kept().filter(current_revision__sha256=sha256).first()
    if there is not None:
        return there, False
    return create_drill(actor=actor, document=document, note="Imported.", state=state), True


def _state(actor: Actor, row: dict[str, Any]) -> DrillState:
    """A director's import keeps the states that the file names; everybody else's drills arrive as drafts."""
    named = row.get("state") if actor.is_director else None
    return DrillState(named) if named in DrillState.values else DrillState.DRAFT
