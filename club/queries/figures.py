"""The published figures beside what the club has set for an age group."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, Protocol, TypeVar

from club.ages import OLDEST, Ages
from club.choices import AT_LEAST, OF_A_PITCH, OF_CHILDREN, OF_THE_OLDEST, Rule
from club.models import AgeGroup, Guideline
from club.queries.settings import today
from club.validators import players_a_side


@dataclass(frozen=True)
class Beside:
    """One published figure, and the club's own where it has one. `differs` where the two should be looked at."""

    rule: str
    label: str
    published: Decimal
    source: str
    jurisdiction: str
    note: str
    ours: Decimal | None
    differs: bool


class Row(Protocol):
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


Found = TypeVar("Found", bound=Row)


def guidelines_for(age_group: AgeGroup, day: date | None = None) -> list[Guideline]:
    """The published figures that hold for an age group on a day (today when not said), one for each rule and place."""
    return guidelines_of(age_group.ages, age_group.match_format, day)


def guidelines_of(ages: Ages, match_format: str, day: date | None = None) -> list[Guideline]:
    """The same for an age group that is not saved yet."""
    low, high = ages.unders
    rows = Guideline.objects.filter(
        valid__contains=day or today(), under_low__lte=high or OLDEST, under_high__gte=low
    )
    return holding(rows.order_by(*Guideline._meta.ordering, "pk"), ages, players_a_side(match_format))


def holding(rows: Iterable[Found], ages: Ages, a_side: int | None) -> list[Found]:
    """Of figures that hold on a day, those of an age group: the strictest of its year groups, so that nobody in it is
    asked too much; what belongs to the match (ball, pitch, numbers) goes by its oldest, sizes of pitches by its format.
    """
    found: dict[tuple[str, str], Found] = {}
    for row in rows:
        key = (str(row.rule), row.jurisdiction)
        if _speaks_of(row, ages, a_side) and (key not in found or _is_stricter(row, found[key])):
            found[key] = row
    return list(found.values())


def _speaks_of(row: Row, ages: Ages, a_side: int | None) -> bool:
    oldest = ages.under_high or OLDEST
    if row.rule in OF_A_PITCH and row.a_side != a_side:
        return False
    if row.rule in OF_CHILDREN and ages.supervised_years is None:
        return False
    low = oldest if row.rule in OF_THE_OLDEST else ages.under_low
    return row.under_low <= oldest and low <= row.under_high


def _is_stricter(row: Row, other: Row) -> bool:
    return row.value > other.value if row.rule in AT_LEAST else row.value < other.value


def figures_beside(age_group: AgeGroup) -> list[Beside]:
    """Published figures for an age group in its own season, each with the club's own beside it."""
    order = list(Rule.values)
    rows = guidelines_for(age_group, _day_of(age_group))
    return [_beside(age_group, row) for row in sorted(rows, key=lambda row: order.index(row.rule))]


def _day_of(age_group: AgeGroup) -> date:
    """Today, or the first day of the group's season when that is yet to come or over."""
    period = age_group.season.period
    day = today()
    return day if day in period else period.lower


def _beside(age_group: AgeGroup, row: Guideline) -> Beside:
    ours = _ours(age_group, Rule(row.rule))
    return Beside(
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
