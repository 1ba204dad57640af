"""Accounts, roles, invitations; erasing somebody."""

from datetime import date

from allauth.account.models import EmailAddress
from allauth.mfa.models import Authenticator
from django.db.backends.postgresql.psycopg_any import DateRange
from django.db.models import Q
from django.utils.translation import gettext as _

from club.actions.conflicts import action, lock_row, lock_rows
from club.actions.links import make_link, use_link
from club.actions.mail import forget_mail
from club.actions.pruning import end_sessions
from club.actions.tokens import end_tokens
from club.choices import ROLES_OF_AN_AGE_GROUP, LinkKind, Role
from club.errors import FieldProblem, Refused
from club.models import AgeGroup, IdempotencyRecord, OneTimeLink, StaffChecks, StaffRole, User
from club.queries.people import user_by_email
from club.queries.settings import current_season, today
from club.validators import line_problems


@action
def add_user(*, email: str, name: str, password: str | None = None, is_administrator: bool = False) -> User:
    """An account. Without a password it can be entered by a one-time link only."""
    if user_by_email(email):
        raise Refused(_("Somebody with this address has an account already."), "email")
    _check_name(name)
    user = User.objects.create_user(email, password, name=name.strip(), is_superuser=is_administrator)
    confirm_address(user=user)
    return user


def _check_name(name: str) -> None:
    if not name.strip():
        raise Refused(_("Say the name that colleagues know."), "name")
    if problems := line_problems(name=name.strip()):
        raise Refused(problems)


@action
def confirm_address(*, user: User) -> None:
    """Count the address as the person's own: whoever holds a one-time link got it from the club.

    The second step at sign-in and a forgotten password both ask for a confirmed address.
    """
    EmailAddress.objects.update_or_create(
        user=user, email=user.email, defaults={"verified": True, "primary": True}
    )


@action
def give_role(
    *,
    user: User,
    role: Role,
    age_group: AgeGroup | None = None,
    since: date | None = None,
    until: date | None = None,
) -> StaffRole:
    """Give a role for a time: from today to the end of the season when not said."""
    if (role in ROLES_OF_AN_AGE_GROUP) != (age_group is not None):
        raise Refused(
            _("A coach or helper belongs to an age group; a director or reader to the whole club."),
            "age_group",
        )
    lock_row(User, user.pk)  # whoever gives the same at this moment finds it given
    season = age_group.season if age_group else current_season()
    ends = until or (season.period.upper if season and age_group else None)
    period = DateRange(since or today(), ends)
    held = StaffRole.objects.filter(user=user, role=role, age_group=age_group, period__overlap=period).first()
    if held is not None:
        return held
    return StaffRole.objects.create(user=user, role=role, age_group=age_group, period=period)


@action
def end_role(*, role: StaffRole, on: date | None = None) -> None:
    """End a role today; the row stays as history. The last director can't be ended."""
    day = on or today()
    if role.role == Role.DIRECTOR:
        # All of them, so that two who are ended at the same moment are looked at one after the other.
        lock_rows(StaffRole.objects.filter(role=Role.DIRECTOR))
    ended = lock_row(StaffRole, role.pk)
    if ended.period.upper is not None and ended.period.upper <= day:
        return
    if ended.role == Role.DIRECTOR and not _another_director(ended, day):
        raise Refused(_("This is the last director. Name another one first."))
    if ended.period.lower is not None and ended.period.lower >= day:
        ended.delete()
        return
    ended.period = DateRange(ended.period.lower, day)
    ended.save(update_fields=["period"])


def _another_director(role: StaffRole, day: date) -> bool:
    directors = StaffRole.objects.filter(role=Role.DIRECTOR, period__contains=day, user__is_active=True)
    return directors.exclude(pk=role.pk).exists()


@action
def invite(*, email: str, role: Role, age_group: AgeGroup | None, made_by_id: int) -> str:
    """Invite somebody to a role; the path of the link is shown once, to be passed on by hand."""
    if "@" not in email:
        raise Refused(_("This doesn't look like an email address."), "email")
    if (role in ROLES_OF_AN_AGE_GROUP) != (age_group is not None):
        raise Refused(_("Choose the age group that a coach or helper belongs to."), "age_group")
    secret = make_link(
        kind=LinkKind.INVITATION, email=email, role=role, age_group=age_group, made_by_id=made_by_id
    )
    return f"/invited/{secret}/"


@action
def withdraw_invitation(*, link: OneTimeLink) -> None:
    """Take an invitation back that nobody has used; a used one is left as it is."""
    OneTimeLink.objects.filter(pk=link.pk, kind=LinkKind.INVITATION, used_at__isnull=True).delete()


@action
def enter(*, secret: str) -> User:
    """Spend a sign-in link and return whom it signs in."""
    link = use_link(secret=secret, kind=LinkKind.SIGN_IN)
    if link.user is None or not link.user.is_active:
        raise Refused(_("This account is closed."))
    confirm_address(user=link.user)
    return link.user


@action
def accept_invitation(*, secret: str, name: str, password: str) -> User:
    """Make the account that an invitation is for, or give the invited person one more role."""
    link = use_link(secret=secret, kind=LinkKind.INVITATION)
    user = user_by_email(link.email)
    if user is None:
        user = add_user(email=link.email, name=name, password=password)
    give_role(user=user, role=Role(link.role), age_group=link.age_group)
    return user


@action
def set_up_administrator(*, secret: str, email: str, name: str, password: str) -> User:
    """The first administrator, by the one-time link that the server printed."""
    use_link(secret=secret, kind=LinkKind.SET_UP)
    if user_by_email(email):
        raise Refused([FieldProblem("email", _("Somebody with this address has an account already."))])
    user = add_user(email=email, name=name, password=password, is_administrator=True)
    give_role(user=user, role=Role.DIRECTOR)
    return user


@action
def save_own_account(*, user: User, name: str, pace_m: float | None) -> User:
    """What everybody may change of their own account."""
    _check_name(name)
    if pace_m is not None and not 0.4 <= pace_m <= 1.5:
        raise Refused(_("A pace is between 0.4 and 1.5 m."), "pace_m")
    user.name, user.pace_m = name.strip(), pace_m
    user.save(update_fields=["name", "pace_m"])
    return user


@action
def close_account(*, user: User) -> None:
    """Somebody leaves: roles end, name and address go, what they wrote stays without them."""
    # Directors before people, as everywhere; all of them, so that the last one of either is seen to be the last.
    lock_rows(StaffRole.objects.filter(role=Role.DIRECTOR))
    lock_rows(User.objects.filter(Q(is_superuser=True) | Q(pk=user.pk)))
    user.refresh_from_db()
    others = User.objects.filter(is_superuser=True, is_active=True).exclude(pk=user.pk)
    if user.is_superuser and not others.exists():
        raise Refused(_("This is the last administrator. Name another one first."))
    for role in StaffRole.objects.filter(user=user, period__contains=today()):
        end_role(role=role)
    OneTimeLink.objects.filter(email__iexact=user.email).delete()
    OneTimeLink.objects.filter(user=user).delete()
    EmailAddress.objects.filter(user=user).delete()
    Authenticator.objects.filter(user=user).delete()
    StaffChecks.objects.filter(user=user).delete()
    IdempotencyRecord.objects.filter(user=user).delete()
    end_tokens(user_id=user.pk)
    end_sessions(user=user)
    forget_mail(user_id=user.pk)
    user.email = f"gone-{user.public_id}@invalid.invalid"
    user.name, user.is_active, user.is_superuser, user.pace_m = "Former colleague", False, False, None
    user.set_unusable_password()
    user.save()
