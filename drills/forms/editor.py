"""All forms of a drill together: read from a document, laid over it again, errors back beside their fields."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

from django.utils.datastructures import MultiValueDict
from django.utils.translation import gettext as _
from msgspec import convert, to_builtins

from club import reading
from club.errors import FieldProblem
from drills.choices import bib_word, theme_word
from drills.forms import conditions, places, rows
from drills.forms.base import MOST_ROWS, Offered, Plain, RowForm, new_key, row_set
from drills.forms.main import MainForm, field_of
from drills.forms.order import list_of, moved
from drills.forms.variations import KEEP, VariationRow
from drills.game.document import SCHEMA_VERSION, DrillDocument, FreeText, Limit, WhenThen, decode
from drills.game.document.content import Numbers
from drills.game.format import UnclearFormat
from drills.game.made.quick import sides_of
from drills.game.sentences import Names, say, say_change
from drills.game.variations import apply
from drills.game.wording import sentence

ROWS: dict[str, type[RowForm]] = {
    each.field: each
    for each in (
        rows.GridRowForm,
        rows.GroupRowForm,
        places.ZoneRow,
        places.GateRow,
        rows.GoalRow,
        rows.RestartRow,
        rows.ScoringRow,
        rows.PhaseRow,
        rows.PointRow,
        rows.FaultRow,
        rows.QuestionRow,
        rows.KitRow,
        rows.ChallengeRow,
        conditions.LimitRow,
        conditions.WhenRow,
        conditions.OwnWordsRow,
        VariationRow,
    )
}
KEYED = (
    "grids",
    "groups",
    "zones",
    "gates",
    "goals",
    "phases",
    "questions",
    "variations",
    "limits",
    "whens",
    "free",
)
SPARE = {"groups": 2}  # the commonest drill: one grid, two sides
CONDITIONS = ("limits", "whens", "free")
_SIDE_KEYS = {"A": "A", "B": "B", "C": "C", "D": "D", "whoever has the ball": "N"}


class DrillEditor:
    """The forms over a base document (empty for a new drill). After `is_valid()` there is `document`, plain data."""

    def __init__(
        self,
        base: Plain | None = None,
        data: Mapping[str, Any] | None = None,
        *,
        themes: list[tuple[str, str]],
        grow: str = "",
        move: str = "",
        only_drawn: bool = False,
    ) -> None:
        self.base = base or {}
        self.document: Plain = {}
        # Only rows were added or moved, or the plan was asked for: nothing is said of errors.
        self.grown = "drawn" if only_drawn else grow or list_of(move)
        own = [(key, theme_word(key)) for key in self.base.get("themes", ())]
        self.offered = _offered(self.base)
        known = {key for key, _title in themes}
        themes = [*themes, *(each for each in own if each[0] not in known)]
        if data is not None:
            data = moved(_grown(data, grow) if grow else data, move)
        self.main = MainForm(data, initial=MainForm.read(self.base), themes=themes)
        self.sets = {name: self._set(name, data) for name in ROWS}
        self._owners: dict[str, list[RowForm]] = {}
        if self.grown:
            self._hush()

    def _set(self, name: str, data: Mapping[str, Any] | None) -> Any:
        row = ROWS[name]
        there = [row.read(item) for item in items_of(self.base, name)]
        spare = SPARE.get(name, 1) if not self.base else 1
        made = row_set(row, spare)
        # What was typed is compared with empty rows, never with what was there: an untouched old row counts.
        initial = there if data is None else None
        return made(data, initial=initial, prefix=name, form_kwargs={"offered": self.offered})

    def _hush(self) -> None:
        self.main.quiet = True
        for formset in self.sets.values():
            for row in formset.forms:
                row.quiet = True

    def is_valid(self) -> bool:
        """Whether every form is filled in rightly. What only the whole shows is added with `add_problems`."""
        valid = all([self.main.is_valid(), *(each.is_valid() for each in self.sets.values())])
        if valid:
            self.document = self._compile()
            valid = all(not row.errors for row in self.sets["variations"].forms)
        if valid and not self.document.get("grids"):
            self.sets["grids"].forms[0].add_error("length_m", _("How large is the grid?"))
            valid = False
        return valid

    def _compile(self) -> Plain:
        made = self.main.fill(self.base)
        made.setdefault("schema_version", SCHEMA_VERSION)
        for name in ROWS:
            if name not in (*CONDITIONS, "variations"):
                self._place(made, name, self._items(name))
        for name in ("zones", "gates"):
            if made.get("grids"):
                self._place(made, name, places.to_shares(made.get(name, []), made["grids"][0]))
        self._from_format(made)
        said = [item for name in CONDITIONS for item in self._items(name)]
        said = conditions.resolve(said, made)
        self._place(made, "conditions", self._in_old_order(said))
        self._compile_variations(made)
        return made

    def _from_format(self, made: Plain) -> None:
        """Who plays, where a new drill says no more of it than its format; one that can't be read is told by the checks."""
        if self.base or made.get("groups") or not made.get("grids"):
            return
        counted = convert(made.get("numbers", {}), Numbers)
        try:
            groups, goals = sides_of(made["format"], counted, made["grids"][0]["width_m"])
        except UnclearFormat:
            return
        self._place(made, "groups", to_builtins(groups))
        if not made.get("goals"):
            self._place(made, "goals", to_builtins(goals))

    def _place(self, made: Plain, name: str, items: list[Plain]) -> None:
        made.pop(name, None)
        if items:
            made[name] = items

    def _compile_variations(self, made: Plain) -> None:
        before = {item["key"]: item for item in items_of(self.base, "variations")}
        items = self._items("variations")
        for item, row in zip(items, self._owners["variations"], strict=True):
            assert isinstance(row, VariationRow)
            item["changes"] = row.changes_for(before.get(item["key"], {}), made)
        self._place(made, "variations", items)

    def _items(self, name: str) -> list[Plain]:
        """The rows that are begun and not taken away, each laid over the item it was read from."""
        old = items_of(self.base, name)
        by_key = {item["key"]: item for item in old if "key" in item}
        taken, made, owners = set(by_key), [], []
        for place, row in enumerate(self.sets[name].forms):
            if row.cleaned_data.get("DELETE") or not row.has_changed():
                continue
            key = row.cleaned_data.get("key") or ""
            before = by_key.get(key, {}) if name in KEYED else old[place] if place < len(old) else {}
            for filled in row.fill_all(before):
                item = {each: value for each, value in filled.items() if each != "DELETE"}
                if name in KEYED:
                    item["key"] = item["key"] if item.get("key") in by_key else _named(name, item, taken)
                else:
                    item.pop("key", None)
                made.append(item)
                owners.append(row)
        self._owners[name] = owners
        return made

    def _in_old_order(self, said: list[Plain]) -> list[Plain]:
        order = {item["key"]: place for place, item in enumerate(self.base.get("conditions", []))}
        made = sorted(said, key=lambda item: order.get(item["key"], len(order)))
        rows_by_item = {
            id(item): row
            for name in CONDITIONS
            for item, row in zip(self._items_again(name, said), self._owners[name], strict=True)
        }
        self._owners["conditions"] = [rows_by_item[id(item)] for item in made]
        return made

    def _items_again(self, name: str, said: list[Plain]) -> list[Plain]:
        kinds = {"limits": "limit", "whens": "when", "free": "free"}
        return [item for item in said if item["type"] == kinds[name]]

    def add_problems(self, problems: Iterable[FieldProblem]) -> None:
        """Put each problem beside the field that it is about."""
        for problem in problems:
            head = re.match(r"(\w++)\[(\d++)\]\.?(.*+)", problem.field)
            owners = self._owners.get(head[1], []) if head else []
            if head and int(head[2]) < len(owners):
                row = owners[int(head[2])]
                name = row.name_of(head[3])
                row.add_error(name if name in row.fields else None, problem.text)
            elif problem.field in self.sets:
                self.sets[problem.field].non_form_errors().append(problem.text)
            elif field_of(problem.field):
                self.main.add_error(field_of(problem.field), problem.text)
            else:
                self.main.add_error(None, problem.text)

    @property
    def wrong(self) -> bool:
        """Whether anything needs another look."""
        if self.grown or not self.main.is_bound:
            return False
        rows = any(row.errors for each in self.sets.values() for row in each.forms)
        return bool(self.main.errors) or rows or bool(self.loose)

    @property
    def wrong_rows(self) -> list[tuple[str, int, RowForm]]:
        """The rows that need another look: the list that each is in, and its place there from 1."""
        numbered = ((name, place, row) for name in ROWS for place, row in enumerate(self.sets[name].forms, 1))
        return [each for each in numbered if each[2].errors]

    @property
    def loose(self) -> list[str]:
        """What is wrong with a repeated part as a whole: too many rows, say."""
        return [text for name in self.sets for text in self.wrong_of(name)]

    def wrong_of(self, name: str) -> list[str]:
        """What is wrong with one repeated part as a whole."""
        formset = self.sets[name]
        return [] if self.grown or not formset.is_bound else list(formset.non_form_errors())

    def wrong_in(self, *names: str) -> bool:
        """Whether one of these repeated parts or fields needs another look: its fold is opened."""
        return self.main.is_bound and any(
            any(row.errors for row in self.sets[name].forms) or bool(self.wrong_of(name))
            if name in self.sets
            else name in self.main.errors
            for name in names
        )


