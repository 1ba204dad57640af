"""Ways in, and one's own account."""

from typing import Any

from allauth.account.fields import EmailField
from allauth.account.forms import ChangePasswordForm
from allauth.core import context
from django import forms
from django.contrib.auth.password_validation import validate_password
from django.core.validators import MaxLengthValidator
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from club import actions
from club.forms.base import ActionForm
from club.forms.club import SeasonFields, time_zone_field
from club.limits import PASSWORD, TITLE


class EnterForm(ActionForm):
    """Nothing to type: a button, so that a preview of the link spends nothing."""


class PasswordFields(ActionForm):
    """A new password, twice, held to the same rules as everywhere."""

    name = forms.CharField(
        label=_("Your name"),
        max_length=TITLE,
        help_text=_("As colleagues know you; it is shown on sessions."),
    )
    password = forms.CharField(
        label=_("Password"),
        min_length=10,
        max_length=PASSWORD,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text=_("At least 10 characters. Three or four words that belong to nobody else do well."),
    )
    again = forms.CharField(
        label=_("The same again"),
        max_length=PASSWORD,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    def clean_password(self) -> str:
        password: str = self.cleaned_data["password"]
        validate_password(password)
        return password

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if {"password", "again"} <= cleaned.keys() and cleaned["password"] != cleaned["again"]:
            self.add_error("again", _("These are two different passwords."))
        return cleaned

    def values(self) -> dict[str, Any]:
        return {name: value for name, value in self.cleaned_data.items() if name != "again"}


class InvitedForm(PasswordFields):
    """Who was invited says a name and a password; somebody with an account already says nothing."""

    def __init__(self, *args: Any, known: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if known:
            self.fields.clear()

    def values(self) -> dict[str, Any]:
        return {"name": "", "password": "", **super().values()}


class SetUpForm(PasswordFields, SeasonFields):
    """The first administrator, the club's name and its season. What is there already is not asked."""

    email = forms.EmailField(label=_("Your email address"), help_text=_("You sign in with it."))
    club_name = forms.CharField(label=_("Name of the club"), max_length=TITLE)
    time_zone = time_zone_field()

    field_order = ("email", "name", "password", "again", "club_name", "time_zone")

    def __init__(self, *args: Any, has_club: bool = False, has_season: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        gone = (["club_name", "time_zone"] if has_club else []) + (
            ["season_name", "first_day", "last_day"] if has_season else []
        )
        for name in gone:
            del self.fields[name]


class AccountForm(ActionForm):
    """What everybody may change of their own account."""

    name = forms.CharField(label=_("Name"), max_length=TITLE, help_text=_("As colleagues know you."))
    pace_m = forms.DecimalField(
        label=_("My pace, metres"),
        required=False,
        min_value=0.4,
        max_value=1.5,
        max_digits=3,
        decimal_places=2,
        help_text=_(
            "Walk ten normal steps, measure, divide by ten. Plans then give distances in your paces."
        ),
    )


class TokenForm(ActionForm):
    days = forms.TypedChoiceField(
        label=_("Lasts"),
        coerce=int,
        choices=[(30, _("30 days")), (365, _("a year"))],
        initial=365,
    )


class ForgottenForm(forms.Form):
    """Asks for a link to a new password. What happens doesn't tell whether anybody has the address."""

    email = EmailField(required=True)

    def save(self, request: HttpRequest) -> None:
        actions.ask_for_password_link(email=self.cleaned_data["email"])


BY_LINK = "entered_by_link_at"
BY_LINK_FOR_S = 60 * 60


class ChosenPasswordForm(ChangePasswordForm):
    """A new password. Who has just come in by a one-time link isn't asked for the old one, which may be forgotten."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for each in self.fields.values():
            each.max_length = PASSWORD
            each.validators.append(MaxLengthValidator(PASSWORD))
        entered_at = context.request.session.get(BY_LINK, 0)
        if timezone.now().timestamp() - entered_at < BY_LINK_FOR_S:
            del self.fields["oldpassword"]

    def save(self) -> None:
        super().save()
        context.request.session.pop(BY_LINK, None)
