"""Who counts as an adult, whose dates run out, who is out until lifted, what an emergency would miss."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any
from uuid import UUID

from django.db.models import Count, Exists, F, IntegerField, OuterRef, Q, QuerySet, Subquery, Value
from django.db.models.functions import Coalesce, JSONObject

from club import reading
from club.models import Pitch, PlayerOut, PlayerSquad, SquadSeason, StaffChecks, User
from club.queries.roster import CHECKS, held_in, role_rows
from club.queries.settings import club_settings, running_season, today
from club.queries.staff import people
from club.queries.vetting import SOON_DAYS, why_not_counted

_OF_A_PITCH = ("address", "ambulance_gate", "defibrillator")


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
    return working_in(role_rows())


def working_in(rows: Iterable[Mapping[str, Any]]) -> list[User]:
    """The same of `role_rows` that are at hand: people with their names, roles and dates. No query."""
    on = today()
    found: dict[int, Any] = {}
    for row in rows:
        role = held_in(row)
        if role.on(on):
            user = found.get(role.user_id) or _person(row)
            user.roles_today.append(role)
            found[role.user_id] = user
    return list(found.values())


def _person(row: Mapping[str, Any]) -> Any:
    user: Any = User(pk=row["user_id"], name=row["name"], public_id=UUID(row["public_id"]))
    user.roles_today = []
    user.held = StaffChecks(user=user, **{check: reading.day(row[check]) for check in CHECKS})
    return user


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


def pitch_rows() -> "QuerySet[Pitch, dict[str, Any]]":
    """What an emergency block says of each pitch in use, as plain rows."""
    row = JSONObject(public_id="public_id", name="name", **{name: name for name in _OF_A_PITCH})
    return Pitch.objects.filter(retired_at__isnull=True).values_list(row, flat=True)


def emergency_unsaid(rows: Iterable[Mapping[str, Any]]) -> list[Unsaid]:
    """Where the emergency block has gaps that the director can mend, of `pitch_rows`. No query beyond the settings."""
    found = [] if club_settings().welfare_phone else [Unsaid(None, ("welfare_phone",))]
    for row in rows:
        empty = tuple(name for name in _OF_A_PITCH if not row[name])
        if empty:
            found.append(Unsaid(Pitch(public_id=UUID(row["public_id"]), name=row["name"]), empty))
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
    return {str(each) for each in outs_at(at).filter(player__public_id__in=list(player_ids))}


def outs_at(at: Any) -> QuerySet[PlayerOut, UUID]:
    """The outer ids of all players who are out at a moment, or at one of an outer row."""
    still = Q(lifted_at__isnull=True) | Q(lifted_at__gt=at)
    return PlayerOut.objects.filter(still, since__lte=at).values_list("player__public_id", flat=True)


def age_groups_of_player(public_id: UUID | str) -> set[int]:
    """The age groups of the running season that a player's teams of today are in."""
    teams = PlayerSquad.objects.filter(
        player__public_id=public_id, player__erased_at__isnull=True, period__contains=today()
    ).values("squad_id")
    rows: QuerySet[Any] = SquadSeason.objects.filter(squad_id__in=teams, season=running_season())
    return set(rows.values_list(F("age_group_id"), flat=True))
