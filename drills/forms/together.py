"""Two people changed one drill: what only the other one changed is put into what the first one typed."""

from collections.abc import Iterator, Mapping
from typing import Any

from django.utils.datastructures import MultiValueDict

from drills.forms.base import Plain, as_typed
from drills.forms.editor import ROWS, DrillEditor

Sent = dict[str, list[str]]
_COUNTS = ("TOTAL_FORMS", "INITIAL_FORMS", "MIN_NUM_FORMS", "MAX_NUM_FORMS")


def together(
    typed: MultiValueDict[str, Any], base: Plain, theirs: Plain, *, themes: list[tuple[str, str]]
) -> MultiValueDict[str, Any]:
    """What was typed over `base`, but with the fields and lists of `theirs` that the writer had left alone.

    A list counts as a whole: where both changed one, it stays as it was typed.
    """
    before, now = (_sent(DrillEditor(each, themes=themes)) for each in (base, theirs))
    mine = {name: [_plain(each) for each in typed.getlist(name)] for name in typed}
    made = typed.copy()
    for part in {_part(name) for name in (*before, *now)}:
        was, is_now, said = (_of(part, each) for each in (before, now, mine))
        if _told(said) != _told(was) or _told(is_now) == _told(was):
            continue
        for name in _of(part, mine):
            del made[name]
        for name, values in is_now.items():
            made.setlist(name, values)
    return made


def _part(name: str) -> str:
    """The list that a field belongs to, else the field itself."""
    head = name.partition("-")[0]
    return head if head in ROWS else name


def _of(part: str, sent: Mapping[str, list[str]]) -> Sent:
    return {name: values for name, values in sent.items() if _part(name) == part}


def _told(sent: Sent) -> Sent:
    """What says something: no counts of rows, nothing empty."""
    return {name: values for name, values in sent.items() if any(values) and not name.endswith(_COUNTS)}


def _sent(editor: DrillEditor) -> Sent:
    """What a browser sends for the forms when nothing is touched."""
    return {name: values for name, values in _values(editor) if values}


def _values(editor: DrillEditor) -> Iterator[tuple[str, list[str]]]:
    forms = [
        editor.main,
        *(form for each in editor.sets.values() for form in (each.management_form, *each.forms)),
    ]
    for form in forms:
        for field in form:
            value = field.value()
            several = value if isinstance(value, list | tuple) else [value]
            said = [
                "on" if each is True else _plain(each)
                for each in several
                if each is not None and each is not False
            ]
            yield field.html_name, said


def _plain(value: Any) -> str:
    """As a field shows it, lines ended in one way."""
    return str(as_typed(value)).replace("\r\n", "\n")
