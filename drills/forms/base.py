"""What the forms of a drill share: quiet forms that only grow, rows that overlay what they can't show."""

from dataclasses import dataclass, field
from functools import cache
from typing import Any, ClassVar

from django import forms
from django.forms.utils import ErrorDict, flatatt
from django.utils.html import escape, format_html
from django.utils.safestring import SafeString, mark_safe
from django.utils.text import slugify
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from club.forms.typed import NumberField, WholeField
from club.limits import TITLE

Plain = dict[str, Any]
MOST_ROWS = 60
# Field → the field that decides, and its values for which this one is asked.
Blanks = dict[str, tuple[str, set[Any]]]
WRONG = {"invalid": _("This is not a number."), "required": _("Please fill this in.")}


class QuietForm(forms.Form):
    """A form that says nothing of errors while its page only grows by a row."""

    quiet = False

    @property
    def errors(self) -> ErrorDict:
        return ErrorDict() if self.quiet else super().errors


def number(
    label: Any, least: float, most: float, *, whole: bool = True, help_text: Any = "", **more: Any
) -> Any:
    """A number field with limits, in words; optional unless said."""
    kind: Any = WholeField if whole else NumberField
    more.setdefault("required", False)
    messages = {
        **WRONG,
        "min_value": _("At least %(limit_value)s."),
        "max_value": _("At most %(limit_value)s."),
    }
    return kind(
        label=label,
        min_value=least,
        max_value=most,
        help_text=help_text,
        error_messages=messages,
        widget=FastInput(attrs={"inputmode": "numeric" if whole else "decimal", "size": 5}),
        **more,
    )


def text(label: Any, longest: int = 120, *, long: bool = False, **more: Any) -> forms.CharField:
    """A line of text, or a few; optional unless said."""
    more.setdefault("required", False)
    widget = Lines(attrs={"rows": 3}) if long else FastInput()
    messages = {**WRONG, "max_length": _("At most %(limit_value)d characters; these are %(show_value)d.")}
    return forms.CharField(label=label, max_length=longest, widget=widget, error_messages=messages, **more)


def as_typed(value: Any) -> Any:
    """A value as somebody would type it: a length of 40 m is kept as 40.0, which nobody types."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


class FastInput(forms.TextInput):
    """An input written in one go: this form has hundreds of fields, and a template for each took half a second."""

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        shown = self.format_value(as_typed(value))
        given = {**self.build_attrs(self.attrs, attrs), "type": self.input_type, "name": name}
        return format_html("<input{}>", flatatt(given if shown in (None, "") else {**given, "value": shown}))


class Hidden(FastInput):
    input_type = "hidden"


class Lines(forms.Textarea):
    """A text area written in one go."""

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        given = flatatt({**self.build_attrs(self.attrs, attrs), "name": name})
        # A line break right after the tag is dropped by browsers, so one is always given.
        return format_html("<textarea{}>\n{}</textarea>", given, self.format_value(value) or "")


class Fixed:
    """The choices that a select always has: their options are written once per language, shared by all its copies."""

    def __init__(self, choices: list[tuple[str, Any]]) -> None:
        self.choices = choices
        self._written: dict[str | None, tuple[str, dict[str, str]]] = {}

    def options(self, chosen: set[str]) -> str:
        """All options, the chosen ones marked."""
        language = get_language()
        if language not in self._written:
            each = {str(key): _option(key, label) for key, label in self.choices}
            self._written[language] = "".join(each.values()), each
        every, each = self._written[language]
        for key in chosen & each.keys():
            every = every.replace(each[key], _marked(each[key]), 1)
        return every


class Select(forms.Select):
    """A select written in one go: the fixed choices first, then those that only this drill has."""

    fixed: Fixed | None = None

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        chosen = set(self.format_value(value) or [""])
        fixed = self.fixed.options(chosen) if self.fixed else ""
        own = list(self.choices)[len(self.fixed.choices) if self.fixed else 0 :]
        more = "".join(
            _marked(_option(key, label)) if str(key) in chosen else _option(key, label) for key, label in own
        )
        given = flatatt({**self.build_attrs(self.attrs, attrs), "name": name})
        return mark_safe(f"<select{given}>{fixed}{more}</select>")


def _option(key: Any, label: Any) -> str:
    return f'<option value="{escape(key)}">{escape(label)}</option>'


def _marked(option: str) -> str:
    return option.replace('">', '" selected>', 1)


def choice(label: Any, choices: Any, *, empty: Any = None, **more: Any) -> forms.ChoiceField:
    """A select; with `empty` the first entry stands for nothing chosen."""
    more.setdefault("required", False)
    offered = [("", empty), *choices] if empty is not None else list(choices)
    if empty is None:
        more.setdefault("initial", offered[0][0])  # so that an untouched row counts as empty
    messages = {**WRONG, "invalid_choice": _("Choose one of the list.")}
    widget = Select()
    widget.fixed = Fixed(offered)
    return forms.ChoiceField(label=label, choices=offered, widget=widget, error_messages=messages, **more)


@dataclass(frozen=True)
class Offered:
    """What a drill's own parts add to the selects: choices by kind (groups, zones, phases, conditions)."""

    groups: list[tuple[str, str]] = field(default_factory=list)
    bibs: list[tuple[str, str]] = field(default_factory=list)
    zones: list[tuple[str, str]] = field(default_factory=list)
    gates: list[tuple[str, str]] = field(default_factory=list)
    phases: list[tuple[str, str]] = field(default_factory=list)
    conditions: list[tuple[str, str]] = field(default_factory=list)
    limits: list[tuple[str, str]] = field(default_factory=list)
    kept_changes: dict[str, list[tuple[str, str]]] = field(default_factory=dict)


