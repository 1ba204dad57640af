"""Which session a session is put together with, and what they share."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club.errors import Refused
from club.forms.typed import version_field
from sessions.forms.fields import add_problems, row_choice


class ApartForm(forms.Form):
    version = version_field()


class TogetherForm(ApartForm):
    """`others` are sessions at the same time."""

    share_place = forms.BooleanField(label=gettext_lazy("Both may use both pitches"), required=False)
    share_people = forms.BooleanField(label=gettext_lazy("All adults look after both teams"), required=False)
    field_order = ("version", "other", "share_place", "share_people")

    def __init__(self, *args: Any, others: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["other"] = row_choice(_("Together with"), others)
        self.fields["other"].choices = [
            (
                str(each.public_id),
                f"{each.age_group.label} {each.squad.name}, {each.starts:%H:%M}–{each.ends:%H:%M}"
                + (f": {each.title}" if each.title else ""),
            )
            for each in others
        ]
        self.order_fields(self.field_order)

    @property
    def values(self) -> dict[str, Any]:
        return dict(self.cleaned_data)

    def refuse(self, refused: Refused) -> None:
        add_problems(self, refused, {"with": "other", "zones": "share_place", "staff": "share_people"})
