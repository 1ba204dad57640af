"""The wish that a session itself suggests: its minutes, place, people, kit, budget and order of parts."""

from collections.abc import Iterable

from club import queries as club
from club.models import AgeGroup
from drills import queries as drills
from sessions.bridge import minutes_of
from sessions.models import TrainingSession
from sessions.planning.headers import HeaderRule, HeadingSoFar
from sessions.planning.order import DEFAULT_ORDER
from sessions.proposals.wish import KeptPart, Wish, WishedPart
from sessions.queries.counted import factor_at_hand
from sessions.queries.evening import ages_of, evening_of
from sessions.queries.guides import budget_of, goes_by_load
from sessions.queries.ledger import limits_of
from sessions.queries.outline import outline_of
from sessions.queries.squad_context import free_from, week_so_far


def wish_for(session: TrainingSession, *, keep: Iterable[str] = ()) -> Wish:
    """What tonight is by itself. `keep` names parts that stay as they are; nothing stays by itself. Three queries, and one
    for the club's kit where it did not come along.
    """
    settings = club.club_settings()
    group = session.age_group
    budget = budget_of(group, club.guidelines_for(group, session.day))
    k = factor_at_hand(session)
    so_far, free = week_so_far(session), free_from(session)
    kit = club.kit_read_along(session)
    evening = evening_of(session, kit=None if kit is None else drills.counted(kit))
    ground = evening.ground[0] if evening.pieces else None
    return Wish(
        age_group_id=group.pk,
        session=str(session.public_id),
        minutes=minutes_of(session),
        players=evening.players,
        length=ground.length_m if ground else None,
        width=ground.width_m if ground else None,
        piece=ground,
        adults=evening.adults,
        ages=evening.ages,
        themes=(session.theme.key,) if session.theme else (),
        load_au=_least(budget.load_au, _left(group, so_far.load_au)),
        by_load=goes_by_load(group),
        k=k,
        hardest=budget.hardest_cr10,
        headers=headers_left(budget.header_rule, so_far.heading),
        set_up_minutes=int((session.period.lower - free).total_seconds() // 60) if free else None,
        clear_minutes=settings.clear_minutes,
        changeover_minutes=round(settings.changeover_s / 60),
        kit=dict(evening.kit) or None,
        parts=_parts(session, settings.part_order, keep),
    )


def wish_for_group(age_group: AgeGroup, *, minutes: int, players: int, length: float, width: float) -> Wish:
    """The wish for an evening of an age group that no session stands for yet."""
    settings = club.club_settings()
    budget = budget_of(age_group, club.guidelines_for(age_group))
    return Wish(
        age_group_id=age_group.pk,
        minutes=minutes,
        players=players,
        length=length,
        width=width,
        ages=ages_of(age_group),
        load_au=budget.load_au,
        by_load=goes_by_load(age_group),
        hardest=budget.hardest_cr10,
        headers=headers_left(budget.header_rule, HeadingSoFar()),
        clear_minutes=settings.clear_minutes,
        changeover_minutes=round(settings.changeover_s / 60),
        kit=drills.club_stock() or None,
        parts=tuple(WishedPart(kind=kind) for kind in settings.part_order or DEFAULT_ORDER),
    )


def headers_left(rule: HeaderRule | None, so_far: HeadingSoFar) -> int | None:
    """Headers per player that the guideline leaves for this session; None where it names no limit."""
    if rule is None:
        return None
    often = (
        (rule.sessions_per_week, so_far.sessions_this_week),
        (rule.sessions_per_month, so_far.sessions_this_month),
    )
    if rule.none or any(limit is not None and done >= limit for limit, done in often):
        return 0
    week = None if rule.per_week is None else max(0, rule.per_week - so_far.headers_this_week)
    found = _least(rule.per_session, week)
    return None if found is None else int(found)


def _left(group: AgeGroup, spent_au: float) -> float | None:
    """Expected AU that the week still has; None for a group without a budget in AU."""
    most_au = limits_of(group).load_au
    return None if most_au is None else max(0.0, most_au - spent_au)


def _least(*limits: float | None) -> float | None:
    return min((each for each in limits if each is not None), default=None)


def _parts(session: TrainingSession, order: Iterable[str], keep: Iterable[str]) -> tuple[WishedPart, ...]:
    """The session's own parts where it has any, else the club's order."""
    rows = outline_of(session)
    if not rows:
        return tuple(WishedPart(kind=kind) for kind in order or DEFAULT_ORDER)
    named = set(keep)
    return tuple(
        WishedPart(kind=row.kind, kept=KeptPart(part=row.id) if row.id in named else None) for row in rows
    )
