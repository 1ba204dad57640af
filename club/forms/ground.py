"""Edges and fixed goals, field by field: how a form asks for them, and what they make."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club.choices import EDGES, AtEdge, FixedGoalKind
from club.forms.base import ActionForm
from club.pages import Sketch, sketch

MIDDLE = 0.5
LIKE_THIS_M = (50.0, 30.0)  # what is drawn before any length is known
DIGITS = 6  # of a share: a tenth of a millimetre of the longest edge
LONGEST_M = 130


def edge_field(label: Any) -> forms.ChoiceField:
    return forms.ChoiceField(label=label, choices=AtEdge.choices, initial=AtEdge.OPEN)


def goal_field(label: Any) -> forms.ChoiceField:
    none = [("", gettext_lazy("no fixed goal"))]
    return forms.ChoiceField(label=label, choices=[*none, *FixedGoalKind.choices], required=False)


def along_field(label: Any) -> forms.DecimalField:
    """Metres along an edge to the middle of its goal; empty: in the middle."""
    widget = forms.NumberInput(attrs={"placeholder": gettext_lazy("middle")})
    return forms.DecimalField(
        label=label, min_value=0, max_value=LONGEST_M, decimal_places=1, required=False, widget=widget
    )


class EdgesForm(ActionForm):
    """What stands at the four edges of a rectangle, seen along its length, with a drawing of it."""

    edge_left = edge_field(gettext_lazy("Left end"))
    edge_right = edge_field(gettext_lazy("Right end"))
    edge_bottom = edge_field(gettext_lazy("Near side"))
    edge_top = edge_field(gettext_lazy("Far side"))

    def drawn(self) -> Sketch:
        """The zone as typed so far; what is wrong or missing is drawn as it was, or as it might be."""
        now = {**self.initial, **getattr(self, "cleaned_data", {})}
        length, width = (float(now.get(name) or 0) for name in ("length_m", "width_m"))
        if not (length and width):
            length, width = LIKE_THIS_M
        edges = {edge: now.get(f"edge_{edge}") or AtEdge.OPEN.value for edge in EDGES}
        found = goals_of(now, length, width)
        return sketch(length, width, edges, [(each["edge"], each["along"], each["size"]) for each in found])


def goal_values(goals: list[dict[str, Any]], length_m: float, width_m: float) -> dict[str, Any]:
    """The first goal of each edge by the form's fields; metres only where it doesn't stand in the middle."""
    first = {each["edge"]: each for each in reversed(goals)}
    values: dict[str, Any] = {}
    for edge in EDGES:
        goal = first.get(edge)
        metres = None
        if goal and goal["along"] != MIDDLE:
            metres = Decimal(str(goal["along"] * edge_m(edge, length_m, width_m))).quantize(Decimal("0.1"))
        values[f"goal_{edge}"] = goal["size"] if goal else ""
        values[f"along_{edge}_m"] = metres
    return values


def goals_beside(goals: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The goals for which the form has no field: all but the first of each edge."""
    seen: set[str] = set()
    found = []
    for each in goals:
        if each["edge"] in seen:
            found.append(each)
        seen.add(each["edge"])
    return found


def goals_of(values: Mapping[str, Any], length_m: float, width_m: float) -> list[dict[str, Any]]:
    """The goals that the form's fields say, at most one at each edge."""
    found = []
    for edge in EDGES:
        size, metres = values.get(f"goal_{edge}"), values.get(f"along_{edge}_m")
        if size:
            share = MIDDLE if metres is None else float(metres) / edge_m(edge, length_m, width_m)
            found.append({"edge": edge, "along": round(min(1.0, share), DIGITS), "size": size})
    return found


def edge_m(edge: str, length_m: float, width_m: float) -> float:
    """How long an edge is: ends are as long as the zone is wide."""
    return float(width_m if edge in ("left", "right") else length_m)


def goal_problems(values: Mapping[str, Any], length_m: float, width_m: float) -> dict[str, str]:
    """What is wrong with where goals stand, by field."""
    found = {}
    for edge in EDGES:
        metres, most = values.get(f"along_{edge}_m"), edge_m(edge, length_m, width_m)
        if metres is None:
            continue
        if not values.get(f"goal_{edge}"):
            found[f"goal_{edge}"] = _("Say which goal stands there, or empty the metres beside it.")
        elif metres > most:
            found[f"along_{edge}_m"] = _("That is beyond the corner, at {metres} m.").format(
                metres=f"{most:g}"
            )
    return found
