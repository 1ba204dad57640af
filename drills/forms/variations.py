"""Variations: a title, a rung, why, and up to a few changes in a coach's words."""

import re
from copy import deepcopy
from typing import Any

import msgspec
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from club import reading
from drills.forms.base import Offered, Plain, RowForm, choice, number, text
from drills.forms.kinds import WHO
from drills.forms.rows import SIDES
from drills.game.document import DocumentError, decode
from drills.game.document.choices import LimitKind
from drills.game.follow import groups_follow
from drills.game.format import Format, UnclearFormat
from drills.game.groups import FormatSlot
from drills.game.wording import SaidError
from drills.pages.words import RUNG_WORDS

SLOTS = 3
KEEP = "keep:"
DROP = "drop:"
KINDS = [
    ("grid", _("grid: length × width")),
    ("format", _("format")),
    ("passes", _("so many passes in a row")),
    ("touches", _("at most so many touches")),
    ("seconds on the ball", _("seconds on the ball")),
    ("seconds to finish", _("seconds to finish")),
    ("weaker foot", _("weaker foot")),
    ("may not tackle", _("may not tackle")),
    ("may not score", _("may not score")),
    ("bouts", _("rounds: 4 × 180 s, 45 s rest")),
    ("own words", _("another rule, in your own words")),
]
_NUMBERED = {"touches", "seconds on the ball", "seconds to finish"}
_PLAIN = {"weaker foot", "may not tackle", "may not score"}
# What completes a change of each kind; a kept or dropped one is complete in itself.
_ASKED: dict[str, set[Any]] = {
    "who": {*_NUMBERED, *_PLAIN},
    "value": {*_NUMBERED, "grid", "format", "passes", "bouts", "own words"},
}
_SLOT = {
    "kind": choice(_("Change"), KINDS, empty=_("nothing")),
    "who": choice(_("for"), WHO, empty=_("everyone")),
    "value": text(_("to"), 160),
}


class VariationRow(RowForm):
    """`changes` are the slots `kind_0`, `who_0`, `value_0` and so on."""

    field = "variations"
    ordered = True  # the ladder is shown in this order
    needed = ("title", "rung")
    title = text(_("Title"))
    rung = choice(_("It is"), [(each.value, label) for each, label in RUNG_WORDS.items()], empty=_("choose"))
    effort = number(_("Effort, CR10"), 0, 10, whole=False)
    why = text(_("Why"))

    def __init__(self, *args: Any, offered: Offered | None = None, **kwargs: Any) -> None:
        self.count = SLOTS
        super().__init__(*args, offered=offered, **kwargs)

    def offer(self, offered: Offered) -> None:
        """Slots for changes; those that only this drill has (kept ones, conditions to take away) are choices too."""
        key = (self.data.get(self.add_prefix("key")) if self.is_bound else self.initial.get("key")) or ""
        kept = offered.kept_changes.get(key, [])
        self.count = max(SLOTS, len(kept) + 1)
        drops = [
            (f"{DROP}{name}", _now("no longer: {rule}").format(rule=rule))
            for name, rule in offered.conditions
        ]
        for slot in range(self.count):
            for name, field in _SLOT.items():
                self.fields[f"{name}_{slot}"] = deepcopy(field)
            self.add_choices(f"kind_{slot}", [*drops, *kept])
            self.add_choices(f"who_{slot}", offered.groups)

    def asked_for(self, name: str) -> tuple[str, set[Any]]:
        stem, _line, slot = name.rpartition("_")
        return (f"kind_{slot}", _ASKED[stem]) if stem in _ASKED else ("", set())

    @property
    def slots(self) -> list[list[str]]:
        return [[f"{name}_{slot}" for name in _SLOT] for slot in range(self.count)]

    @classmethod
    def read(cls, item: Plain) -> Plain:
        shown = super().read(item)
        for slot, change in enumerate(item.get("changes", [])):
            kind, value = _shown(change, slot)
            shown[f"kind_{slot}"], shown[f"value_{slot}"] = kind, value
        return shown

    def fill(self, item: Plain) -> Plain:
        typed = self.cleaned_data
        made = {**item, "title": typed["title"], "rung": typed["rung"]}
        for name in ("why", "effort"):
            made.pop(name, None)
            if typed.get(name) not in (None, ""):
                made[name] = typed[name]
        return made

    def changes_for(self, item: Plain, document: Plain) -> list[Plain]:
        """The operations typed, in order; what is wrong is said beside its slot."""
        before, made = item.get("changes", []), []
        for slot in range(self.count):
            kind = self.cleaned_data.get(f"kind_{slot}")
            if not kind:
                continue
            try:
                made.append(self._change(kind, slot, before, document))
            except ValueError as error:
                self.add_error(
                    f"value_{slot}", error.said(_now) if isinstance(error, SaidError) else str(error)
                )
        if not made and not self.errors:
            self.add_error("kind_0", _now("What does this variation change?"))
        return _with_groups(made, before, document)

    def _change(self, kind: str, slot: int, before: list[Plain], document: Plain) -> Plain:
        value = (self.cleaned_data.get(f"value_{slot}") or "").strip()
        who = self.cleaned_data.get(f"who_{slot}") or ""
        if kind.startswith(KEEP):
            return before[int(kind.removeprefix(KEEP))]
        if kind.startswith(DROP):
            return {"type": "remove_condition", "key": kind.removeprefix(DROP)}
        if kind in ("grid", "format", "bouts", "passes"):
            return {"grid": _grid, "format": _format, "bouts": _bouts, "passes": _passes}[kind](
                value, document
            )
        return _condition(kind, who, value, document)


