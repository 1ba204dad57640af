"""Which pitch is lost or who is away, and when."""

from datetime import timedelta
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club import queries as club
from sessions.forms.fields import clock_field, day_field, row_choice
from sessions.queries.mending.lost import LONGEST_DAYS, Lost


class _LostForm(forms.Form):
    """Days, and times where it is not all day. What is left empty is tonight: the first day alone, from morning to night."""

    first = day_field(gettext_lazy("From"))
    last = day_field(gettext_lazy("To"))
    starts = clock_field(gettext_lazy("Not before"))
    ends = clock_field(gettext_lazy("Until"))
    field_order: tuple[str, ...]  # what is lost first, then the others

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("first", "last", "starts", "ends"):
            self.fields[name].required = False
        self.fields["starts"].help_text = _("Empty: all day.")

    def clean(self) -> dict[str, Any]:
        data: dict[str, Any] = super().clean() or {}
        if self.errors:
            return data
        today = club.today()
        first = data["first"] = data.get("first") or today
        last = data["last"] = data.get("last") or first
        if first < today:
            self.add_error("first", _("This day is over."))
        elif last < first:
            self.add_error("last", _("The last day is before the first."))
        elif last - first >= timedelta(days=LONGEST_DAYS):
            self.add_error("last", _("At most {n} days at a time.").format(n=LONGEST_DAYS))
        starts, ends = data.get("starts"), data.get("ends")
        if (starts is None) != (ends is None):
            self.add_error("ends" if ends is None else "starts", _("Say both times, or none."))
        elif starts and ends and ends <= starts:
            self.add_error("ends", _("It ends before it starts."))
        return data

    @property
    def lost(self) -> Lost:
        return Lost(*(self.cleaned_data[name] for name in self.field_order))


class PitchLostForm(_LostForm):
    """Which pitch, and when."""

    field_order = ("pitch", "first", "last", "starts", "ends")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["pitch"] = row_choice(_("Pitch"), club.pitches())
        self.order_fields(self.field_order)


class AwayForm(_LostForm):
    """Who is away, and when."""

    field_order = ("person", "first", "last", "starts", "ends")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["person"] = row_choice(_("Who"), club.people())
        self.order_fields(self.field_order)
