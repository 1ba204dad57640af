"""A weekly slot."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club import queries as club
from club.forms.typed import version_field
from sessions.choices import Weekday
from sessions.forms.fields import clock_field, day_field, row_choice, row_choices


class SlotForm(forms.Form):
    """Weekday, from–to, zones, squad, coaches, until when."""

    weekday = forms.TypedChoiceField(label=gettext_lazy("Every"), choices=Weekday.choices, coerce=int)
    starts = clock_field(gettext_lazy("From"))
    ends = clock_field(gettext_lazy("To"))
    first_day = day_field(gettext_lazy("Begins on"))
    last_day = day_field(gettext_lazy("Until"))
    version = version_field(initial=0)
    field_order = ("squad", "weekday", "starts", "ends", "zones", "coaches", "first_day", "last_day")

    def __init__(self, *args: Any, is_new: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if is_new:
            self.fields["squad"] = row_choice(_("Team"), club.squads())
        self.fields["zones"] = row_choices(_("Spaces"), club.zones())
        self.fields["coaches"] = row_choices(_("Coaches"), club.coaches(), required=False)
        self.order_fields(self.field_order)

    @property
    def values(self) -> dict[str, Any]:
        """What make_slot and change_slot take."""
        data = self.cleaned_data
        named = ("weekday", "starts", "ends", "first_day", "last_day")
        return {
            **{name: data[name] for name in named},
            "zone_ids": [each.pk for each in data["zones"]],
            "coach_ids": [each.pk for each in data["coaches"]],
        }
