"""The published figures beside what the club has set for an age group."""

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from club.choices import OF_REAL_AGE, Rule
from club.models import AgeGroup, Guideline
from club.queries.settings import today


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


def under_age(age_group: AgeGroup) -> int:
    """The age that a group is under: published figures go by it. An under-12 group has players of 11 at most."""
    return (age_group.age_high if age_group.age_high is not None else age_group.age_low) + 1


def figures_beside(age_group: AgeGroup) -> list[Beside]:
    """Published figures for an age group in its own season, each with the club's own beside it."""
    low, under = age_group.age_low, under_age(age_group)
    rows = Guideline.objects.filter(
        valid__contains=_day_of(age_group), age_low__lte=under, age_high__gte=low
    ).order_by("pk")
    order = list(Rule.values)
    fitting = [row for row in rows if row.age_low <= _age_for(row, low, under) <= row.age_high]
    return [_beside(age_group, row) for row in sorted(fitting, key=lambda row: order.index(row.rule))]


def _age_for(row: Guideline, low: int, under: int) -> int:
    return low if row.rule in OF_REAL_AGE else under


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
    side = re.search(r"\d+", age_group.match_format)
    found: dict[Rule, Decimal | int | None] = {
        Rule.PLAYERS_A_SIDE: int(side[0]) if side else None,
        Rule.MATCH_LENGTH_M: age_group.match_length_m,
        Rule.MATCH_WIDTH_M: age_group.match_width_m,
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
    if rule == Rule.ORGANISED_HOURS_WEEK:
        return ours > published
    return ours != published
