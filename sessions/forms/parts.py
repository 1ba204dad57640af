"""The parts of a session as rows of one form. All buttons work by sending the whole form, so nothing typed is lost.

A row lives as plain text until it is saved: moving it, taking it away or adding one never needs it to be valid.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any
from uuid import UUID

from django import forms
from django.utils.functional import cached_property
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club import reading
from club.errors import Refused
from club.limits import DRILL_IDS, TITLE
from sessions.actions import PartInput, StationInput
from sessions.choices import PartKind
from sessions.forms.fields import Stretch, add_problems, decimal, seconds_text, whole
from sessions.forms.part_order import RowText, beside_of
from sessions.planning.rounds import shared_out
from sessions.validators import MOST_PARTS

NAMES = (
    "id",
    "kind",
    "title",
    "drill",
    "rung",
    "also",
    "minutes",
    "bouts",
    "bout",
    "rest",
    "changeover",
    "effort",
)
_OF_ACTION = {"bout_s": "bout", "rest_s": "rest", "changeover_s": "changeover", "variation": "rung"}


class PartForm(forms.Form):
    """One part with its first station; further stations stay as they are, and those in `also` come beside them."""

    id = forms.UUIDField(widget=forms.HiddenInput, required=False)
    drill = forms.UUIDField(widget=forms.HiddenInput, required=False)
    also = forms.CharField(widget=forms.HiddenInput, required=False, max_length=DRILL_IDS)
    kind = forms.TypedChoiceField(label=gettext_lazy("Kind"), choices=PartKind.choices, coerce=PartKind)
    title = forms.CharField(label=gettext_lazy("Called"), max_length=TITLE, required=False)
    minutes = whole(gettext_lazy("Minutes"))
    bouts = whole(gettext_lazy("Rounds"))
    bout = Stretch(label=gettext_lazy("Each"), required=False)
    rest = Stretch(label=gettext_lazy("Rest"), required=False)
    changeover = Stretch(label=gettext_lazy("Changeover before"), required=False)
    effort = decimal(gettext_lazy("Effort"))

    def __init__(self, *args: Any, rungs: Sequence[tuple[str, str]] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if rungs:
            self.fields["rung"] = forms.ChoiceField(
                label=_("Variation"),
                choices=rungs,
                required=False,
                error_messages={"invalid_choice": _("The drill has no such variation (any more).")},
            )

    def part(self, saved: PartInput | None) -> PartInput:
        """What was typed, with the stations that the form doesn't show taken from what is saved."""
        data = self.cleaned_data
        bouts = max(1, data["bouts"])
        rest = data["rest"] or 0
        return PartInput(
            kind=data["kind"],
            title=data["title"],
            minutes=data["minutes"],
            bouts=data["bouts"],
            bout_s=shared_out(data["minutes"], bouts, rest) if data["bout"] is None else data["bout"],
            rest_s=rest,
            changeover_s=data["changeover"] or 0,
            effort=data["effort"],
            stations=self._stations(saved),
            public_id=data["id"],
            changes_round=saved.changes_round if saved else False,
        )

    def _stations(self, saved: PartInput | None) -> tuple[StationInput, ...]:
        kept = saved.stations if saved else ()
        drill = self.cleaned_data["drill"]
        if drill is None:
            return kept
        first = kept[0] if kept else StationInput()
        mine = replace(first, drill_id=drill, variation_key=self.cleaned_data.get("rung") or "")
        return (mine, *kept[1:], *(StationInput(*each) for each in beside_of(self.cleaned_data["also"])))


class PartRows:
    """The rows in order, each a form. `rungs` are the rungs of each drill that a row may name."""

    def __init__(self, rows: Sequence[RowText], rungs: Mapping[UUID, Sequence[tuple[str, str]]]) -> None:
        self.rows = list(rows)
        self._rungs = rungs

    @cached_property
    def forms(self) -> list[PartForm]:
        return [
            PartForm(
                {f"p{index}-{name}": text for name, text in row.items()},
                prefix=f"p{index}",
                rungs=self._rungs.get(reading.outer_id(row.get("drill", "")) or UUID(int=0), ()),
            )
            for index, row in enumerate(self.rows)
        ]

    def is_valid(self) -> bool:
        valid = [form.is_valid() for form in self.forms]  # every row shows its errors, not the first alone
        return all(valid)

    def parts(self, saved: Iterable[PartInput]) -> list[PartInput]:
        """The parts to be saved; call after is_valid."""
        known = {each.public_id: each for each in saved}
        return [form.part(known.get(form.cleaned_data["id"])) for form in self.forms]

    def refuse(self, refused: Refused) -> list[str]:
        """Put problems of `parts[2].bouts` beside the field; what belongs to no row is returned."""
        others = []
        for problem in refused.problems:
            index, name = _place_of(problem.field)
            if index is None or index >= len(self.forms):
                others.append(problem.text)
                continue
            add_problems(self.forms[index], Refused(problem.text, _OF_ACTION.get(name, name)))
        return others


def rows_typed(data: Mapping[str, str]) -> list[RowText]:
    """The rows as they came, in order; never more than a session may have parts."""
    count = min(reading.whole(data.get("rows")) or 0, MOST_PARTS + 1)
    return [{name: data.get(f"p{index}-{name}", "") for name in NAMES} for index in range(count)]


def rows_of(parts: Iterable[PartInput]) -> list[RowText]:
    """Saved parts as rows."""
    return [_row(part) for part in parts]


def _row(part: PartInput) -> RowText:
    first = part.stations[0] if part.stations else StationInput()
    return {
        "id": str(part.public_id or ""),
        "kind": part.kind.value,
        "title": part.title,
        "drill": str(first.drill_id or ""),
        "rung": first.variation_key,
        "also": "",
        "minutes": str(part.minutes),
        "bouts": str(part.bouts),
        "bout": seconds_text(part.bout_s),
        "rest": seconds_text(part.rest_s),
        "changeover": seconds_text(part.changeover_s),
        "effort": f"{part.effort:g}",
    }


def drill_ids(rows: Iterable[RowText]) -> set[UUID]:
    """The drills that rows name; what is no id is left out."""
    first = {found for row in rows if (found := reading.outer_id(row["drill"]))}
    return first | {drill for row in rows for drill, _rung in beside_of(row["also"])}


def _place_of(field: str) -> tuple[int | None, str]:
    """`parts[2].stations[0].variation` is (2, "variation")."""
    if not field.startswith("parts["):
        return None, ""
    index = field.removeprefix("parts[").partition("]")[0]
    return reading.whole(index), field.rpartition(".")[2]
