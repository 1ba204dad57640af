"""What an address of a calendar is asked for. Place and coach stay out unless somebody ticks them, with the reason beside."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

LASTS = (("366", _("a year")), ("92", _("three months")))


class CalendarForm(forms.Form):
    """A new address."""

    with_place = forms.BooleanField(
        label=_("Say which pitch"),
        required=False,
        help_text=_(
            "Leave it out where others may read it: an address like this is passed on, and tells strangers where children are, and when."
        ),
    )
    with_coach = forms.BooleanField(
        label=_("Say who leads"),
        required=False,
        help_text=_("The coach’s name. Ask them first; players’ names are never in it."),
    )
    days = forms.ChoiceField(label=_("Works for"), choices=LASTS)

    @property
    def values(self) -> dict[str, Any]:
        """What `open_calendar` takes."""
        data = self.cleaned_data
        return {name: data[name] for name in ("with_place", "with_coach", "days")}