def _shown(change: Plain, slot: int) -> tuple[str, str]:
    if change["type"] == "set_grid":
        return "grid", f"{change['length_m']:g} × {change['width_m']:g}"
    if change["type"] == "set_format":
        return "format", change["format"]
    return f"{KEEP}{slot}", ""


def _grid(value: str, document: Plain) -> Plain:
    length, mark, width = value.lower().replace("×", "x").replace("*", "x").partition("x")
    length_m, width_m = (reading.number(each.strip().removesuffix("m"), 0) for each in (length, width))
    if length_m is None or width_m is None or not mark:
        raise ValueError(_now("Write length × width in metres: 30 × 20."))
    return {"type": "set_grid", "length_m": length_m, "width_m": width_m}


def _format(value: str, document: Plain) -> Plain:
    if not value:
        raise ValueError(_now("Which format? As you would write it: 5v5+2."))
    return {"type": "set_format", "format": value}


def _with_groups(changes: list[Plain], before: list[Plain], document: Plain) -> list[Plain]:
    """With another format typed, the sizes of the groups that go with it: there is no other place to type them."""
    typed, old = (_format_of(each) for each in (changes, before))
    if not typed or typed == old:
        return changes
    try:
        base = decode({**document, "variations": []})
        made = groups_follow(base, Format.parse(typed), _group_name)
    except (DocumentError, UnclearFormat):
        return changes  # said when the whole is looked at
    sizes = [msgspec.to_builtins(each) for each in made]
    named = {each.key for each in base.groups} | {_group_of(each) for each in sizes}
    return [each for each in changes if _group_of(each) not in named] + sizes


def _group_name(slot: FormatSlot) -> str:
    """What a group is called that comes with another format."""
    if slot.where == "keeper":
        return _now("the keeper")
    return _now("the floaters") if slot.side == "neutral" else str(dict(SIDES)[slot.side])


def _format_of(changes: list[Plain]) -> str:
    return next((each["format"] for each in changes if each["type"] == "set_format"), "")


def _group_of(change: Plain) -> str:
    """The group that a change puts or takes away."""
    if change["type"] == "put_group":
        return str(change["group"]["key"])
    return str(change["key"]) if change["type"] == "remove_group" else ""


def _bouts(value: str, document: Plain) -> Plain:
    numbers = [reading.whole(each, 0, 9999) for each in re.findall(r"[0-9]++", value)]
    if not 2 <= len(numbers) <= 3 or None in numbers:
        raise ValueError(_now("Write rounds × seconds, then the rest: 4 × 180, 45."))
    bouts, bout_s = numbers[:2]
    rest_s = numbers[2] if len(numbers) == 3 else document.get("work", {}).get("rest_s", 45)
    return {
        "type": "set_work",
        "work": {**document.get("work", {}), "bouts": bouts, "bout_s": bout_s, "rest_s": rest_s},
    }


def _passes(value: str, document: Plain) -> Plain:
    count = _count(value)
    for condition in document.get("conditions", []):
        if condition.get("type") == "when" and condition["when"].get("kind") == "passes":
            when = {**condition["when"], "number": count}
            return {"type": "replace_condition", "condition": {**condition, "when": when}}
    raise ValueError(_now("No condition of the drill counts passes; write one first."))


def _condition(kind: str, who: str, value: str, document: Plain) -> Plain:
    if kind == "own words":
        if not value:
            raise ValueError(_now("Which rule?"))
        return {
            "type": "add_condition",
            "condition": {"type": "free", "key": _key(document, "rule"), "text": value},
        }
    limit: Plain = {"type": "limit", "kind": LimitKind(kind).value}
    if who:
        limit["scope"] = {"group": who}
    if kind in _NUMBERED:
        limit["number"] = _count(value)
    same = _same_limit(limit, document)
    if same is not None:
        return {"type": "replace_condition", "condition": {**same, **limit, "key": same["key"]}}
    key = _key(document, re.sub(r"[^a-z]++", "-", f"{kind}-{who.lower() or 'all'}").strip("-"))
    return {"type": "add_condition", "condition": {**limit, "key": key}}


def _same_limit(limit: Plain, document: Plain) -> Plain | None:
    """A limit of the drill of the same kind for the same people: it is replaced, not doubled."""
    group = limit.get("scope", {}).get("group")
    for each in document.get("conditions", []):
        same = each.get("type") == "limit" and each.get("kind") == limit["kind"]
        if same and each.get("scope", {}).get("group") == group:
            return dict(each)
    return None


def _key(document: Plain, stem: str) -> str:
    taken = {each.get("key") for each in document.get("conditions", [])}
    count, key = 2, stem
    while key in taken:
        key, count = f"{stem}-{count}", count + 1
    return key


def _count(value: str) -> int:
    found = reading.whole(value, 0, 999)
    if found is None:
        raise ValueError(_now("How many? A number, please."))
    return found
