"""Using a session again: for which squad and when, over how many weeks, into which space."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club.forms.typed import version_field
from sessions.forms.fields import decimal, row_choice, whole
from sessions.forms.frame import FrameForm

SPACES = (
    ("half", gettext_lazy("half the space")),
    ("hall", gettext_lazy("a hall")),
    ("other", gettext_lazy("another space")),
)


class ReuseForm(FrameForm):
    """The same evening for another squad, at its own time and place."""

    version = version_field(required=False, initial=0)
    field_order = ("squad", *FrameForm.field_order)

    def __init__(self, *args: Any, squads: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["squad"] = row_choice(_("For"), squads)
        self.order_fields(self.field_order)


class SpaceForm(forms.Form):
    """Plan B: what is left to play on, and how many come."""

    space = forms.ChoiceField(label=gettext_lazy("Play on"), choices=SPACES, initial="half")
    length = decimal(gettext_lazy("Length, m"), required=False)
    width = decimal(gettext_lazy("Width, m"), required=False)
    players = whole(gettext_lazy("Players"))


class WeeksForm(forms.Form):
    weeks = whole(gettext_lazy("Weeks"))
