"""Session templates: saved from a session, with its drills or without, and ready sessions put into a session."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from club.actions import action
from club.actor import Actor
from club.errors import FieldProblem, Refused
from club.validators import line_problems
from drills import queries as drills
from sessions.actions.booking import lock
from sessions.actions.parts import PartInput, StationInput, parts_as_input, replace_parts
from sessions.actions.reuse import LONGEST_PLACE, keep_setups, note_changes
from sessions.choices import PartKind
from sessions.models import PartOrder, PartOrderDrill, Station, TrainingSession
from sessions.planning.refit import Fitted, Refit
from sessions.queries import ready
from sessions.queries.rows import expected_of, session_by_id
from sessions.validators import minutes_between

LONGEST_NAME = 60  # characters


@dataclass(frozen=True)
class ForWhom:
    """Whom a ready session is for: *under* so many years (None: adults), how many players, and the minutes of all of it."""

    minutes: int
    under_from: int | None
    under_to: int | None
    players_from: int
    players_to: int
    theme_id: int | None = None
    about: str = ""


@action
def keep_order(*, actor: Actor, session: TrainingSession, name: str, with_drills: bool = False) -> PartOrder:
    """Save a session's parts as a template of the club, without its drills unless asked; the same name is written over."""
    name, parts = name.strip(), parts_as_input(session)
    problems = line_problems(name=name)
    if not 1 <= len(name) <= LONGEST_NAME:
        problems.append(
            FieldProblem(
                "name", _("A name of at most {longest_name} characters.").format(longest_name=LONGEST_NAME)
            )
        )
    if not parts:
        problems.append(FieldProblem("parts", _("There are no parts to make a template of.")))
    has_drills = any(each.drill_id for part in parts for each in part.stations)
    if with_drills and not has_drills:
        problems.append(FieldProblem("parts", _("There are no drills in it yet to save with it.")))
    if problems:
        raise Refused(problems)
    return keep_template(
        actor=actor, name=name, parts=parts, for_whom=_for_whom(session) if with_drills else None
    )


def _for_whom(session: TrainingSession) -> ForWhom:
    low, high = session.age_group.ages.unders
    players = expected_of(session) or session.players_expected
    return ForWhom(
        minutes=minutes_between(session.starts, session.ends),
        under_from=low,
        under_to=high,
        players_from=players,
        players_to=players,
        theme_id=session.theme_id,
    )


@action
def keep_template(
    *, actor: Actor, name: str, parts: Sequence[PartInput], for_whom: ForWhom | None
) -> PartOrder:
    """Write a template down under its name, over one that has it. With `for_whom` it keeps its drills and their rounds."""
    kept, _made = PartOrder.objects.update_or_create(name=name, defaults=_kept_as(actor, parts, for_whom))
    kept.drills.all().delete()
    if for_whom is not None:
        PartOrderDrill.objects.bulk_create(_drill_rows([(kept, parts)]))
    return kept


@action
def add_ready(*, actor: Actor, new: Mapping[str, tuple[Sequence[PartInput], ForWhom]]) -> int:
    """Write ready sessions down, by name; a template of the club that has the name stays as it is. How many were added.

    Four queries, however many they are.
    """
    taken = set(PartOrder.objects.filter(name__in=new).values_list("name", flat=True))
    rows = [
        (PartOrder(name=name, **_kept_as(actor, parts, for_whom)), parts)
        for name, (parts, for_whom) in new.items()
        if name not in taken
    ]
    PartOrder.objects.bulk_create([row for row, _parts in rows])
    PartOrderDrill.objects.bulk_create(_drill_rows(rows))
    return len(rows)


def _kept_as(actor: Actor, parts: Sequence[PartInput], for_whom: ForWhom | None) -> dict[str, Any]:
    """The columns of a template, but its name."""
    blank: dict[str, Any] = dict.fromkeys(ForWhom.__dataclass_fields__) | {"about": ""}
    plain = [_part_as_kept(each, with_rounds=for_whom is not None) for each in parts]
    return {**(vars(for_whom) if for_whom else blank), "parts": plain, "kept_by_id": actor.user_id}


