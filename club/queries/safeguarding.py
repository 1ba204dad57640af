"""Who counts as an adult, whose dates run out, who is out until lifted, what an emergency would miss."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any
from uuid import UUID

from django.db.models import Count, Exists, F, IntegerField, OuterRef, Q, QuerySet, Subquery, Value
from django.db.models.functions import Coalesce

from club.models import Pitch, PlayerOut, PlayerSquad, SquadSeason, StaffChecks, User
from club.queries.settings import club_settings, running_season, today
from club.queries.staff import people, staff_roles
from club.queries.vetting import SOON_DAYS, why_not_counted

CHECKS = ("vetting_until", "safeguarding_until", "first_aid_until")


def checks_of(user: User) -> StaffChecks:
    """Somebody's dates; an unsaved row with version 0 where nobody has entered any."""
    return StaffChecks.objects.filter(user=user).first() or StaffChecks(user=user, version=0)


def adults_counted(user_ids: Iterable[int], day: date) -> int:
    """How many of these people count as adults on a day. One query."""
    rows = StaffChecks.objects.filter(user_id__in=list(user_ids), of_age=True)
    return sum(
        why_not_counted(of_age=each.of_age, vetting_until=each.vetting_until, day=day) is None
        for each in rows
    )


@dataclass(frozen=True)
class RunsOut:
    """A date that has run out, runs out soon, or was never entered (`until` None)."""

    user: User
    check: str
    until: date | None
    is_over: bool


def staff_with_checks(*, with_no_role: bool = False) -> list[User]:
    """Everybody who works in the club, each with `roles_today` and `held` (an unsaved row where none is entered)."""
    found = people(with_no_role=with_no_role, with_checks=True)
    for user in found:
        user.held = getattr(user, "checks", None) or StaffChecks(user=user, version=0)  # type: ignore[attr-defined]
    return found


def working_with_checks() -> list[User]:
    """Those of `staff_with_checks` who have a role today, in one query."""
    found: dict[int, Any] = {}
    for role in staff_roles().filter(user__is_active=True).select_related("user__checks"):
        user = found.setdefault(role.user_id, role.user)
        user.roles_today = [*getattr(user, "roles_today", []), role]
        user.held = getattr(user, "checks", None) or StaffChecks(user=user, version=0)
    return list(found.values())


def running_out(users: Iterable[Any], day: date | None = None) -> list[RunsOut]:
    """Of these people (`staff_with_checks`) what is over or runs out within `SOON_DAYS`, soonest first; no query.

    Who coaches, helps or directs and has no vetting entered comes first. Other dates that were never entered are not
    asked for: not everybody needs first aid.
    """
    on = day or today()
    found = [
        RunsOut(user, check, until, until < on)
        for user in users
        for check in CHECKS
        if (until := getattr(user.held, check)) is not None and until <= on + timedelta(days=SOON_DAYS)
    ]
    found += [RunsOut(each, "vetting_until", None, True) for each in users if _no_vetting(each)]
    return sorted(found, key=lambda each: (each.until or date.min, each.user.name, each.check))


def _no_vetting(user: Any) -> bool:
    works = any(role.role != "reader" for role in user.roles_today)
    return works and user.held.vetting_until is None


@dataclass(frozen=True)
class Unsaid:
    """What an emergency block has no words for: fields of a pitch, or (no pitch) of the club's settings."""

    pitch: Pitch | None
    fields: tuple[str, ...]


def emergency_unsaid() -> list[Unsaid]:
    """Where the emergency block has gaps that the director can mend. One query beyond the settings."""
    found = [] if club_settings().welfare_phone else [Unsaid(None, ("welfare_phone",))]
    for pitch in Pitch.objects.filter(retired_at__isnull=True):
        empty = tuple(
            name for name in ("address", "ambulance_gate", "defibrillator") if not getattr(pitch, name)
        )
        if empty:
            found.append(Unsaid(pitch, empty))
    return found


# --- out until lifted ---


def is_out(player: str = "pk") -> Exists:
    """Whether the player that an outer row names is out until it is lifted."""
    return Exists(PlayerOut.objects.filter(player=OuterRef(player), lifted_at__isnull=True))


def out_row(player: Any) -> PlayerOut | None:
    """Since when and by whom a player is out; None for one who is not."""
    return PlayerOut.objects.select_related("set_by").filter(player=player, lifted_at__isnull=True).first()


def out_of_squad(squad: str, day: str, at: Any) -> Coalesce:
    """How many of the squad that an outer row names are out at a moment of its own, by the squad's list of its day."""
    # In one filter, so that since and lifted are those of one row.
    rows = PlayerSquad.objects.filter(
        Q(player__outs__lifted_at__isnull=True) | Q(player__outs__lifted_at__gt=at),
        squad=OuterRef(squad),
        period__contains=OuterRef(day),
        player__erased_at__isnull=True,
        player__outs__since__lte=at,
    )
    counted = rows.order_by().values("squad").annotate(n=Count("player", distinct=True)).values("n")
    return Coalesce(Subquery(counted, output_field=IntegerField()), Value(0))


def out_at(player_ids: Iterable[str], at: Any) -> set[str]:
    """Of these players, by their outer ids, those who are out at a moment. One query."""
    rows = PlayerOut.objects.filter(player__public_id__in=list(player_ids), since__lte=at)
    still = rows.filter(Q(lifted_at__isnull=True) | Q(lifted_at__gt=at))
    return {str(each) for each in still.values_list("player__public_id", flat=True)}


def age_groups_of_player(public_id: UUID | str) -> set[int]:
    """The age groups of the running season that a player's teams of today are in."""
    teams = PlayerSquad.objects.filter(
        player__public_id=public_id, player__erased_at__isnull=True, period__contains=today()
    ).values("squad_id")
    rows: QuerySet[Any] = SquadSeason.objects.filter(squad_id__in=teams, season=running_season())
    return set(rows.values_list(F("age_group_id"), flat=True))