class RowForm(QuietForm):
    """One repeated row. `field` names the list in the document that it is an item of."""

    field = ""
    needed: tuple[str, ...] = ()  # what a row that was begun must have
    blanks: ClassVar[Blanks] = {}  # what is asked for some kinds only
    ordered: ClassVar[bool] = False  # whether their order says something: each row has buttons to move it
    key = forms.CharField(required=False, max_length=TITLE, widget=Hidden)

    def __init__(self, *args: Any, offered: Offered | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.offer(offered or Offered())

    def offer(self, offered: Offered) -> None:
        """Add the drill's own groups, zones and so on to the selects. Nothing by default."""

    @property
    def shown_names(self) -> list[str]:
        """The fields of the row itself, in order."""
        return [name for name in self.base_fields if name not in ("key", "DELETE") and name in self.fields]

    @property
    def slots(self) -> list[list[str]]:
        """Fields that belong together in a line of their own below the others."""
        return []

    def asked_for(self, name: str) -> tuple[str, set[Any]]:
        """The field that decides whether this one is shown, and its values for which it is; "" where none does."""
        return self.blanks.get(name, ("", set()))

    def name_of(self, path: str) -> str:
        """The field that shows what stands at a path in the item, such as `number`."""
        return path.partition(".")[0]

    def add_choices(self, name: str, more: list[tuple[str, str]]) -> None:
        """Choices that are not there yet go to the end; those that are, such as the sides, get the drill's own names."""
        select: Any = self.fields[name]
        named, known = dict(more), dict(select.choices)
        if known.keys() & named.keys():
            select.widget.fixed = None
        select.choices = [
            *((value, named.get(value, label)) for value, label in known.items()),
            *(each for each in more if each[0] not in known),
        ]

    def clean(self) -> Plain:
        data = super().clean() or {}
        if self.has_changed():
            for name in self.needed:
                if data.get(name) in (None, "") and name not in self._errors:
                    self.add_error(name, WRONG["required"])
        return data

    def has_changed(self) -> bool:
        """A row counts as begun when something besides its hidden key and its preset selects was typed."""
        return any(name not in ("key", "DELETE") for name in self.changed_data)

    @classmethod
    def read(cls, item: Plain) -> Plain:
        """What the row shows of an item of the document."""
        return {name: item[name] for name in cls.base_fields if name in item}

    def fill(self, item: Plain) -> Plain:
        """The item with what was typed; what the row can't show stays as it was."""
        typed = {name: self.cleaned_data.get(name) for name in self.base_fields}
        made = {**item, **{name: value for name, value in typed.items() if value not in (None, "")}}
        for name, value in typed.items():
            if value in (None, "") and name in made:
                del made[name]
        return made

    def fill_all(self, item: Plain) -> list[Plain]:
        """The items that the row stands for: one, unless it says otherwise."""
        return [self.fill(item)]


@cache
def row_set(row: type[RowForm], spare: int) -> Any:
    """The formset of a kind of rows with so many spare ones."""
    return forms.formset_factory(row, extra=spare, can_delete=True, max_num=MOST_ROWS, absolute_max=MOST_ROWS)


def new_key(words: str, taken: set[str], fallback: str) -> str:
    """A short key for a new item: from its words, not taken yet."""
    stem = slugify(words)[:30].strip("-_") or fallback
    key, count = stem, 2
    while key in taken:
        key, count = f"{stem}-{count}", count + 1
    taken.add(key)
    return key
