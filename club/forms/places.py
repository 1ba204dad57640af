"""Pitches and zones, kit and bibs."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from club import reading
from club.actions import StockChange
from club.choices import BIB_COLOURS, Surface
from club.forms.base import ActionForm, VersionedForm
from club.limits import NAME, TITLE

MOST_STOCK = 999


class PitchFields(ActionForm):
    name = forms.CharField(label=_("Name"), max_length=NAME)
    surface = forms.ChoiceField(label=_("Surface"), choices=Surface.choices)
    has_lights = forms.BooleanField(label=_("It has lights"), required=False)


class PitchForm(PitchFields, VersionedForm):
    """A pitch. A new one is cut into equal zones across its length, which can be changed afterwards."""

    length_m = forms.DecimalField(label=_("Length, metres"), min_value=5, max_value=130, decimal_places=1)
    width_m = forms.DecimalField(label=_("Width, metres"), min_value=5, max_value=100, decimal_places=1)
    parts = forms.TypedChoiceField(
        label=_("Shared by"),
        coerce=int,
        choices=[(1, _("one squad at a time")), (2, _("two: halves")), (3, _("three: thirds")), (4, _("four: quarters"))],
        help_text=_("Zones are what squads book. You can name and measure each one later."),
    )  # fmt: skip
    together = (("length_m", "width_m"),)
    OF_A_NEW_ONE = ("length_m", "width_m", "parts")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in self.OF_A_NEW_ONE if "version" in self.initial else ("version",):
            del self.fields[name]

    def values(self) -> dict[str, Any]:
        values = dict(self.cleaned_data)
        if "parts" not in values:
            return values
        length, width, parts = (values.pop(name) for name in self.OF_A_NEW_ONE)
        each = (length / parts).quantize(Decimal("0.1"))
        names = (
            [str(_("Whole pitch"))] if parts == 1 else [str(_("Zone %d")) % n for n in range(1, parts + 1)]
        )
        # The longer side of a zone is its length, so that a third of a pitch isn't called 33 × 60 m.
        long, short = max(each, width), min(each, width)
        zones = [{"name": name, "length_m": long, "width_m": short} for name in names]
        return {**values, "zones": zones}


class ZoneForm(VersionedForm):
    name = forms.CharField(label=_("Name"), max_length=NAME, help_text=_("North half, gate end."))
    length_m = forms.DecimalField(label=_("Length, metres"), min_value=5, max_value=130, decimal_places=1)
    width_m = forms.DecimalField(label=_("Width, metres"), min_value=5, max_value=100, decimal_places=1)
    walls = forms.CharField(label=_("Walls or fences"), max_length=TITLE, required=False)
    fixed_goals = forms.CharField(
        label=_("Fixed goals, and where they stand"), max_length=TITLE, required=False
    )
    together = (("length_m", "width_m"),)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if "version" not in self.initial:
            del self.fields["version"]


class StockForm(ActionForm):
    """One number for each kind of kit and each colour of bibs. The number that was shown travels along."""

    def __init__(self, *args: Any, kit: Iterable[Any], bibs: Iterable[Any], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rows = {f"kit-{row.public_id}": (row, row.kind) for row in kit}
        self.rows |= {f"bibs-{row.public_id}": (row, row.colour) for row in bibs}
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
