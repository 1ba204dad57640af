"""A team's week with all that is said of it: what would make it lighter, and the heading that is left."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any, Literal

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from club import queries as club
from drills import queries as drills
from drills.game.steps import steps
from drills.game.variations import played
from sessions import bridge
from sessions.choices import STILL_TO_COME, Kind
from sessions.models import Fixture, LedgerEntry, Part, TrainingSession
from sessions.planning.headers import HeaderRule, HeadingSoFar
from sessions.planning.plan import PlannedPart
from sessions.planning.reasons import PlanningReason
from sessions.planning.trim import Offers, Trim, TrimChange, offers_of, ways
from sessions.planning.week import OutsideGame, beside, heading_left
from sessions.queries.calendar.games import Game, games
from sessions.queries.counted import counted, factor_at_hand
from sessions.queries.ledger import LoadWeek, load_week
from sessions.queries.outline import part_title
from sessions.queries.rows import bring_drills
from sessions.queries.squad_context import heading_in


@dataclass(frozen=True)
class WholeWeek:
    """`lighter` are one or two ways to bring the week under, none where it is not over; `heading` is what is left of it."""

    load: LoadWeek
    lighter: tuple[Trim, ...]
    heading: tuple[PlanningReason, ...]

    @property
    def told(self) -> PlanningReason:
        """The one sentence on the week, with the first way that would clear it."""
        return replace(self.load.told, clears=self.lighter[0].reasons) if self.lighter else self.load.told

    @property
    def reasons(self) -> list[PlanningReason]:
        """What stands against the week: over its limits, then hours and rest days."""
        return [self.told, *self.load.reasons] if self.load.is_over else self.load.reasons


def whole_week(
    squad_id: int,
    age_group: Any,
    monday: date,
    sessions: Sequence[TrainingSession],
    ledger: Sequence[LedgerEntry],
    fixtures: Sequence[Fixture],
    rule: HeaderRule | None,
) -> WholeWeek:
    """From rows that are at hand, the ledger's from weeks before to the Monday after. Two queries for heading, two more
    where the week is over.
    """
    week = load_week(
        monday=monday,
        squad_id=squad_id,
        age_group=age_group,
        sessions=sessions,
        entries=ledger,
        fixtures=fixtures,
    )
    headed = heading_in(squad_id, monday) if rule is not None and not rule.none else HeadingSoFar()
    return WholeWeek(
        week, lighter(week, squad_id, sessions, games(fixtures, ledger)), heading_left(rule, headed)
    )


def lighter(
    week: LoadWeek, squad_id: int, sessions: Iterable[TrainingSession], around: Iterable[Game]
) -> tuple[Trim, ...]:
    """The least that could be taken off the week's sessions that are still to come; nothing where it is not over its AU."""
    if not week.with_au or week.over_au <= 0:
        return ()
    sunday, today = week.monday + timedelta(days=6), club.today()
    coming = [
        each
        for each in sessions
        if each.squad_id == squad_id
        and each.state in STILL_TO_COME
        and max(week.monday, today) <= each.day <= sunday
    ]
    bring_drills(coming)
    matches = matches_of(squad_id, around)
    return ways(week.over_au, [offers(each, matches) for each in coming])


def matches_of(squad_id: int, around: Iterable[Game]) -> list[OutsideGame]:
    """The matches and tournaments of a squad, but for those that were called off."""
    kinds: dict[str, Literal["match", "tournament"]] = {Kind.MATCH: "match", Kind.TOURNAMENT: "tournament"}
    return [
        OutsideGame(each.day, kinds[each.kind], each.title)
        for each in around
        if each.squad_id == squad_id and each.is_match
    ]


def offers(session: TrainingSession, matches: Sequence[OutsideGame] = ()) -> Offers:
    """What can be taken off one session, its drills read along with it."""
    day = date_format(session.day, "D")
    parts = [planned_with_easier(each, f"{part_title(each)} ({day})") for each in session.parts.all()]
    found = offers_of(
        parts,
        factor_at_hand(session),
        session=str(session.public_id),
        title=_("“{title}” ({day})").format(title=session, day=day),
        total_au=counted(session).load_au,
        beside=beside(session.day, matches),
    )
    # Where groups change round, a round less would leave a group without one of the stations.
    round_about = {str(each.public_id) for each in session.parts.all() if each.changes_round}
    return replace(found, parts=tuple(_without_rounds(each, round_about) for each in found.parts))


def _without_rounds(options: Sequence[TrimChange], parts: set[str]) -> tuple[TrimChange, ...]:
    return tuple(each for each in options if each.kind != "bouts" or each.part not in parts)


def planned_with_easier(row: Part, title: str) -> PlannedPart:
    """A part with the effort that its next easier variation would have."""
    part = bridge.part_of(row, title=title)
    easier = easier_rung(row)
    return part if easier is None else replace(part, easier_cr10=easier[1])


def easier_rung(row: Part) -> tuple[str, float] | None:
    """The next easier variation of a part's one drill, and the part's effort in it (CR10, to a tenth, as it is kept): lower
    by as much as that variation is easier. None where there is none.
    """
    stations = list(row.stations.all())
    if len(stations) != 1 or stations[0].revision is None:
        return None
    document, key = drills.station_drill(stations[0].revision).document, stations[0].variation_key
    try:
        easier = steps(document, key).easier
    except KeyError:
        return None
    if easier is None:
        return None
    less = played(document, key).work.effort - played(document, easier).work.effort
    return (easier, round(max(0.0, float(row.effort) - less), 1)) if less > 0 else None
