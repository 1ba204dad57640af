"""The published figures beside what the club has set for an age group."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import reduce
from typing import Any, Protocol, TypeVar

from club.ages import OLDEST, Ages, year_groups
from club.choices import AT_LEAST, OF_A_PITCH, OF_CHILDREN, OF_THE_OLDEST, Rule
from club.models import AgeGroup, Guideline
from club.queries.settings import kept, today
from club.validators import players_a_side


@dataclass(frozen=True)
class FigurePair:
    """One published figure, and the club's own where it has one. `differs` where the two should be looked at."""

    rule: str
    label: str
    published: Decimal
    source: str
    jurisdiction: str
    note: str
    ours: Decimal | None
    differs: bool


class FigureLike(Protocol):
    """What is asked of a published figure to choose among several: a row, or a figure before it is one."""

    @property
    def rule(self) -> Any: ...
    @property
    def jurisdiction(self) -> str: ...
    @property
    def under_low(self) -> int: ...
    @property
    def under_high(self) -> int: ...
    @property
    def a_side(self) -> int | None: ...
    @property
    def value(self) -> Any: ...
    @property
    def own(self) -> bool: ...


Found = TypeVar("Found", bound=FigureLike)


def guidelines_for(age_group: AgeGroup, day: date | None = None) -> list[Guideline]:
    """The figures in force for an age group on a day (today when not said), one for each rule: what is computed, checked
    and shown reads these and nothing else. In a request the rows are read once."""
    return guidelines_of(age_group.ages, age_group.match_format, day)


def guidelines_of(ages: Ages, match_format: str, day: date | None = None) -> list[Guideline]:
    """The same for an age group that is not saved yet."""
    on = day or today()
    rows = [row for row in kept("guidelines", _every_row) if on in row.valid]
    return holding(rows, ages, players_a_side(match_format))


def _every_row() -> list[Guideline]:
    return list(Guideline.objects.order_by(*Guideline._meta.ordering, "pk"))


def holding(rows: Iterable[Found], ages: Ages, a_side: int | None) -> list[Found]:
    """Of figures that hold on a day, the one of each rule that is in force for an age group.

    For each year group the club's own figure comes before a published one, and the stricter before the other; of the
    year groups the strictest holds, so that nobody is asked too much. What belongs to the match (ball, pitch, numbers)
    goes by the oldest, sizes of pitches by the format.
    """
    said: dict[str, list[Found]] = {}
    for row in rows:
        if _speaks_of(row, ages, a_side):
            said.setdefault(str(row.rule), []).append(row)
    return [_strictest(_of_each_year(found, ages)) for found in said.values()]


def _speaks_of(row: FigureLike, ages: Ages, a_side: int | None) -> bool:
    if row.rule in OF_A_PITCH and row.a_side != a_side:
        return False
    if row.rule in OF_CHILDREN and ages.supervised_years is None:
        return False
    low, high = _years_asked(row.rule, ages)
    return row.under_low <= high and low <= row.under_high


def _years_asked(rule: Any, ages: Ages) -> tuple[int, int]:
    """The "under n" of the year groups that a rule asks, from the youngest to the oldest."""
    oldest = ages.under_high or OLDEST
    return (oldest if rule in OF_THE_OLDEST else ages.under_low), oldest


def _of_each_year(rows: list[Found], ages: Ages) -> list[Found]:
    """For each year group that a row speaks of, the row that holds for it."""
    found = []
    for under in year_groups(*_years_asked(rows[0].rule, ages)):
        speaking = [row for row in rows if row.under_low <= under <= row.under_high]
        if speaking:
            found.append(_strictest([row for row in speaking if row.own] or speaking))
    return found


def _strictest(rows: list[Found]) -> Found:
    return reduce(lambda one, other: other if _is_stricter(other, one) else one, rows)


def _is_stricter(row: FigureLike, other: FigureLike) -> bool:
    return row.value > other.value if row.rule in AT_LEAST else row.value < other.value


def figures_beside(age_group: AgeGroup) -> list[FigurePair]:
    """Published figures for an age group in its own season, each with the club's own beside it."""
    order = list(Rule.values)
    rows = guidelines_for(age_group, _day_of(age_group))
    return [_beside(age_group, row) for row in sorted(rows, key=lambda row: order.index(row.rule))]


def _day_of(age_group: AgeGroup) -> date:
    """Today, or the first day of the group's season when that is yet to come or over."""
    period = age_group.season.period
    day = today()
    return day if day in period else period.lower


def _beside(age_group: AgeGroup, row: Guideline) -> FigurePair:
    ours = _ours(age_group, Rule(row.rule))
    return FigurePair(
        rule=row.rule,
        label=row.get_rule_display(),
        published=row.value,
        source=row.source,
        jurisdiction=row.jurisdiction,
        note=row.note,
        ours=ours,
        differs=ours is not None and _differs(Rule(row.rule), ours, row.value),
    )


def _ours(age_group: AgeGroup, rule: Rule) -> Decimal | None:
    found: dict[Rule, Decimal | int | None] = {
        Rule.PLAYERS_A_SIDE: age_group.a_side,
        Rule.MATCH_LENGTH_M: age_group.match_length_m,
        Rule.MATCH_WIDTH_M: age_group.match_width_m,
        Rule.MATCH_LENGTH_MOST_M: age_group.match_length_m,
        Rule.MATCH_WIDTH_MOST_M: age_group.match_width_m,
        Rule.BALL_SIZE: age_group.ball_size,
        Rule.REST_DAYS_WEEK: None if age_group.week_days is None else 7 - age_group.week_days,
        Rule.ORGANISED_HOURS_WEEK: None if age_group.week_minutes is None else _hours(age_group.week_minutes),
    }
    ours = found.get(rule)
    return None if ours is None else Decimal(ours)


def _hours(minutes: int) -> Decimal:
    return (Decimal(minutes) / 60).quantize(Decimal("0.1"))


def _differs(rule: Rule, ours: Decimal, published: Decimal) -> bool:
    """A least and a most may be kept with room to spare; the others say one number."""
    if rule == Rule.REST_DAYS_WEEK:
        return ours < published
    if rule in (Rule.ORGANISED_HOURS_WEEK, Rule.MATCH_LENGTH_MOST_M, Rule.MATCH_WIDTH_MOST_M):
        return ours > published
    return ours != published
