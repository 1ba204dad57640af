"""The parts of a session and their stations: saved as one list, each keeping its id."""

import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.db.models import prefetch_related_objects
from django.utils.translation import gettext as _

from club.actions import action
from club.actor import Actor
from club.errors import FieldProblem, Refused
from drills import queries as drills
from sessions.actions.booking import lock, refuse_if
from sessions.choices import STILL_TO_COME, PartKind
from sessions.models import Part, Station, TrainingSession
from sessions.planning.order import Place, moved
from sessions.validators import parts_problems

MOST_FORMER = 400


@dataclass(frozen=True)
class StationInput:
    """A drill in one variation for one group. `keep_revision` holds on to the revision that is pinned."""

    drill_id: UUID | None = None
    variation_key: str = ""
    group: str = ""
    place: str = ""
    adult_id: int | None = None
    public_id: UUID | None = None
    keep_revision: bool = True
    stays: bool = False


@dataclass(frozen=True)
class PartInput:
    """One part as typed: minutes, bouts of `bout_s` seconds with `rest_s` between, CR10 for the whole part."""

    kind: PartKind = PartKind.PRACTICE
    title: str = ""
    minutes: int = 15
    bouts: int = 1
    bout_s: int = 900
    rest_s: int = 0
    changeover_s: int = 120
    effort: float = 4.0
    stations: tuple[StationInput, ...] = field(default=())
    public_id: UUID | None = None
    changes_round: bool = False


@action
def save_parts(
    *, actor: Actor, session: TrainingSession, version: int, parts: Sequence[PartInput]
) -> TrainingSession:
    """Replace the parts of a session by this list. Ids that are named are kept, so are their accepted set-ups."""
    refuse_if(parts_problems(parts))
    locked = lock(session, version)
    replace_parts(actor=actor, locked=locked, parts=parts)
    locked.save(update_fields=["version"])
    return locked


def replace_parts(*, actor: Actor, locked: TrainingSession, parts: Sequence[PartInput]) -> None:
    """The parts of a session whose row this transaction holds already."""
    refuse_if(parts_problems(parts))
    if locked.state not in STILL_TO_COME:
        raise Refused(_("This session has taken place; its parts stay as they were."), "parts")
    before = {each.public_id: each for each in Station.objects.filter(part__session=locked)}
    known = set(locked.parts.values_list("public_id", flat=True))
    parts = [_with_known_ids(each, known, set(before)) for each in parts]
    pinned = _pinned(actor, parts, before)
    locked.parts.all().delete()
    for position, part in enumerate(parts):
        _make_part(locked, position, part, before, pinned)
    _remember_removed(locked, known | set(before), parts)


def _remember_removed(locked: TrainingSession, before: set[UUID], parts: Iterable[PartInput]) -> None:
    """Keep the ids of what is in the session no more: phones may still send what happened there."""
    kept = {part.public_id for part in parts} | {each.public_id for part in parts for each in part.stations}
    removed = [str(each) for each in before - kept]
    if removed:
        locked.former_places = [*locked.former_places, *sorted(removed)][-MOST_FORMER:]
        locked.save(update_fields=["former_places"])


@action
def move_part(
    *, actor: Actor, session: TrainingSession, version: int, part: UUID, to: int
) -> TrainingSession:
    """Put a part at another place (0 is the first): changeovers stay where they lie, a kind by `sessions.planning.order`.

    Raises Refused where the session has no such part or place.
    """
    parts = parts_as_input(session)
    at = next((index for index, each in enumerate(parts) if each.public_id == part), None)
    if at is None:
        raise Refused(_("This part is not in the session any more."), "part")
    if not 0 <= to < len(parts):
        raise Refused(
            _("From 0 to {n}: the session has {count} parts.").format(n=len(parts) - 1, count=len(parts)),
            "to",
        )
    order = moved([each.kind for each in parts], at, to)
    return save_parts(actor=actor, session=session, version=version, parts=_placed(parts, order))


def _placed(parts: Sequence[PartInput], order: Iterable[Place]) -> list[PartInput]:
    """Parts in another order, none of them new."""
    return [
        replace(
            parts[each.part], kind=parts[each.kind].kind, changeover_s=parts[each.changeover].changeover_s
        )
        for each in order
        if each.part is not None and each.kind is not None and each.changeover is not None
    ]


@action
def take_parts_of(
    *, actor: Actor, session: TrainingSession, version: int, source: TrainingSession
) -> TrainingSession:
    """Copy another session's parts; set-ups are left behind, since they answered another turn-out."""
    copied = [
        replace(
            part,
            public_id=None,
            stations=tuple(replace(each, public_id=None, adult_id=None) for each in part.stations),
        )
        for part in parts_as_input(source)
    ]
    return save_parts(actor=actor, session=session, version=version, parts=copied)


@action
def take_newer(*, actor: Actor, session: TrainingSession, version: int, station: Station) -> TrainingSession:
    """Play the drill as the library has it now. An accepted set-up is dropped: it answered the older one."""
    parts = [
        replace(
            part,
            stations=tuple(
                replace(each, keep_revision=each.public_id != station.public_id) for each in part.stations
            ),
        )
        for part in parts_as_input(session)
    ]
    return save_parts(actor=actor, session=session, version=version, parts=parts)


