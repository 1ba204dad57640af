"""Fields that several forms ask."""

from typing import Any

from django import forms
from django.conf import settings
from django.utils.translation import gettext_lazy as _

from club.forms.base import ActionForm
from club.forms.typed import DayField
from club.limits import NAME
from club.validators import time_zones


def time_zone_field() -> forms.ChoiceField:
    return forms.ChoiceField(
        label=_("Time zone"),
        initial=settings.TIME_ZONE,
        choices=lambda: [(name, name.replace("_", " ")) for name in time_zones()],
        help_text=_("Sessions keep their time on this clock when it changes in spring and autumn."),
    )


def day_field(label: Any, **more: Any) -> DayField:
    """A day, typed or picked as the device likes."""
    return DayField(label=label, **more)


class SeasonFields(ActionForm):
    season_name = forms.CharField(label=_("Season"), max_length=NAME, help_text=_("As you say it: 2026-27."))
    first_day = day_field(_("First day of the season"))
    last_day = day_field(_("Last day of the season"))
