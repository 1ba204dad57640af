"""Conditions as sentences to complete: a limit, when → then, and what only the coach's own words say.

The kind comes first; each kind has its own blanks. What was typed into a blank that the kind does not have is dropped
when the kind changes, so that a hidden number never stays in a rule.
"""

import re
from copy import deepcopy
from typing import Any, ClassVar

from django.utils.translation import gettext_lazy as _

from drills.forms.base import KEPT, Blanks, Offered, Plain, RowForm, choice, number, text
from drills.forms.kinds import (
    LIMIT_BLANKS,
    LIMITS,
    THEN_BLANKS,
    THENS,
    WHEN_BLANKS,
    WHENS,
    WHICH_GATE,
    WHICH_GOALS,
    WHICH_PHASE,
    WHICH_ZONE,
    WHO,
)

THEN_SLOTS = 3


# The place in a limit's scope → its field.
_SCOPE_FIELDS = {"group": "group", "zone": "in_zone", "phase": "in_phase"}


class LimitRow(RowForm):
    field = "limits"
    needed = ("kind",)
    blanks: ClassVar[Blanks] = {name: ("kind", kinds) for name, kinds in LIMIT_BLANKS.items()}
    kind = choice(_("What"), LIMITS, empty=_("no limit"))
    group = choice(_("for whom"), WHO, empty=_("everyone"))
    number = number(_("How many"), 0, 200, whole=False)
    word = text(_("Which way, how high"))
    zone = choice(_("Which zone"), WHICH_ZONE, empty=_("none"))
    in_zone = choice(_("holds in"), WHICH_ZONE, empty=_("the whole grid"))
    in_phase = choice(_("and while"), WHICH_PHASE, empty=_("any phase is played"))

    def offer(self, offered: Offered) -> None:
        self.add_choices("group", offered.groups)
        self.add_choices("zone", offered.zones)
        self.add_choices("in_zone", offered.zones)
        self.add_choices("in_phase", offered.phases)

    def name_of(self, path: str) -> str:
        return _SCOPE_FIELDS.get(path.removeprefix("scope."), "") if path.startswith("scope.") else path

    @classmethod
    def read(cls, item: Plain) -> Plain:
        scope = item.get("scope", {})
        return {**super().read(item), **{name: scope.get(path, "") for path, name in _SCOPE_FIELDS.items()}}

    def fill(self, item: Plain) -> Plain:
        made = super().fill({**item, "type": "limit"})
        if made["kind"] != item.get("kind"):
            made = {name: each for name, each in made.items() if _asked(made["kind"], name, LIMIT_BLANKS)}
        typed = {path: made.pop(name, None) for path, name in _SCOPE_FIELDS.items()}
        return {**made, "scope": _with(item.get("scope", {}), **typed)}


# The field of a consequence → its place in the document.
_THEN = {
    "then": "kind",
    "then_number": "number",
    "then_group": "group",
    "goals": "goals",
    "phase": "phase",
    "then_zone": "zone",
    "then_limit": "limit",
    "then_source": "source",
}


_FIELDS: dict[str, Any] = {
    "then": choice(_("Then"), THENS, empty=_("choose")),
    "then_number": number(_("How many"), 0, 200, whole=False),
    "then_group": choice(_("who"), WHO, empty=_("nobody named")),
    "goals": choice(_("Which goals"), WHICH_GOALS, empty=_("all goals")),
    "phase": choice(_("Which phase"), WHICH_PHASE, empty=_("none")),
    "then_zone": choice(_("Which zone"), WHICH_ZONE, empty=_("none")),
    "then_limit": choice(_("Which limit"), [], empty=_("none")),
    "then_source": text(_("from where"), 120),
}


def _slot(name: str, slot: int) -> str:
    return f"{name}_{slot}" if slot else name


