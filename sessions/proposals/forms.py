"""What tonight is: the wish for a session, as a coach types it."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import msgspec
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club import queries as club
from club import reading
from club.errors import Refused
from club.forms.typed import version_field
from club.limits import DRILL_IDS
from drills.choices import kit_word
from sessions.choices import HowMuch, PartKind
from sessions.forms.fields import add_problems, decimal, row_choice, whole
from sessions.proposals.queries import proposal_weights
from sessions.proposals.wish import KeptPart, Wish, WishedPart

MOST_PARTS_TYPED = 8
_FIELD_OF = {"load_au": "load", "set_up_minutes": "set_up", "parts": "part0"}
APART = "keepers_apart"


class WishForm(forms.Form):
    """Numbers, space, theme, limits, the kit that is there, and the parts in order; a part that stays is ticked."""

    minutes = whole(gettext_lazy("Minutes, clearing included"))
    players = whole(gettext_lazy("Players"))
    keepers = whole(
        gettext_lazy("Keepers among them"),
        required=False,
        help_text=gettext_lazy("Empty: anyone may be asked to keep goal."),
    )
    adults = whole(
        gettext_lazy("Adults"), required=False, help_text=gettext_lazy("Empty: as many as it takes.")
    )
    length = decimal(gettext_lazy("Free length, m"))
    width = decimal(gettext_lazy("Free width, m"))
    hardest = decimal(
        gettext_lazy("Hardest part, effort 0 to 10"),
        required=False,
        help_text=gettext_lazy(
            "3 moderate, 4 somewhat hard, 5 hard, 7 very hard (CR10). A quiet evening: 4 or 5. Empty: no limit."
        ),
    )
    load = decimal(
        gettext_lazy("Load at most, AU"),
        required=False,
        help_text=gettext_lazy("What the session's budget and the week have left. Empty: no limit."),
    )
    headers = whole(
        gettext_lazy("Headers per player, at most"),
        required=False,
        help_text=gettext_lazy("What the guideline leaves this week."),
    )
    set_up = whole(
        gettext_lazy("Minutes to set up before"),
        required=False,
        help_text=gettext_lazy("From when the space is free. Empty: no limit."),
    )
    banned = forms.CharField(widget=forms.HiddenInput, required=False, max_length=DRILL_IDS)

    def __init__(
        self, data: Mapping[str, Any] | None, wish: Wish, there: Sequence[tuple[str, str] | None]
    ) -> None:
        """`wish` is what the session suggests; `there` has id and words of each part of the session that could stay, and
        None for one in which there is nothing yet.
        """
        super().__init__(data, initial=_initial(wish))
        self.wish, self.there = wish, there
        if not wish.by_load:
            del self.fields["load"]
        if wish.length is None:
            self.fields["length"].help_text = _("Nothing is booked yet: say how much room there is.")
        themes = club.themes()
        self.fields["theme"] = row_choice(gettext_lazy("Theme"), themes, empty=_("any"))
        chosen = next((each for each in themes if each.key in wish.themes[:1]), None)
        self.initial["theme"] = str(chosen.public_id) if chosen else ""
        for index in range(MOST_PARTS_TYPED):
            self._add_part(index)
        self.fields[APART] = forms.ChoiceField(
            label=_("Keepers separate"),
            required=False,
            choices=[
                ("", _("not tonight")),
                *((str(at), _("in part {number}").format(number=at + 1)) for at in range(MOST_PARTS_TYPED)),
            ],
            initial=next((str(at) for at, part in enumerate(wish.parts) if part.keepers_apart), ""),
            help_text=_(
                "In one practice part they have a drill, a strip of the space and an adult of their own."
            ),
        )
        for kind, count in sorted((wish.kit or {}).items()):
            self.fields[f"kit-{kind}"] = whole(kit_word(kind, 2), required=False, initial=count, min_value=0)

    def _add_part(self, index: int) -> None:
        wished = self.wish.parts[index] if index < len(self.wish.parts) else None
        self.fields[f"part{index}"] = forms.ChoiceField(
            label=_("Part {number}").format(number=index + 1),
            choices=[("", _("none")), *PartKind.choices],
            required=False,
            initial=wished.kind if wished else "",
        )
        there = self._there(index)
        if there is not None:
            self.fields[f"keep{index}"] = forms.BooleanField(
                label=_("keep “{title}”").format(title=there[1]),
                required=False,
                initial=bool(wished and wished.kept),
            )

    def _there(self, index: int) -> tuple[str, str] | None:
        return self.there[index] if index < len(self.there) else None

    # --- for the template -----------------------------------------------------------------------------------------

    @property
    def tonight(self) -> list[Any]:
        """The fields that say what tonight is, and who is there."""
        return [self[name] for name in ("theme", "minutes", "players", "keepers", "adults")]

    @property
    def ground(self) -> list[Any]:
        return [self["length"], self["width"]]

    @property
    def limits(self) -> list[Any]:
        return [self[name] for name in ("load", "hardest", "headers", "set_up") if name in self.fields]

    @property
    def part_fields(self) -> list[tuple[Any, Any]]:
        """Each part with the tick that keeps it, where there is something to keep."""
        return [
            (self[f"part{index}"], self[f"keep{index}"] if f"keep{index}" in self.fields else None)
            for index in range(MOST_PARTS_TYPED)
        ]

    @property
    def replaced(self) -> list[str]:
        """What the session's parts are called that a suggestion would replace unless they are ticked."""
        return [each[1] for each in self.there[:MOST_PARTS_TYPED] if each is not None]

    @property
    def kit_fields(self) -> list[Any]:
        return [self[name] for name in self.fields if name.startswith("kit-")]

    # --- what was typed -------------------------------------------------------------------------------------------

    @property
    def typed(self) -> Wish:
        """The wish; call after is_valid."""
        data = self.cleaned_data
        theme = data["theme"]
        kit = {
            name.removeprefix("kit-"): count
            for name, count in data.items()
            if name.startswith("kit-") and count is not None
        }
        return msgspec.structs.replace(
            self.wish,
            minutes=data["minutes"],
            players=data["players"],
            keepers=data["keepers"],
            adults=data["adults"],
            length=data["length"],
            width=data["width"],
            themes=(theme.key,) if theme else (),
            load_au=data.get("load"),
            hardest=data["hardest"],
            headers=data["headers"],
            set_up_minutes=data["set_up"],
            kit=kit or None,
            parts=tuple(self._parts()),
            banned=tuple(_ids(data["banned"].split())),
        )

    def _parts(self) -> Iterable[WishedPart]:
        for index in range(MOST_PARTS_TYPED):
            kind = self.cleaned_data[f"part{index}"]
            if kind:
                there = self._there(index) if self.cleaned_data.get(f"keep{index}") else None
                yield WishedPart(
                    kind=kind,
                    kept=KeptPart(part=there[0]) if there else None,
                    keepers_apart=self.cleaned_data[APART] == str(index),
                )

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        at = cleaned.get(APART)
        if at and not cleaned.get(f"part{at}"):
            self.add_error(APART, _("There is no such part tonight."))
        return cleaned

    def refuse(self, refused: Refused) -> None:
        """Put the problems beside the fields."""
        add_problems(self, refused, _FIELD_OF)


