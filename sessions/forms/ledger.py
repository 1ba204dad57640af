"""What goes into the ledger by hand."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from club.limits import TITLE
from sessions.choices import Kind
from sessions.forms.fields import day_field, decimal, whole

BY_HAND = [(each.value, each.label) for each in Kind if each != Kind.TRAINING]


class EntryForm(forms.Form):
    """A match, a tournament, training elsewhere."""

    kind = forms.TypedChoiceField(label=gettext_lazy("What"), choices=BY_HAND, coerce=Kind)
    day = day_field(gettext_lazy("Day"))
    title = forms.CharField(
        label=gettext_lazy("Called"),
        max_length=TITLE,
        required=False,
        help_text=gettext_lazy("No players' names or health details."),
    )
    minutes = whole(
        gettext_lazy("Minutes"), help_text=gettext_lazy("Of one player, not of the whole afternoon.")
    )
    effort = decimal(
        gettext_lazy("Effort, CR10"), required=False, help_text=gettext_lazy("0 rest, 5 hard, 10 maximal.")
    )
    headers = whole(gettext_lazy("Headers per player"), required=False)

    def __init__(self, *args: Any, with_au: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not with_au:
            del self.fields["effort"]

    @property
    def values(self) -> dict[str, Any]:
        """What add_ledger_entry takes besides squad and person."""
        data = self.cleaned_data
        return {
            "kind": data["kind"],
            "day": data["day"],
            "title": data["title"],
            "minutes": data["minutes"],
            "effort": data.get("effort"),
            "headers": data["headers"] or 0,
        }
