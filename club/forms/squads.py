"""Squads and players."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from club.forms.base import ActionForm, VersionedForm
from club.limits import NAME, PLAYER_LINES


def _only_these(field: forms.Field, rows: Iterable[Any], label: str) -> dict[str, Any]:
    by_id = {str(row.public_id): row for row in rows}
    assert isinstance(field, forms.ChoiceField)
    field.choices = [(key, getattr(row, label)) for key, row in by_id.items()]
    return by_id


class PlaceSquadForm(ActionForm):
    """The age group that a squad is in this season."""

    age_group = forms.ChoiceField(label=_("Age group"))

    def __init__(self, *args: Any, age_groups: Iterable[Any], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.age_groups = _only_these(self.fields["age_group"], age_groups, "label")

    def clean_age_group(self) -> Any:
        return self.age_groups[self.cleaned_data["age_group"]]


class SquadForm(PlaceSquadForm):
    name = forms.CharField(label=_("Name of the team"), max_length=NAME)
    field_order = ("name", "age_group")


class RenameSquadForm(VersionedForm):
    name = forms.CharField(label=_("Name of the team"), max_length=NAME)


class PlayersForm(ActionForm):
    lines = forms.CharField(
        label=_("Players, one a line"),
        max_length=PLAYER_LINES,
        widget=forms.Textarea(attrs={"rows": 8}),
        help_text=_(
            "7 Ada B — a number if there is one, and the name you call across the pitch. Nothing else."
        ),
    )


class PlayerForm(VersionedForm):
    display_name = forms.CharField(
        label=_("Name on the list"),
        max_length=NAME,
        help_text=_("The name you call across the pitch. Nothing else."),
    )
    shirt = forms.IntegerField(label=_("Shirt number"), required=False, min_value=1, max_value=99)
    is_keeper = forms.BooleanField(label=_("Plays in goal"), required=False)


class MovePlayerForm(ActionForm):
    to = forms.ChoiceField(label=_("To"))

    def __init__(self, *args: Any, squads: Iterable[Any], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.squads = _only_these(self.fields["to"], squads, "name")

    def clean_to(self) -> Any:
        return self.squads[self.cleaned_data["to"]]
