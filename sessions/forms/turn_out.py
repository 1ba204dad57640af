"""Who came, and what space is free."""

from django import forms
from django.utils.translation import gettext_lazy

from sessions.actions import TurnOut
from sessions.forms.fields import decimal, whole


class TurnOutForm(forms.Form):
    """Tonight's numbers for one station."""

    players = whole(gettext_lazy("Players"))
    keepers = whole(gettext_lazy("Keepers among them"), required=False)
    adults = whole(gettext_lazy("Adults"))
    length = decimal(gettext_lazy("Free length, m"))
    width = decimal(gettext_lazy("Free width, m"))

    @property
    def turn_out(self) -> TurnOut:
        data = self.cleaned_data
        return TurnOut(
            players=data["players"],
            length_m=data["length"],
            width_m=data["width"],
            keepers=data["keepers"],
            adults=data["adults"],
        )