def _initial(wish: Wish) -> dict[str, Any]:
    lengths = {"length": wish.length, "width": wish.width, "load": wish.load_au, "hardest": wish.hardest}
    return {
        "minutes": wish.minutes,
        "players": wish.players,
        "keepers": wish.keepers,
        "adults": wish.adults,
        "headers": wish.headers,
        "set_up": wish.set_up_minutes,
        "banned": " ".join(wish.banned),
        **{name: None if value is None else f"{value:g}" for name, value in lengths.items()},
    }


def _ids(typed: Iterable[str]) -> list[str]:
    """The drills that are named; what is no id is left out."""
    return [str(found) for each in typed if (found := reading.outer_id(each)) is not None]


def asked_again(wish: Wish, result: Mapping[str, Any], data: Any) -> Wish:
    """The same wish once more: ticked parts of the proposal stay, refused ones never come back.

    `keep` names numbers of parts, `refuse` drills. Parts of the session that stay do so anyway.
    """
    best = result.get("session") or {"parts": []}
    by_number = {part["number"]: part for part in best["parts"]}
    keep, refused = set(reading.texts(data.getlist("keep"))), _ids(data.getlist("refuse"))
    parts = []
    for index, part in enumerate(wish.parts):
        number = str(index + 1)
        if part.kept is None and number in by_number:
            stays = by_number[number] if number in keep else None
            part = msgspec.structs.replace(
                part, drill=stays["drill"] if stays else None, rung=stays["rung"] if stays else None
            )
        elif part.kept is None and number not in keep:
            part = msgspec.structs.replace(part, drill=None, rung=None)
        parts.append(part)
    banned = tuple(dict.fromkeys((*wish.banned, *refused)))
    return msgspec.structs.replace(wish, parts=tuple(parts), banned=banned)


class WeightsForm(forms.Form):
    """One choice of words for each wish."""

    version = version_field()

    def __init__(self, data: Any = None) -> None:
        row = proposal_weights()
        super().__init__(data, initial={**row.words, "version": row.version})
        for (label, meant, _counts), name in zip(row.said, row.words, strict=True):
            self.fields[name] = forms.ChoiceField(label=label, choices=HowMuch.choices, help_text=meant)
