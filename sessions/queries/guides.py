"""Budgets and guidelines as the computations take them."""

from collections.abc import Iterable

from club.choices import Rule
from club.models import AgeGroup, Guideline
from sessions.planning.budget import SessionBudget
from sessions.planning.headers import HeaderRule


def header_rule(guidelines: Iterable[Guideline]) -> HeaderRule | None:
    """The heading rule of one age group, from the guideline rows that hold for it today; None without any."""
    rows = {each.rule: each for each in guidelines}
    per_session = rows.get(Rule.HEADERS_PER_SESSION)
    if per_session is None:
        return None
    week = rows.get(Rule.HEADING_SESSIONS_WEEK)
    month = rows.get(Rule.HEADING_SESSIONS_MONTH)
    return HeaderRule(
        source=per_session.source,
        none=per_session.value == 0,
        per_session=int(per_session.value),
        sessions_per_week=int(week.value) if week else None,
        sessions_per_month=int(month.value) if month else None,
    )


YOUNGEST_BY_LOAD = (
    11  # up to U10 minutes, days and rest days speak alone (our own rule: no AU for the youngest)
)


def goes_by_load(age_group: AgeGroup) -> bool:
    """Whether anything is said of this age group in AU: from U11 on, where the club has set it a budget."""
    by_age = age_group.ages.under_high is None or age_group.ages.under_high >= YOUNGEST_BY_LOAD
    return by_age and (age_group.session_load_au is not None or age_group.week_load_au is not None)


def budget_of(age_group: AgeGroup, guidelines: Iterable[Guideline]) -> SessionBudget:
    """What a session of this age group may spend. Without AU it is looked after by minutes and days."""
    return SessionBudget(
        load_au=float(age_group.session_load_au)
        if age_group.session_load_au and goes_by_load(age_group)
        else None,
        hardest_cr10=float(age_group.hardest_part),
        header_rule=header_rule(guidelines),
    )
