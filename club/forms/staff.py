"""Invitations and roles."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from club.choices import ROLES_OF_AN_AGE_GROUP, Role
from club.forms.base import ActionForm, VersionedForm
from club.forms.club import day_field


class RoleForm(ActionForm):
    role = forms.ChoiceField(
        label=_("Role"),
        choices=Role.choices,
        help_text=_(
            "A coach plans for an age group, a helper records at its pitch, a reader reads, a director does all of it."
        ),
    )
    age_group = forms.ChoiceField(
        label=_("Age group"), required=False, help_text=_("For a coach or a helper.")
    )

    def __init__(self, *args: Any, age_groups: Iterable[Any], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.age_groups = {str(row.public_id): row for row in age_groups}
        field: Any = self.fields["age_group"]
        field.choices = [("", "–"), *((key, row.label) for key, row in self.age_groups.items())]

    def clean_age_group(self) -> Any:
        return self.age_groups.get(self.cleaned_data["age_group"])

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        of_a_group = cleaned.get("role") in ROLES_OF_AN_AGE_GROUP
        if of_a_group and cleaned.get("age_group") is None:
            self.add_error("age_group", _("Choose the age group that a coach or helper belongs to."))
        if not of_a_group:
            cleaned["age_group"] = None
        return cleaned

    def values(self) -> dict[str, Any]:
        return {**self.cleaned_data, "role": Role(self.cleaned_data["role"])}


class InviteForm(RoleForm):
    email = forms.EmailField(label=_("Email address"), help_text=_("They sign in with it."))
    field_order = ("email", "role", "age_group")


class ChecksForm(VersionedForm):
    """Until when somebody's vetting, safeguarding and first aid hold; no certificate, no birthday, nothing else."""

    of_age = forms.BooleanField(label=_("18 or over"), required=False, help_text=_("No birthday is saved."))
    vetting_until = day_field(
        _("Vetting holds until"),
        required=False,
        help_text=_("The last day. Who is 18 or over and vetted counts towards a session's adults."),
    )
    safeguarding_until = day_field(_("Safeguarding holds until"), required=False)
    first_aid_until = day_field(_("First aid holds until"), required=False)
