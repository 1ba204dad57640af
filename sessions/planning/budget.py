"""A plan against its budget: reasons beside the parts, with the amount and what would clear it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sessions.planning.account import account
from sessions.planning.clock import minutes_reasons, part_reasons
from sessions.planning.headers import HeaderRule, HeadingSoFar, header_reasons
from sessions.planning.kit import shortages
from sessions.planning.load import expected
from sessions.planning.numbers import at_least, cr10
from sessions.planning.plan import SessionPlan
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.supervision import AdultRule, supervise
from sessions.planning.trim import offers_of, trim


@dataclass(frozen=True, slots=True)
class SessionBudget:
    """What a session of an age group may spend; None where the club names no limit. Raises ValueError naming the field."""

    load_au: float | None = None
    hardest_cr10: float | None = None
    header_rule: HeaderRule | None = None

    def __post_init__(self) -> None:
        if self.load_au is not None:
            at_least("load_au", self.load_au, 0)
        if self.hardest_cr10 is not None:
            cr10("hardest_cr10", self.hardest_cr10)


@dataclass(frozen=True, slots=True)
class People:
    """Who is planned to be there; `rule` is the figure of supervision in force, None for adults."""

    players: int
    rule: AdultRule | None
    adults: int
    helpers_under_18: int = 0


def session_reasons(
    plan: SessionPlan,
    budget: SessionBudget,
    *,
    k: float = 1.0,
    people: People | None = None,
    stock: Mapping[str, int] | None = None,
    elsewhere: Iterable[Mapping[str, int]] = (),
    heading: HeadingSoFar | None = None,
) -> tuple[PlanningReason, ...]:
    """Everything that stands against a plan: minutes, load, effort, headers, adults, kit. Empty: nothing does.

    `k` is the squad's factor (see `load.squad_factor`); `elsewhere` is the kit that other sessions hold meanwhile. What is not given (people, stock) is not checked.
    """
    found: list[PlanningReason] = [*minutes_reasons(plan)]
    for part in plan.parts:
        found.extend(part_reasons(part))
    found.extend(load_reasons(plan, budget, k))
    found.extend(effort_reasons(plan, budget))
    if budget.header_rule is not None:
        found.extend(header_reasons(plan, budget.header_rule, heading))
    if people is not None:
        found.extend(people_reasons(plan, people))
    if stock is not None:
        found.extend(shortage.reason for shortage in shortages(plan.parts, stock, elsewhere))
    return tuple(found)


def load_reasons(plan: SessionPlan, budget: SessionBudget, k: float = 1.0) -> tuple[PlanningReason, ...]:
    """Expected AU (plan × `k`) over the session's budget, with the least changes that would clear it.

    It stands beside the part that costs most.
    """
    load_au = expected(account(plan).load_au, k)
    if budget.load_au is None or load_au <= budget.load_au + 1e-9 or not plan.parts:
        return ()
    over_au = load_au - budget.load_au
    costliest = max(plan.parts, key=lambda part: part.cr10 * part.minutes)
    clears = trim(over_au, [offers_of(plan.parts, k)]).reasons
    return (
        reason(
            "load_over",
            part=costliest.key,
            clears=clears,
            load_au=load_au,
            over_au=over_au,
            budget_au=float(budget.load_au),
        ),
    )


def effort_reasons(plan: SessionPlan, budget: SessionBudget) -> tuple[PlanningReason, ...]:
    """Parts harder than the age group plans at most."""
    limit = budget.hardest_cr10
    if limit is None:
        return ()
    return tuple(
        reason(
            "effort_over",
            part.key,
            (reason("clear_effort", part.key, limit_cr10=float(limit)),),
            cr10=float(part.cr10),
            limit_cr10=float(limit),
        )
        for part in plan.parts
        if part.cr10 > limit
    )


def people_reasons(plan: SessionPlan, people: People) -> tuple[PlanningReason, ...]:
    """Adults for the players, and an adult for each station that runs at the same time."""
    found = list(
        supervise(
            people.players,
            people.rule,
            adults=people.adults,
            helpers_under_18=people.helpers_under_18,
        ).reasons
    )
    found.extend(
        reason(
            "stations_short_of_adults",
            part.key,
            (reason("clear_stations", part.key, more=part.stations - people.adults),),
            stations=part.stations,
            there=people.adults,
        )
        for part in plan.parts
        if part.stations > max(1, people.adults)
    )
    return tuple(found)