def _part_as_kept(part: PartInput, *, with_rounds: bool) -> dict[str, Any]:
    plain = {"kind": part.kind.value, "title": part.title, "minutes": part.minutes, "cr10": part.effort}
    if not with_rounds:
        return plain
    return {
        **plain,
        "bouts": part.bouts,
        "bout_s": part.bout_s,
        "rest_s": part.rest_s,
        "changeover_s": part.changeover_s,
        "changes_round": part.changes_round,
    }


def _drill_rows(kept_with: Iterable[tuple[PartOrder, Sequence[PartInput]]]) -> Iterable[PartOrderDrill]:
    chosen = [
        (kept, number, position, each)
        for kept, parts in kept_with
        for number, part in enumerate(parts)
        for position, each in enumerate(part.stations)
        if each.drill_id
    ]
    named = drills.named({each.drill_id for *_place, each in chosen if each.drill_id})
    for kept, number, position, each in chosen:
        assert each.drill_id is not None
        pk, title = named[each.drill_id]
        yield PartOrderDrill(
            order=kept,
            part=number,
            position=position,
            drill_id=pk,
            variation_key=each.variation_key,
            title=title,
            stays=each.stays,
        )


@action
def drop_order(*, order: PartOrder) -> None:
    """The club keeps this template no longer; sessions that began with it stay as they are."""
    order.delete()


@action
def use_ready(
    *, actor: Actor, session: TrainingSession, version: int, template: PartOrder
) -> TrainingSession:
    """Fill a session that plays no drill yet with a ready one, every drill set up for it; a part without a drill gives way.

    What is not as the template has it is written down beside the session, with the reason. The session takes the
    template's name and theme where it has none. Raises Stale, and Refused where there are drills in it already, or for a
    template without drills.
    """
    if template.minutes is None:
        raise Refused(_("This template has no drills."), "template")
    if any(each.drill_id for part in parts_as_input(session) for each in part.stations):
        raise Refused(
            _("There are drills in this session already. Remove them first, or plan another session.")
        )
    found = ready.from_template(template, session, actor=actor)
    locked = lock(session, version)
    rows = {f"{each.part}:{each.position}": each for each in template.drills.all()}
    parts = [_part(each, refit, rows) for each, refit in zip(template.parts, found.parts, strict=True)]
    replace_parts(actor=actor, locked=locked, parts=parts)
    locked.title = locked.title or template.name
    locked.theme_id = locked.theme_id or template.theme_id
    locked.save(update_fields=["version", "title", "theme"])
    stations = Station.objects.filter(part__session=locked).order_by("part__position", "position")
    keep_setups([each.public_id for each in stations], found)
    if found.changes:
        return note_changes(locked, found, title=template.name)
    fresh = session_by_id(locked.public_id)
    assert fresh is not None
    return fresh


def _part(kept: Mapping[str, Any], refit: Refit, rows: Mapping[str, PartOrderDrill]) -> PartInput:
    """A template's part as it is in the session; a drill that can't be played there leaves its station without one."""
    return PartInput(
        kind=PartKind(kept["kind"]),
        title=kept["title"],
        minutes=refit.minutes,
        bouts=refit.bouts,
        bout_s=refit.bout_s,
        rest_s=refit.rest_s,
        changeover_s=kept["changeover_s"],
        effort=refit.cr10,
        changes_round=kept["changes_round"],
        stations=tuple(_station(each, rows[each.key]) for each in refit.stations if each.key),
    )


def _station(fitted: Fitted, row: PartOrderDrill) -> StationInput:
    place = fitted.place[:LONGEST_PLACE]
    if fitted.is_out or row.drill is None:
        return StationInput(place=place, stays=row.stays)
    return StationInput(row.drill.public_id, fitted.variation_key, place=place, stays=row.stays)
