"""Stations at the same time, a row each; all buttons send the whole form, so nothing typed is lost."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from django import forms
from django.utils.functional import cached_property
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club import reading
from club.limits import NAME, TITLE
from sessions.actions import PartInput, StationInput
from sessions.forms.fields import row_choice
from sessions.validators import MOST_STATIONS

NAMES = ("id", "drill", "rung", "group", "place", "adult", "stays")
RowText = dict[str, str]


class StationForm(forms.Form):
    """One station: a drill, a group, a place, an adult."""

    id = forms.UUIDField(widget=forms.HiddenInput, required=False)
    rung = forms.CharField(widget=forms.HiddenInput, required=False, max_length=NAME)
    group = forms.CharField(label=gettext_lazy("Group"), max_length=NAME, required=False)
    place = forms.CharField(label=gettext_lazy("Where"), max_length=TITLE, required=False)
    stays = forms.BooleanField(label=gettext_lazy("this group stays here"), required=False)

    def __init__(
        self, *args: Any, drills: Sequence[tuple[str, str]], people: Iterable[Any], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["drill"] = forms.ChoiceField(
            label=_("Drill"), choices=[("", _("no drill yet")), *drills], required=False
        )
        self.fields["adult"] = row_choice(_("Adult"), people, empty=_("nobody yet"))

    def station(self, saved: StationInput | None) -> StationInput:
        """What was typed; another drill begins as it is written."""
        data = self.cleaned_data
        drill = reading.outer_id(data["drill"])
        base = saved or StationInput()
        same = drill is not None and drill == base.drill_id
        return replace(
            base,
            drill_id=drill,
            variation_key=base.variation_key if same else "",
            group=data["group"],
            place=data["place"],
            adult_id=data["adult"].pk if data["adult"] else None,
            stays=data["stays"],
        )


class StationRows:
    """The rows in order, each a form."""

    def __init__(
        self, rows: Sequence[RowText], *, drills: Sequence[tuple[str, str]], people: Sequence[Any]
    ) -> None:
        self.rows, self._drills, self._people = list(rows), drills, people

    @cached_property
    def forms(self) -> list[StationForm]:
        return [
            StationForm(
                {f"s{index}-{name}": text for name, text in row.items()},
                prefix=f"s{index}",
                drills=self._drills,
                people=self._people,
            )
            for index, row in enumerate(self.rows)
        ]

    def is_valid(self) -> bool:
        valid = [form.is_valid() for form in self.forms]
        return all(valid)

    def part(self, saved: PartInput, *, changes_round: bool) -> PartInput:
        """The part with these stations; call after is_valid."""
        known = {each.public_id: each for each in saved.stations}
        stations = tuple(form.station(known.get(form.cleaned_data["id"])) for form in self.forms)
        return replace(saved, stations=stations, changes_round=changes_round)


def stations_typed(data: Mapping[str, str]) -> list[RowText]:
    """The rows as they came, never more than a part may have."""
    count = min(reading.whole(data.get("rows")) or 0, MOST_STATIONS)
    return [{name: data.get(f"s{index}-{name}", "") for name in NAMES} for index in range(count)]


def stations_of(part: PartInput, people: Iterable[Any]) -> list[RowText]:
    """Saved stations as rows."""
    outer = {each.pk: str(each.public_id) for each in people}
    return [
        {
            "id": str(each.public_id or ""),
            "drill": str(each.drill_id or ""),
            "rung": each.variation_key,
            "group": each.group,
            "place": each.place,
            "adult": outer.get(each.adult_id or 0, ""),
            "stays": "on" if each.stays else "",
        }
        for each in part.stations
    ]


def blank_station(*, group: str = "", stays: bool = False) -> RowText:
    return {**dict.fromkeys(NAMES, ""), "group": group, "stays": "on" if stays else ""}
