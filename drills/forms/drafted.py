"""What is typed so far as a document that can be drawn: the form need not be whole for that."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.datastructures import MultiValueDict
from django.utils.translation import gettext as _

from drills.forms.base import Plain
from drills.forms.editor import DrillEditor
from drills.forms.quick import QuickForm
from drills.game.document import DocumentError, DrillDocument, decode
from drills.game.document.choices import Activity, Moment
from drills.game.validate import errors

GRID = "grids-0"


@dataclass(frozen=True)
class Drafted:
    """`document` is None while numbers and size cannot be read; `missing` says what of the form the plan leaves out."""

    document: DrillDocument | None
    missing: str = ""


def drafted(base: Plain | None, data: Mapping[str, Any], *, themes: list[tuple[str, str]]) -> Drafted:
    """The document that the form would make, what it still lacks filled in; else one of its numbers and size alone."""
    editor = DrillEditor(base, _filled(data), themes=themes)
    if not editor.is_valid():
        return _of_numbers(data, _first_problem(editor))
    try:
        document = decode(editor.document)
    except DocumentError as error:
        return _of_numbers(data, error.said(_))
    found = errors(document)
    return Drafted(document) if not found else _of_numbers(data, found[0].said(_))


def _filled(data: Mapping[str, Any]) -> MultiValueDict[str, Any]:
    """What was typed, with something in the fields that a plan doesn't need."""
    made: MultiValueDict[str, Any] = MultiValueDict()
    for name in data:
        made.setlist(name, data.getlist(name) if isinstance(data, MultiValueDict) else [data[name]])
    needless = {
        "title": _("New drill"),
        "purpose": _("New drill"),
        "activity": Activity.TECHNIQUE.value,
        "moment": Moment.IN_POSSESSION.value,
    }
    if made.get(f"{GRID}-length_m"):
        needless[f"{GRID}-purpose"] = _("as first written")
    for name, value in needless.items():
        if not made.get(name):
            made[name] = value
    return made


def _of_numbers(data: Mapping[str, Any], problem: str) -> Drafted:
    names = {"numbers": "format", "length": f"{GRID}-length_m", "width": f"{GRID}-width_m"}
    form = QuickForm({name: data.get(field, "") for name, field in names.items()})
    form.is_valid()
    if form.document is not None:
        return Drafted(form.document, problem)
    wrong = (name for name, field in names.items() if data.get(field) and name in form.errors)
    told = next((str(form.errors[name][0]) for name in wrong), "")
    return Drafted(None, told)


def _first_problem(editor: DrillEditor) -> str:
    """The first thing in the form that needs another look, with its field."""
    forms = [editor.main, *(row for _name, _place, row in editor.wrong_rows)]
    said = (
        f"{form.fields[name].label}: {texts[0]}" if name in form.fields else str(texts[0])
        for form in forms
        for name, texts in form.errors.items()
    )
    return next(said, next(iter(editor.loose), ""))
