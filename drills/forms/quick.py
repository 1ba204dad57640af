"""A drill in a minute: name, numbers, size of grid, at most three sentences."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club.errors import FieldProblem
from club.limits import TITLE
from drills.forms.base import number, text
from drills.game.document import DrillDocument
from drills.game.format import UnclearFormat
from drills.game.made.quick import quick_document
from drills.game.notation import LONGEST_TEXT
from drills.game.validate import LONGEST_GRID_M, SMALLEST_GRID_M, WIDEST_GRID_M, errors
from drills.game.wording.rendering import text_of
from drills.game.wording.shapes import Sentence

SENTENCES = ("say_1", "say_2", "say_3")
# The field of a document → where its problem stands here.
_STANDS = {"format": "numbers", "numbers": "numbers", "groups": "numbers", "title": "title"}


class QuickForm(forms.Form):
    """`document` is the drill once numbers and size can be read, also before it has a name."""

    title = text(gettext_lazy("Name"), TITLE, required=True)
    numbers = text(
        gettext_lazy("Numbers"),
        LONGEST_TEXT,
        required=True,
        help_text=gettext_lazy("5v5+2, GK+4v4+GK or 8–14"),
    )
    length = number(gettext_lazy("Length, m"), SMALLEST_GRID_M, LONGEST_GRID_M, whole=False, required=True)
    width = number(gettext_lazy("Width, m"), SMALLEST_GRID_M, WIDEST_GRID_M, whole=False, required=True)
    say_1 = text(gettext_lazy("How it goes"), 300, required=True)
    say_2 = text(gettext_lazy("How you score, or win"), 300)
    say_3 = text(gettext_lazy("What to look for"), 300)

    document: DrillDocument | None = None

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if all(name in data for name in ("numbers", "length", "width")):
            self._read(data)
        return data

    def _read(self, data: dict[str, Any]) -> None:
        try:
            found = self._document(data)
        except UnclearFormat as unclear:
            self.add_error("numbers", text_of(Sentence("finished", {"text": unclear.sentence}), _))
            return
        problems = errors(found)
        self.add_problems([FieldProblem(each.field, each.said(_)) for each in problems])
        if not problems:
            self.document = found

    def _document(self, data: dict[str, Any]) -> DrillDocument:
        size = _("{length:g} × {width:g} m").format(length=data["length"], width=data["width"])
        return quick_document(
            title=data.get("title") or _("New drill"),
            numbers=data["numbers"],
            length_m=data["length"],
            width_m=data["width"],
            purpose=_("{numbers} on {size}.").format(numbers=data["numbers"].strip(), size=size),
            size_for=_("as first written"),
            say_this=[data[name].strip() for name in SENTENCES if data.get(name, "").strip()],
        )

    def add_problems(self, problems: list[FieldProblem]) -> None:
        """What is wrong with the document, beside the field that it comes from."""
        for each in problems:
            field = each.field.partition("[")[0]
            self.add_error(_STANDS.get(field, "length" if field == "grids" else None), each.text)
