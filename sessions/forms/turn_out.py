"""Who came, and what space is free."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drills.game.evening import Evening
from sessions.forms.fields import decimal, whole
from sessions.pages.stations.starting import starting
from sessions.queries.evening import evening_typed


class TurnOutForm(forms.Form):
    """Tonight's numbers for one station. What is left out is as the session has it, or as much as it takes."""

    players = whole(gettext_lazy("Players"))
    keepers = whole(
        gettext_lazy("Keepers among them"),
        required=False,
        help_text=gettext_lazy("Empty: anyone may be asked to keep goal."),
    )
    adults = whole(gettext_lazy("Adults"), required=False)
    length = decimal(gettext_lazy("Free length, m"), required=False)
    width = decimal(gettext_lazy("Free width, m"), required=False)

    def __init__(self, data: Mapping[str, Any] | None = None, *, tonight: Evening | None = None) -> None:
        """`tonight` is what the session has: the fields begin with it, and say what an empty one means."""
        begins = None if tonight is None else starting(tonight)
        super().__init__(data, initial=None if begins is None else vars(begins))
        if begins is None:
            return
        for names, meaning in ((("adults",), begins.adults_help), (("length", "width"), begins.ground_help)):
            for name in names if meaning else ():
                self.fields[name].help_text = _("Empty: {meaning}.").format(meaning=meaning)

    def evening(self, session: Any) -> Evening:
        """The evening of a session as it was typed; call after is_valid. Raises Refused with what is wrong beside each field."""
        data = self.cleaned_data
        return evening_typed(
            session,
            players=data["players"],
            keepers=data["keepers"],
            adults=data["adults"],
            length_m=data["length"],
            width_m=data["width"],
        )


class EverybodyForm(forms.Form):
    """For how many players all parts are set up."""

    players = whole(gettext_lazy("Players"))
    anew = forms.BooleanField(
        label=gettext_lazy("Choose again where a part is set up for as many already"), required=False
    )
