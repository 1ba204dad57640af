"""Pitches and zones, kit and bibs."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from club import reading
from club.actions import StockChange
from club.choices import BIB_COLOURS, EDGES, AtEdge, Surface, bib_word
from club.forms.base import ActionForm, VersionedForm
from club.forms.ground import (
    EdgesForm,
    along_field,
    goal_field,
    goal_problems,
    goal_values,
    goals_beside,
    goals_of,
)
from club.limits import ADDRESS, NAME, WHERE

MOST_STOCK = 999


class PitchFields(ActionForm):
    name = forms.CharField(label=_("Name"), max_length=NAME)
    surface = forms.ChoiceField(label=_("Surface"), choices=Surface.choices)
    has_lights = forms.BooleanField(label=_("It has lights"), required=False)


class InAnEmergency(ActionForm):
    """What somebody reads out to an ambulance, or runs to."""

    address = forms.CharField(
        label=_("Address"),
        max_length=ADDRESS,
        required=False,
        help_text=_("As you would say it to an ambulance: street, place, postcode."),
    )
    ambulance_gate = forms.CharField(
        label=_("Gate for an ambulance"),
        max_length=WHERE,
        required=False,
        help_text=_("Which one, and who has the key."),
    )
    defibrillator = forms.CharField(
        label=_("Nearest defibrillator"), max_length=WHERE, required=False, help_text=_("Where it hangs.")
    )


# What a pitch's edge is for zones that lie side by side along its length: each one's length is the width of the pitch.
TURNED = {"left": "top", "right": "bottom", "bottom": "left", "top": "right"}


class PitchForm(PitchFields, InAnEmergency, EdgesForm, VersionedForm):
    """A pitch. A new one is cut into equal zones across its length, which can be changed afterwards."""

    length_m = forms.DecimalField(label=_("Length, metres"), min_value=5, max_value=130, decimal_places=1)
    width_m = forms.DecimalField(label=_("Width, metres"), min_value=5, max_value=100, decimal_places=1)
    parts = forms.TypedChoiceField(
        label=_("Shared by"),
        coerce=int,
        choices=[(1, _("one team at a time")), (2, _("two: halves")), (3, _("three: thirds")), (4, _("four: quarters"))],
        help_text=_("Spaces are what teams book. You can name and measure each one later."),
    )  # fmt: skip
    together = (("length_m", "width_m"), ("edge_left", "edge_right"), ("edge_bottom", "edge_top"))
    OF_A_NEW_ONE = ("length_m", "width_m", "parts", *(f"edge_{edge}" for edge in EDGES))
    field_order = (
        *("name", "surface", "has_lights", "address", "ambulance_gate", "defibrillator"),
        *OF_A_NEW_ONE,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in self.OF_A_NEW_ONE if "version" in self.initial else ("version",):
            del self.fields[name]

    def values(self) -> dict[str, Any]:
        values = dict(self.cleaned_data)
        if "parts" not in values:
            return values
        length, width, parts, *stands = (values.pop(name) for name in self.OF_A_NEW_ONE)
        edges = dict(zip(EDGES, stands, strict=True))
        return {**values, "zones": _cut(length, width, parts, edges)}


def _cut(length: Decimal, width: Decimal, parts: int, edges: dict[str, str]) -> list[dict[str, Any]]:
    """A pitch as equal zones side by side, the first one near, with another group beyond each joint.

    They meet along their length, so the length of each is the pitch's width; the whole of a pitch is turned only where
    it was typed with the shorter side first.
    """
    if parts > 1 or width > length:
        length, width = width, (length / parts).quantize(Decimal("0.1"))
        edges = {edge: edges[TURNED[edge]] for edge in EDGES}
    names = [str(_("Whole pitch"))] if parts == 1 else [str(_("Space %d")) % n for n in range(1, parts + 1)]
    return [
        {
            "name": name,
            "length_m": length,
            "width_m": width,
            "edge_left": edges["left"],
            "edge_right": edges["right"],
            "edge_bottom": edges["bottom"] if number == 0 else AtEdge.GROUP.value,
            "edge_top": edges["top"] if number == parts - 1 else AtEdge.GROUP.value,
        }
        for number, name in enumerate(names)
    ]


class ZoneForm(EdgesForm, VersionedForm):
    """A zone with its edges, at each of which a fixed goal may stand. Goals beyond one an edge are kept as they are."""

    name = forms.CharField(label=_("Name"), max_length=NAME, help_text=_("North half, gate end."))
    length_m = forms.DecimalField(label=_("Length, metres"), min_value=5, max_value=130, decimal_places=1)
    width_m = forms.DecimalField(label=_("Width, metres"), min_value=5, max_value=100, decimal_places=1)
    goal_left = goal_field(_("Goal at the left end"))
    goal_right = goal_field(_("Goal at the right end"))
    goal_bottom = goal_field(_("Goal on the near side"))
    goal_top = goal_field(_("Goal on the far side"))
    along_left_m = along_field(_("Metres from the near corner"))
    along_right_m = along_field(_("Metres from the near corner"))
    along_bottom_m = along_field(_("Metres from the left corner"))
    along_top_m = along_field(_("Metres from the left corner"))
    at_edges = tuple((f"edge_{edge}", f"goal_{edge}", f"along_{edge}_m") for edge in EDGES)
    together = (("length_m", "width_m"), *at_edges)
    field_order = ("name", "length_m", "width_m", *(name for names in at_edges for name in names))

    def __init__(self, *args: Any, kept: Iterable[dict[str, Any]] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.kept = list(kept)
        if "version" not in self.initial:
            del self.fields["version"]

    @classmethod
    def of(cls, row: Any, data: Any = None, **more: Any) -> VersionedForm:
        return super().of(row, data, kept=goals_beside(row.fixed_goals), **more)

    @classmethod
    def read(cls, row: Any) -> dict[str, Any]:
        return {**super().read(row), **goal_values(row.fixed_goals, row.length_m, row.width_m)}

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        length, width = cleaned.get("length_m"), cleaned.get("width_m")
        if length and width:
            for name, text in goal_problems(cleaned, length, width).items():
                self.add_error(name, text)
        return cleaned

    def values(self) -> dict[str, Any]:
        asked = ("version", "name", "length_m", "width_m", *(f"edge_{edge}" for edge in EDGES))
        values = {name: self.cleaned_data[name] for name in asked if name in self.cleaned_data}
        goals = goals_of(self.cleaned_data, values["length_m"], values["width_m"])
        return {**values, "fixed_goals": [*goals, *self.kept]}


class StockForm(ActionForm):
    """One number for each kind of kit and each colour of bibs. The number that was shown travels along."""

    def __init__(self, *args: Any, kit: Iterable[Any], bibs: Iterable[Any], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rows = {f"kit-{row.public_id}": (row, row.kind) for row in kit}
        self.rows |= {f"bibs-{row.public_id}": (row, bib_word(row.colour)) for row in bibs}
        for name, (row, label) in self.rows.items():
            self.fields[name] = forms.IntegerField(
                label=label, initial=row.count, min_value=0, max_value=MOST_STOCK, show_hidden_initial=True
            )

    def kit_fields(self) -> list[Any]:
        return [self[name] for name in self.rows if name.startswith("kit-")]

    def bib_fields(self) -> list[Any]:
        return [self[name] for name in self.rows if name.startswith("bibs-")]

    def values(self) -> dict[str, Any]:
        changes: dict[str, list[StockChange]] = {"kit": [], "bibs": []}
        for name in self.changed_data:
            row, _label = self.rows[name]
            was = reading.whole(self.data.get(self.add_initial_prefix(name)), 0, MOST_STOCK)
            change = StockChange(
                field=name,
                public_id=row.public_id,
                was=row.count if was is None else was,
                count=self.cleaned_data[name],
            )
            changes[name.split("-")[0]].append(change)
        return changes


class StockItemForm(ActionForm):
    """A kind of kit, or bibs of a colour, that is not on the list yet."""

    kind = forms.CharField(
        label=_("Kind"), max_length=NAME, required=False, help_text=_("The word that drills use: hoops.")
    )
    colour = forms.ChoiceField(label=_("or bibs in"), required=False, choices=[("", "–"), *BIB_COLOURS])
    count = forms.IntegerField(label=_("How many"), min_value=0, max_value=MOST_STOCK)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if bool(cleaned.get("kind")) == bool(cleaned.get("colour")):
            self.add_error("kind", _("Say a kind of kit, or choose a colour of bibs."))
        return cleaned
