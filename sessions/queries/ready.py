"""Ready sessions: templates with drills, which of them are for a team, and what one would be on a session's evening."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any
from uuid import UUID

from django.db.models import Prefetch, QuerySet

from club import reading
from club.actor import Actor
from drills import queries as drills
from drills.queries import StationDrill
from sessions.models import PartOrder, PartOrderDrill
from sessions.planning.order import LEAST_MINUTES
from sessions.planning.refit import StationToReuse, Target, carry
from sessions.planning.refit.rounds import fill
from sessions.planning.rounds import Rounds
from sessions.queries.reuse import Taken, own_target

# What is the same for every session that is set up, so it is no difference from the template.
SET_UP_ALONE = frozenset({"carry_setup", "carry_off", "carry_place"})


def templates() -> QuerySet[PartOrder]:
    """The club's session templates by name, each with its theme and its drills: two queries."""
    rows = PartOrderDrill.objects.select_related("drill").only(
        "order",
        "part",
        "position",
        "variation_key",
        "title",
        "stays",
        *(f"drill__{each}" for each in ("public_id", "title", "retired_at")),
    )
    return PartOrder.objects.select_related("theme").prefetch_related(Prefetch("drills", queryset=rows))


def part_orders() -> list[PartOrder]:
    """The session templates that the club keeps, by name. Two queries."""
    return list(templates())


def part_order(public_id: UUID | str) -> PartOrder | None:
    return templates().filter(public_id=reading.outer_id(public_id)).first()


def is_for(template: PartOrder, low: int, high: int | None) -> bool:
    """Whether a ready session is for a team whose year groups are *under* `low` to `high` (None: and older)."""
    from_, to = template.under_from, template.under_to
    return (high is None or from_ is None or from_ <= high) and (to is None or to >= low)


def from_template(template: PartOrder, session: Any, *, actor: Actor, players: int | None = None) -> Taken:
    """What a ready session is on this session's evening: minutes shared out, each drill set up by Fit, and what is not as
    the template has it, with the reason. `players` None: who is expected. Nothing is written.
    """
    target = own_target(session, players=players)
    revisions = drills.current_revisions(_drill_ids(template.drills.all()), actor)
    known = drills.documents(revisions.values())
    stations = tuple(_stations(template, target, {key: known[pk] for key, pk in revisions.items()}))
    parts = carry(stations, target)
    said = [each for part in parts for each in part.changes if each.code not in SET_UP_ALONE]
    return Taken(stations, parts, tuple(said))


def _drill_ids(rows: Iterable[PartOrderDrill]) -> set[UUID]:
    return {each.drill.public_id for each in rows if each.drill is not None}


def _stations(
    template: PartOrder, target: Target, known: dict[UUID, StationDrill]
) -> Iterable[StationToReuse]:
    """Every station with its part's minutes as they are in a session of this length."""
    minutes = minutes_here(template, minutes=target.minutes, clear_minutes=target.clear_minutes)
    for index, part in enumerate(template.parts):
        rows: list[PartOrderDrill | None] = [each for each in template.drills.all() if each.part == index]
        yield from (_station(index, part, minutes[index], each, rows, known) for each in rows or [None])


def _station(
    index: int,
    part: dict[str, Any],
    minutes: int,
    row: PartOrderDrill | None,
    beside: list[PartOrderDrill | None],
    known: dict[UUID, StationDrill],
) -> StationToReuse:
    moving = sum(each is not None and not each.stays for each in beside)
    cycle = max(1, moving) if part["changes_round"] else 1
    rounds = Rounds(part["bouts"], part["bout_s"], part["rest_s"])
    if minutes != part["minutes"]:
        rounds = fill(rounds, minutes, cycle=cycle)
    bare = StationToReuse(
        key="" if row is None else f"{index}:{row.position}",
        part=str(index),
        title=part["title"] if row is None else row.title,
        document=None,
        variation_key="" if row is None else row.variation_key,
        minutes=minutes,
        bouts=rounds.bouts,
        bout_s=rounds.bout_s,
        rest_s=rounds.rest_s,
        changeover_s=part["changeover_s"],
        cr10=part["cr10"],
        part_title=part["title"],
        cycle=cycle,
    )
    if row is None:
        return bare
    drill = known.get(row.drill.public_id) if row.drill is not None else None
    if drill is None:
        return replace(bare, gone=True)
    lost = row.variation_key not in {"", *(each.key for each in drill.document.variations)}
    return replace(
        bare,
        title=drill.title,
        document=drill.document,
        variation_key="" if lost else row.variation_key,
        lost_rung=row.variation_key if lost else "",
    )


def minutes_here(template: PartOrder, *, minutes: float, clear_minutes: float) -> list[int]:
    """Each part's whole minutes in a session of so many: as they are where it is as long as the one it was written for,
    else in the same proportions, so spare minutes stay spare.
    """
    changing = sum(each["changeover_s"] for each in template.parts) / 60
    there, here = (each - clear_minutes - changing for each in (template.minutes or minutes, minutes))
    share = max(0.0, here) / there if there > 0 else 1.0
    if share == 1.0:
        return [each["minutes"] for each in template.parts]
    return [max(LEAST_MINUTES, int(each["minutes"] * share + 1e-9)) for each in template.parts]