def items_of(document: Plain, name: str) -> list[Plain]:
    """The items of a list of the document; conditions are told apart by their shape."""
    kinds = {"limits": "limit", "whens": "when", "free": "free"}
    if name in kinds:
        return [each for each in document.get("conditions", []) if each["type"] == kinds[name]]
    return list(document.get(name, []))


def _named(name: str, item: Plain, taken: set[str]) -> str:
    """A new item's key: sides have letters, the rest are named by their words."""
    side = _SIDE_KEYS.get(item.get("plays_for", ""))
    if name == "groups" and side and side not in taken:
        taken.add(side)
        return side
    if name == "goals":
        return new_key(f"{item['edge']}-goal", taken, "goal")
    if name == "gates":
        return new_key("gate", taken, "gate")
    if name == "grids":
        return new_key(f"{item['length_m']:g}x{item['width_m']:g}", taken, "grid")
    words = item.get("name") or item.get("title") or item.get("role") or item.get("kind") or ""
    return new_key(str(words), taken, name.rstrip("s"))


def _grown(data: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    """The typed data with one more row of a kind."""
    total = f"{name}-TOTAL_FORMS"
    copied = data.copy() if isinstance(data, MultiValueDict) else dict(data)  # type: ignore[attr-defined]
    there = reading.whole(copied.get(total))
    if name in ROWS and there is not None:
        copied[total] = str(min(there + 1, MOST_ROWS))
    return copied


def _offered(base: Plain) -> Offered:
    """What the drill's own parts add to the selects."""
    if not base:
        return Offered()
    document: DrillDocument = decode(base)
    names = Names.of(document, _)
    whens = [each for each in document.conditions if isinstance(each, WhenThen)]
    lifted = {then.limit for each in whens for then in each.then}
    return Offered(
        groups=[(each.key, each.name) for each in document.groups],
        bibs=[(each.bib, bib_word(each.bib)) for each in document.groups if each.bib],
        zones=[(each.key, each.name) for each in document.zones],
        gates=[(each.key, places.gate_name(each.key)) for each in document.gates],
        phases=[(each.key, each.name) for each in document.phases],
        limits=[
            (each.key, sentence(say(each, names)))
            for each in document.conditions
            if isinstance(each, Limit) or each.key in lifted
        ],
        conditions=[
            (each.key, sentence(say(each, names)))
            for each in document.conditions
            if not isinstance(each, FreeText) or isinstance(each, Limit) or each.text
        ],
        kept_changes={
            variation.key: [
                (f"{KEEP}{slot}", say_change(change, document, apply(document, variation), names))
                for slot, change in enumerate(variation.changes)
            ]
            for variation in document.variations
        },
    )
