"""People with an account, and what they may do. Players and parents never have one."""

from typing import ClassVar

import pghistory
from django.contrib.auth.models import AbstractBaseUser, BaseUserManager, PermissionsMixin
from django.contrib.postgres.constraints import ExclusionConstraint
from django.contrib.postgres.fields import DateRangeField, RangeOperators
from django.db import models
from django.db.models.functions import Coalesce, Lower
from django.utils.translation import gettext_lazy as _

from club.choices import Role
from club.models.base import Editable, Public

ADDRESS_TAKEN = _("Somebody with this address has an account already.")


class UserManager(BaseUserManager["User"]):
    def create_user(self, email: str, password: str | None = None, **fields: object) -> "User":
        user = self.model(email=self.normalize_email(email).lower(), **fields)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def create_superuser(self, email: str, password: str | None = None, **fields: object) -> "User":
        return self.create_user(email, password, is_superuser=True, **fields)

    def get_by_natural_key(self, username: str | None) -> "User":
        return self.get(email__iexact=username)


class User(Public, AbstractBaseUser, PermissionsMixin):
    """Somebody on the staff. Signs in with an email address; `is_superuser` marks the administrator."""

    email = models.EmailField(
        _("email"), max_length=254, unique=True, error_messages={"unique": ADDRESS_TAKEN}
    )
    name = models.CharField(_("name"), max_length=80)
    pace_m = models.DecimalField(_("own pace, metres"), max_digits=3, decimal_places=2, null=True, blank=True)
    is_active = models.BooleanField(default=True)
    joined_at = models.DateTimeField(auto_now_add=True)

    objects = UserManager()
    USERNAME_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]

    class Meta:
        constraints = [
            # Not citext: the embedded database has no nondeterministic collations, and lower() says the same.
            models.UniqueConstraint(
                Lower("email"),
                name="user_email_once",
                violation_error_code="email",
                violation_error_message=ADDRESS_TAKEN,
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_staff(self) -> bool:
        return self.is_superuser


@pghistory.track()
class StaffRole(Public):
    """A role for a time. A coach or helper names the age group; a director or reader has the whole club."""

    user = models.ForeignKey("club.User", on_delete=models.CASCADE, related_name="roles")
    role = models.CharField(max_length=10, choices=Role)
    age_group = models.ForeignKey("club.AgeGroup", on_delete=models.CASCADE, null=True, blank=True)
    period = DateRangeField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(role__in=["coach", "helper"], age_group__isnull=False)
                | models.Q(role__in=["director", "reader"], age_group__isnull=True),
                name="role_names_its_age_group",
            ),
            ExclusionConstraint(
                name="role_once_at_a_time",
                expressions=[
                    ("user", RangeOperators.EQUAL),
                    ("role", RangeOperators.EQUAL),
                    # A role for the whole club names none, and nothing equals nothing.
                    (Coalesce("age_group", models.Value(0)), RangeOperators.EQUAL),
                    ("period", RangeOperators.OVERLAPS),
                ],
                violation_error_code="role",
                violation_error_message=_("This person has that role already."),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.user} {self.role}"


class StaffChecks(Editable):
    """Until when somebody's vetting, safeguarding and first aid hold, and that they are 18 or over: nothing else is kept.

    A date is the last day on which it holds; empty: nobody has seen one. Goes with the account.
    """

    user = models.OneToOneField(
        User,
        on_delete=models.CASCADE,
        related_name="checks",
        error_messages={"unique": _("Somebody else has just saved this. Look again, then save.")},
    )
    of_age = models.BooleanField(_("18 or over"), default=False)
    vetting_until = models.DateField(_("vetting holds until"), null=True, blank=True)
    safeguarding_until = models.DateField(_("safeguarding holds until"), null=True, blank=True)
    first_aid_until = models.DateField(_("first aid holds until"), null=True, blank=True)
