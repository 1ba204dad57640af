"""Who works with whom."""

from collections.abc import Iterable
from typing import Any
from uuid import UUID

from django.db.models import Q, QuerySet
from django.utils import timezone
from knox.models import get_token_model

from club.choices import ROLES_OF_AN_AGE_GROUP, LinkKind, Role
from club.models import Guideline, OneTimeLink, StaffRole, User
from club.queries.settings import today


def staff_of(age_group_id: int) -> list[User]:
    """Coaches and helpers of an age group today, by name."""
    return list(
        User.objects.filter(
            is_active=True,
            roles__age_group_id=age_group_id,
            roles__role__in=ROLES_OF_AN_AGE_GROUP,
            roles__period__contains=today(),
        )
        .distinct()
        .order_by("name")
    )


def coaches() -> list[User]:
    """Everybody who may lead a session today."""
    return list(
        User.objects.filter(
            is_active=True,
            roles__role__in=(Role.COACH, Role.HELPER, Role.DIRECTOR),
            roles__period__contains=today(),
        )
        .distinct()
        .order_by("name")
    )


def staff_roles() -> QuerySet[StaffRole]:
    """Roles that hold today, with their people."""
    return StaffRole.objects.filter(period__contains=today()).select_related("user", "age_group")


def guidelines(under: int | None = None) -> list[Guideline]:
    """Published figures that hold today, all or those that speak of "under n"; for an age group: `guidelines_for`."""
    found = Guideline.objects.filter(valid__contains=today())
    if under is not None:
        found = found.filter(under_low__lte=under, under_high__gte=under)
    return list(found)


def guideline_rows() -> list[Guideline]:
    """Published figures that hold today or later, in the order of the rules."""
    later = Q(valid__endswith__gt=today()) | Q(valid__upper_inf=True)
    return list(Guideline.objects.filter(later))


def guideline(public_id: UUID) -> Guideline | None:
    return Guideline.objects.filter(public_id=public_id).first()


def people(*, with_no_role: bool = False, with_checks: bool = False) -> list[User]:
    """Everybody who works in the club today, each with `roles_today`, by name; if asked, accounts with none too, and the
    dates of each along with it."""
    users = User.objects.filter(is_active=True).order_by("name", "pk")
    found = list(users.select_related("checks") if with_checks else users)
    roles: dict[int, list[StaffRole]] = {}
    for role in staff_roles().order_by("role", "age_group__position"):
        roles.setdefault(role.user_id, []).append(role)
    for user in found:
        user.roles_today = roles.get(user.pk, [])  # type: ignore[attr-defined]
    return [user for user in found if with_no_role or user.pk in roles]


def role_of_today(public_id: UUID) -> StaffRole | None:
    return staff_roles().filter(public_id=public_id).first()


def user(public_id: UUID) -> User | None:
    """Somebody with an open account."""
    return User.objects.filter(public_id=public_id, is_active=True).first()


def invitations() -> list[OneTimeLink]:
    """Invitations that nobody has used yet and that still work."""
    return list(
        OneTimeLink.objects.filter(
            kind=LinkKind.INVITATION, used_at__isnull=True, expires_at__gt=timezone.now()
        )
        .select_related("age_group")
        .order_by("expires_at")
    )


def invitation(public_id: UUID) -> OneTimeLink | None:
    return OneTimeLink.objects.filter(public_id=public_id, kind=LinkKind.INVITATION).first()


def tokens_of(user_id: int) -> Iterable[Any]:
    """Somebody's own API tokens, newest first; only their beginnings are known."""
    tokens: Any = get_token_model()
    return list(tokens.objects.filter(user_id=user_id).order_by("-created"))
