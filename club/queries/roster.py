"""Who works with which age group on which day, for many people and days at once."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from club.choices import Role
from club.models import StaffRole
from club.queries.settings import today

AT_THE_PITCH = (Role.COACH, Role.HELPER, Role.DIRECTOR)


@dataclass(frozen=True)
class HeldRole:
    """A role that somebody with an open account has or had; `ends` is the first day without it."""

    role_id: int
    user_id: int
    name: str
    public_id: str
    role: str
    age_group_id: int | None
    begins: date | None
    ends: date | None

    def on(self, day: date) -> bool:
        return (self.begins is None or self.begins <= day) and (self.ends is None or day < self.ends)


@dataclass(frozen=True)
class RoleRoster:
    """Everybody's roles at the pitch."""

    roles: tuple[HeldRole, ...]

    def stands(self, user_id: int, age_group_id: int, day: date) -> bool:
        """Whether somebody who is down for an age group can still be counted on.

        Not without an open account and a role, nor where the role with this very age group has ended; who is borrowed
        from another one stands.
        """
        mine = [each for each in self.roles if each.user_id == user_id]
        now = [each for each in mine if each.on(day)]
        if any(each.age_group_id in (age_group_id, None) for each in now):
            return True
        ended = any(each.age_group_id == age_group_id and each.ends and each.ends <= day for each in mine)
        return bool(now) and not ended

    def who_could(self, age_group_id: int, day: date) -> list[HeldRole]:
        """Everybody once who may take a session: coaches of the age group, its helpers, other coaches, directors."""
        order = {Role.COACH: 2, Role.HELPER: 4, Role.DIRECTOR: 3}

        def rank(each: HeldRole) -> tuple[int, str]:
            own = each.age_group_id == age_group_id
            return (0 if each.role == Role.COACH else 1) if own else order[Role(each.role)], each.name

        found = sorted((each for each in self.roles if each.on(day)), key=rank)
        once = {each.user_id: each for each in reversed(found)}
        able = [each for each in found if once[each.user_id] is each]
        return [each for each in able if self.stands(each.user_id, age_group_id, day)]

    def without(self, *, role_id: int | None = None, user_id: int | None = None) -> "RoleRoster":
        """The same once a role has ended today, or somebody has left."""
        day = today()
        kept = [each for each in self.roles if each.user_id != user_id]
        return RoleRoster(tuple(_ended(each, day) if each.role_id == role_id else each for each in kept))


def _ended(held: HeldRole, day: date) -> HeldRole:
    return HeldRole(*(getattr(held, name) for name in list(HeldRole.__dataclass_fields__)[:-1]), ends=day)


def roster() -> RoleRoster:
    """One query."""
    rows: Iterable[StaffRole] = StaffRole.objects.filter(
        role__in=AT_THE_PITCH, user__is_active=True
    ).select_related("user")
    return RoleRoster(
        tuple(
            HeldRole(
                role_id=row.pk,
                user_id=row.user_id,
                name=row.user.name,
                public_id=str(row.user.public_id),
                role=row.role,
                age_group_id=row.age_group_id,
                begins=row.period.lower,
                ends=row.period.upper,
            )
            for row in rows
        )
    )
