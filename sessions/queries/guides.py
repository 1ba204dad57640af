"""Budgets and guidelines as the computations take them."""

from collections.abc import Iterable
from datetime import date

from club import queries as club
from club.choices import Rule
from club.models import AgeGroup, Guideline
from sessions.planning.budget import SessionBudget
from sessions.planning.headers import HeaderRule
from sessions.planning.supervision import AdultRule
from sessions.planning.volume import MinutesLimit, WeekLimits

_OF_HEADING = (
    Rule.HEADERS_PER_SESSION,
    Rule.HEADERS_WEEK,
    Rule.HEADING_SESSIONS_WEEK,
    Rule.HEADING_SESSIONS_MONTH,
    Rule.HEADING_MINUTES_WEEK,
)


def header_rule(guidelines: Iterable[Guideline]) -> HeaderRule | None:
    """The heading rule of one age group, from the figures in force for it; None without any."""
    rows = _by_rule(guidelines)
    named = [rows[rule] for rule in _OF_HEADING if rule in rows]
    if not named:
        return None
    return HeaderRule(
        source=named[0].source,
        none=any(row.value == 0 for row in named),
        per_session=_whole(rows, Rule.HEADERS_PER_SESSION),
        per_week=_whole(rows, Rule.HEADERS_WEEK),
        sessions_per_week=_whole(rows, Rule.HEADING_SESSIONS_WEEK),
        sessions_per_month=_whole(rows, Rule.HEADING_SESSIONS_MONTH),
        minutes_per_week=_whole(rows, Rule.HEADING_MINUTES_WEEK),
    )


def goes_by_load(age_group: AgeGroup) -> bool:
    """Whether anything is said of this age group in AU: from U11 on, where the club has set it a budget."""
    return age_group.ages.by_load and (
        age_group.session_load_au is not None or age_group.week_load_au is not None
    )


def adult_rule(guidelines: Iterable[Guideline]) -> AdultRule | None:
    """The figure of supervision in force; None for a group of adults, and where none is known."""
    rows = _by_rule(guidelines)
    ratio, least = rows.get(Rule.CHILDREN_PER_ADULT), rows.get(Rule.LEAST_ADULTS)
    if ratio is None and least is None:
        return None
    sources = dict.fromkeys(row.source for row in (ratio, least) if row)
    return AdultRule(
        _whole(rows, Rule.CHILDREN_PER_ADULT), _whole(rows, Rule.LEAST_ADULTS), "; ".join(sources)
    )


def adult_rule_for(age_group: AgeGroup, day: date | None) -> AdultRule | None:
    """The same for an age group on a day; today where none is said."""
    return adult_rule(club.guidelines_for(age_group, day))


def week_limits(age_group: AgeGroup, day: date) -> WeekLimits:
    """Hours, rest days and match minutes in force for an age group on a day."""
    rows = _by_rule(club.guidelines_for(age_group, day))
    hours = rows.get(Rule.ORGANISED_HOURS_WEEK)
    return WeekLimits(
        hours_most=None if hours is None else float(hours.value),
        rest_days_least=_whole(rows, Rule.REST_DAYS_WEEK),
        match_day=_minutes(rows, Rule.PLAYING_MINUTES_DAY),
        tournament_day=_minutes(rows, Rule.PLAYING_MINUTES_TOURNAMENT),
    )


def _minutes(rows: dict[str, Guideline], rule: Rule) -> MinutesLimit | None:
    row = rows.get(rule)
    return None if row is None else MinutesLimit(float(row.value), row.source)


def _by_rule(guidelines: Iterable[Guideline]) -> dict[str, Guideline]:
    return {each.rule: each for each in guidelines}


def _whole(rows: dict[str, Guideline], rule: Rule) -> int | None:
    return int(rows[rule].value) if rule in rows else None


def budget_of(age_group: AgeGroup, guidelines: Iterable[Guideline]) -> SessionBudget:
    """What a session of this age group may spend. Without AU it is looked after by minutes and days."""
    return SessionBudget(
        load_au=float(age_group.session_load_au)
        if age_group.session_load_au and goes_by_load(age_group)
        else None,
        hardest_cr10=float(age_group.hardest_part),
        header_rule=header_rule(guidelines),
    )
