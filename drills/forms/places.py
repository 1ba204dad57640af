"""Zones and gates: a name and which part of the grid, or metres from its lower left corner."""

from typing import Any, ClassVar

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from drills.forms.base import KEPT, Blanks, Plain, RowForm, choice, number, text

METRES = "metres"
# Part of the grid → left, bottom, right, top as shares of its length and width. Two areas: two zones of one name.
THIRD = 1 / 3
PARTS: dict[str, list[tuple[float, float, float, float]]] = {
    "left third": [(0, 0, THIRD, 1)],
    "middle third": [(THIRD, 0, 2 * THIRD, 1)],
    "right third": [(2 * THIRD, 0, 1, 1)],
    "left half": [(0, 0, 0.5, 1)],
    "right half": [(0.5, 0, 1, 1)],
    "central square": [(0.25, 0.25, 0.75, 0.75)],
    "middle channel": [(0, 0.25, 1, 0.75)],
    "left end": [(0, 0, 0.15, 1)],
    "right end": [(0.85, 0, 1, 1)],
    "both ends": [(0, 0, 0.15, 1), (0.85, 0, 1, 1)],
    "top channel": [(0, 0.8, 1, 1)],
    "bottom channel": [(0, 0, 1, 0.2)],
    "both channels": [(0, 0, 1, 0.2), (0, 0.8, 1, 1)],
}
PART_WORDS = [
    ("left third", _("left third")),
    ("middle third", _("middle third")),
    ("right third", _("right third")),
    ("left half", _("left half")),
    ("right half", _("right half")),
    ("central square", _("central square")),
    ("middle channel", _("channel down the middle")),
    ("left end", _("left end zone")),
    ("right end", _("right end zone")),
    ("both ends", _("an end zone at both ends")),
    ("top channel", _("top wide channel")),
    ("bottom channel", _("bottom wide channel")),
    ("both channels", _("both wide channels")),
    (METRES, _("metres, as typed")),
]
TWO_NAMES = {
    "both ends": (_("{name}, left"), _("{name}, right")),
    "both channels": (_("{name}, bottom"), _("{name}, top")),
}
SIDES = ("left", "bottom", "right", "top")
SPOTS: dict[str, tuple[float, float]] = {
    "middle": (0.5, 0.5),
    "left": (0.25, 0.5),
    "right": (0.75, 0.5),
    "top": (0.5, 0.75),
    "bottom": (0.5, 0.25),
    "top left": (0.25, 0.75),
    "top right": (0.75, 0.75),
    "bottom left": (0.25, 0.25),
    "bottom right": (0.75, 0.25),
}
SPOT_WORDS = [
    ("middle", _("in the middle")),
    ("left", _("left of the middle")),
    ("right", _("right of the middle")),
    ("top", _("above the middle")),
    ("bottom", _("below the middle")),
    ("top left", _("top left quarter")),
    ("top right", _("top right quarter")),
    ("bottom left", _("bottom left quarter")),
    ("bottom right", _("bottom right quarter")),
    (METRES, _("metres, as typed")),
]
WAYS = [("", _("left and right")), ("across", _("up and down"))]


class ZoneRow(RowForm):
    field = "zones"
    needed = ("name", "part")
    blanks: ClassVar[Blanks] = {f"{side}_m": ("part", {METRES}) for side in SIDES}
    name = text(_("Name"), 120, help_text=_("the middle, the end zones"))
    part = choice(_("Which part of the grid"), PART_WORDS, empty=_("no zone"))
    left_m = number(_("from the left, m"), 0, 120, whole=False)
    right_m = number(_("to, m"), 0, 120, whole=False)
    bottom_m = number(_("from the bottom, m"), 0, 90, whole=False)
    top_m = number(_("up to, m"), 0, 90, whole=False)

    def offer(self, offered: Any) -> None:
        self.add_choices("part", [(KEPT, str(_("where it is now")))])

    @classmethod
    def read(cls, item: Plain) -> Plain:
        there = [(item["left"], item["bottom"], item["right"], item["top"])]
        part = next((name for name, areas in PARTS.items() if areas == there), KEPT)
        return {"key": item["key"], "name": item["name"], "part": part}

    def clean(self) -> Plain:
        data = super().clean()
        if data.get("part") == METRES:
            for side in SIDES:
                if data.get(f"{side}_m") is None:
                    self.add_error(f"{side}_m", _("How many metres?"))
        return data

    def fill_all(self, item: Plain) -> list[Plain]:
        """One zone, or two of one name."""
        typed = self.cleaned_data
        part, name = typed["part"], typed["name"]
        if part in (KEPT, METRES):
            typed_m = {"metres": [typed[f"{side}_m"] for side in SIDES]} if part == METRES else {}
            return [{**item, "name": name, **typed_m}]
        names = [each.format(name=name) for each in TWO_NAMES.get(part, (name,))]
        made = [
            {**item, "name": each, **dict(zip(SIDES, area, strict=True))}
            for each, area in zip(names, PARTS[part], strict=True)
        ]
        for each in made[1:]:
            each.pop("key", None)
        return made


class GateRow(RowForm):
    field = "gates"
    needed = ("spot",)
    blanks: ClassVar[Blanks] = {"x_m": ("spot", {METRES}), "y_m": ("spot", {METRES})}
    spot = choice(_("Where"), SPOT_WORDS, empty=_("no gate"))
    x_m = number(_("from the left, m"), 0, 120, whole=False)
    y_m = number(_("from the bottom, m"), 0, 90, whole=False)
    width_m = number(_("Width, m"), 0.5, 20, whole=False)
    way = choice(_("Passed"), WAYS)

    def offer(self, offered: Any) -> None:
        self.add_choices("spot", [(KEPT, str(_("where it is now")))])

    @classmethod
    def read(cls, item: Plain) -> Plain:
        spot = next((name for name, (x, y) in SPOTS.items() if (x, y) == (item["x"], item["y"])), KEPT)
        way = "across" if item.get("across") else ""
        return {"key": item["key"], "spot": spot, "way": way, "width_m": item.get("width_m", 2.0)}

    def clean(self) -> Plain:
        data = super().clean()
        if data.get("spot") == METRES:
            for name in ("x_m", "y_m"):
                if data.get(name) is None:
                    self.add_error(name, _("How many metres?"))
        return data

    def fill(self, item: Plain) -> Plain:
        typed = self.cleaned_data
        width_m = {"width_m": typed["width_m"]} if typed["width_m"] else {}
        made = {**item, "across": typed["way"] == "across", **width_m}
        if typed["spot"] == METRES:
            return {**made, "metres": [typed["x_m"], typed["y_m"]]}
        if typed["spot"] != KEPT:
            made["x"], made["y"] = SPOTS[typed["spot"]]
        return made


def to_shares(items: list[Plain], grid: Plain) -> list[Plain]:
    """Metres turned into shares of the first grid; what lies beyond its edge is refused by the document itself."""
    return [_to_shares(each, grid) for each in items]


def _to_shares(item: Plain, grid: Plain) -> Plain:
    if "metres" not in item:
        return item
    made = {name: each for name, each in item.items() if name != "metres"}
    names = SIDES if len(item["metres"]) == len(SIDES) else ("x", "y")
    for place, (name, metres) in enumerate(zip(names, item["metres"], strict=True)):
        made[name] = round(metres / (grid["width_m"] if place % 2 else grid["length_m"]), 6)
    return made


def gate_name(key: str) -> str:
    """What a gate is called in a select."""
    return _now("gate {key}").format(key=key).replace("gate gate", "gate")