class WhenRow(RowForm):
    """When, and up to three consequences; further ones stay as they were."""

    field = "whens"
    needed = ("when", "then")
    blanks: ClassVar[Blanks] = {
        **{name: ("when", kinds) for name, kinds in WHEN_BLANKS.items()},
        **{
            _slot(name, slot): (_slot("then", slot), kinds)
            for slot in range(THEN_SLOTS)
            for name, kinds in THEN_BLANKS.items()
        },
    }
    when = choice(_("When"), WHENS, empty=_("no condition"))
    when_number = number(_("How many"), 1, 200)
    when_group = choice(_("by"), WHO, empty=_("anyone"))
    when_place = choice(_("where"), [*WHICH_ZONE, *WHICH_GATE], empty=_("any"))

    def offer(self, offered: Offered) -> None:
        self.add_choices("when_group", offered.groups)
        self.add_choices("when_place", [*offered.zones, *offered.gates])
        for slot in range(THEN_SLOTS):
            for name, each in _FIELDS.items():
                self.fields[_slot(name, slot)] = deepcopy(each)
            self.add_choices(_slot("then_group", slot), offered.groups)
            self.add_choices(_slot("phase", slot), offered.phases)
            self.add_choices(_slot("goals", slot), [(KEPT, str(_("as they are now")))])
            self.add_choices(_slot("then_zone", slot), offered.zones)
            self.add_choices(_slot("then_limit", slot), offered.limits)
        for slot in range(1, THEN_SLOTS):
            self.fields[_slot("then", slot)].label = _("and then")

    def name_of(self, path: str) -> str:
        then = re.fullmatch(r"then\[([0-9])\]\.(\w{1,40})", path)
        if then is None:
            return path.replace(".", "_")
        names = {place: name for name, place in _THEN.items()}
        return _slot(names.get(then[2], ""), int(then[1]))

    @property
    def shown_names(self) -> list[str]:
        return [name for name in self.base_fields if name.startswith("when")]

    @property
    def slots(self) -> list[list[str]]:
        return [[_slot(name, slot) for name in _THEN] for slot in range(THEN_SLOTS)]

    @classmethod
    def read(cls, item: Plain) -> Plain:
        when = item["when"]
        shown = {
            "key": item["key"],
            "when": when["kind"],
            "when_number": when.get("number"),
            "when_group": when.get("group", ""),
            "when_place": when.get("place", ""),
        }
        for slot, then in enumerate(item["then"][:THEN_SLOTS]):
            shown |= {
                _slot(name, slot): then.get(path, "") for name, path in _THEN.items() if path != "goals"
            }
            shown[_slot("goals", slot)] = KEPT if then.get("goals") else ""
        return shown

    def fill(self, item: Plain) -> Plain:
        typed = {name: typed for name, typed in self.cleaned_data.items() if name.startswith("when")}
        before = item.get("when", {})
        if before.get("kind") != typed["when"]:
            typed = {
                name: each if _asked(typed["when"], name, WHEN_BLANKS) else None
                for name, each in typed.items()
            }
        when = _with(
            before,
            kind=typed["when"],
            number=typed["when_number"],
            group=typed["when_group"],
            place=typed["when_place"],
        )
        thens = list(item.get("then", []))
        made = [
            self._consequence(slot, thens[slot] if slot < len(thens) else {})
            for slot in range(THEN_SLOTS)
            if self.cleaned_data.get(_slot("then", slot))
        ]
        return {**item, "type": "when", "when": when, "then": [*made, *thens[THEN_SLOTS:]]}

    def _consequence(self, slot: int, before: Plain) -> Plain:
        typed: Plain = {name: self.cleaned_data.get(_slot(name, slot)) for name in _THEN}
        if before.get("kind") != typed["then"]:
            typed = {
                name: each if _asked(typed["then"], name, THEN_BLANKS) else None
                for name, each in typed.items()
            }
        goals = typed.pop("goals")
        made = _with(before, **{_THEN[name]: each for name, each in typed.items()})
        if goals == KEPT:
            return made
        # An edge stands for its goals until the rows of goals are known.
        return _with(made, goals=[f"@{goals}"] if goals else None)


class OwnWordsRow(RowForm):
    field = "free"
    needed = ("text",)
    text = text(_("A rule in your own words"), 300)

    def fill(self, item: Plain) -> Plain:
        return {**super().fill(item), "type": "free"}


def _asked(kind: Any, name: str, blanks: dict[str, set[Any]]) -> bool:
    return name not in blanks or kind in blanks[name]


def _with(item: Plain, **typed: Any) -> Plain:
    """The item with what was typed; what was emptied is gone."""
    made = {**item, **{name: value for name, value in typed.items() if value not in (None, "")}}
    return {name: value for name, value in made.items() if typed.get(name, "?") not in (None, "")}


def resolve(conditions: list[Plain], made: Plain) -> list[Plain]:
    """Edges turned into the keys of their goals, "#2" into the key of the second zone, gate or phase."""
    return [_resolved(each, made) for each in conditions]


def _resolved(condition: Plain, made: Plain) -> Plain:
    if condition.get("type") == "limit":
        scope = _placed(_placed(condition.get("scope", {}), made, "zone"), made, "phase")
        return {**_placed(condition, made, "zone"), "scope": scope}
    if condition.get("type") != "when":
        return condition
    thens = []
    for each in condition["then"]:
        then = _placed(_placed(dict(each), made, "zone"), made, "phase")
        named = then.get("goals") or []
        if named and named[0].startswith("@"):
            goals = made.get("goals", [])
            then["goals"] = [goal["key"] for goal in goals if goal.get("edge") == named[0][1:]]
        thens.append(then)
    return {**condition, "when": _placed(condition["when"], made, "place"), "then": thens}


_LISTS = {"zone": "zones", "place": "zones", "phase": "phases"}


def _placed(item: Plain, made: Plain, field: str) -> Plain:
    """`#2` becomes the key of the second one; a number that is not there stays, and is refused as unknown."""
    kind, mark, place = str(item.get(field) or "").partition("#")
    if not mark:
        return item
    there = made.get("gates" if kind == "gate" else _LISTS[field], [])
    number = int(place) - 1
    return {**item, field: there[number]["key"] if number < len(there) else place}