def parts_as_input(session: TrainingSession) -> list[PartInput]:
    """The saved parts in the shape in which they are saved again. What was read along with the session isn't read anew."""
    prefetch_related_objects([session], "parts__stations__revision__drill")
    return [
        PartInput(
            kind=PartKind(row.kind),
            title=row.title,
            minutes=row.minutes,
            bouts=row.bouts,
            bout_s=row.bout_s,
            rest_s=row.rest_s,
            changeover_s=row.changeover_s,
            effort=float(row.effort),
            public_id=row.public_id,
            changes_round=row.changes_round,
            stations=tuple(
                StationInput(
                    drill_id=each.revision.drill.public_id if each.revision else None,
                    variation_key=each.variation_key,
                    group=each.group,
                    place=each.place,
                    adult_id=each.adult_id,
                    public_id=each.public_id,
                    stays=each.stays,
                )
                for each in row.stations.all()
            ),
        )
        for row in session.parts.all()
    ]


def _with_known_ids(part: PartInput, parts: set[UUID], stations: set[UUID]) -> PartInput:
    """Drop ids that aren't this session's own: they would take a row away from another one."""
    return replace(
        part,
        public_id=part.public_id if part.public_id in parts else None,
        stations=tuple(
            each if each.public_id in stations else replace(each, public_id=None) for each in part.stations
        ),
    )


def _pinned(
    actor: Actor, parts: Iterable[PartInput], before: dict[UUID, Station]
) -> dict[tuple[UUID, UUID | None], int]:
    """The revision for each (drill, station): the one pinned before when the drill stays, else today's."""
    wanted = {each.drill_id for part in parts for each in part.stations if each.drill_id}
    current = drills.current_revisions(wanted, actor)
    found: dict[tuple[UUID, UUID | None], int] = {}
    problems = []
    kept = drills.drill_ids_of([each.revision_id for each in before.values() if each.revision_id is not None])
    for index, part in enumerate(parts):
        for number, station in enumerate(part.stations):
            if station.drill_id is None:
                continue
            old = before.get(station.public_id) if station.public_id else None
            key = (station.drill_id, station.public_id)
            held = old.revision_id if old and station.keep_revision else None
            if held is not None and kept.get(held) == station.drill_id:
                found[key] = held
            elif station.drill_id in current:
                found[key] = current[station.drill_id]
            else:
                field_name = f"parts[{index}].stations[{number}].drill"
                problems.append(FieldProblem(field_name, _("This drill is not in the library (any more).")))
    problems += _unknown_variations(parts, found)
    refuse_if(problems)
    return found


def _unknown_variations(
    parts: Iterable[PartInput], pinned: dict[tuple[UUID, UUID | None], int]
) -> list[FieldProblem]:
    documents = drills.documents(set(pinned.values()))
    found = []
    for index, part in enumerate(parts):
        for number, station in enumerate(part.stations):
            revision = pinned.get((station.drill_id, station.public_id)) if station.drill_id else None
            if revision is None or not station.variation_key:
                continue
            keys = {each.key for each in documents[revision].document.variations}
            if station.variation_key not in keys:
                text = f"{documents[revision].title} has no variation “{station.variation_key}”."
                found.append(FieldProblem(f"parts[{index}].stations[{number}].variation", text))
    return found


def _make_part(
    session: TrainingSession,
    position: int,
    part: PartInput,
    before: dict[UUID, Station],
    pinned: dict[tuple[UUID, UUID | None], int],
) -> None:
    row = Part.objects.create(
        public_id=part.public_id or uuid.uuid4(),
        session=session,
        position=position,
        kind=part.kind,
        title=part.title.strip(),
        minutes=part.minutes,
        bouts=part.bouts,
        bout_s=part.bout_s,
        rest_s=part.rest_s,
        changeover_s=part.changeover_s,
        effort=Decimal(str(part.effort)),
        changes_round=part.changes_round,
    )
    Station.objects.bulk_create(
        _station(row, number, each, before, pinned) for number, each in enumerate(part.stations)
    )


def _station(
    part: Part,
    position: int,
    station: StationInput,
    before: dict[UUID, Station],
    pinned: dict[tuple[UUID, UUID | None], int],
) -> Station:
    revision_id = pinned.get((station.drill_id, station.public_id)) if station.drill_id else None
    old = before.get(station.public_id) if station.public_id else None
    same = old is not None and (old.revision_id, old.variation_key) == (revision_id, station.variation_key)
    kept: dict[str, Any] = {"setup": old.setup, "evening": old.evening} if old and same else {}
    return Station(
        public_id=station.public_id or uuid.uuid4(),
        part=part,
        position=position,
        revision_id=revision_id,
        variation_key=station.variation_key,
        group=station.group.strip(),
        place=station.place.strip(),
        adult_id=station.adult_id,
        stays=station.stays,
        **kept,
    )
