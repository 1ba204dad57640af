"""Matches or closed days, pasted or from a file: read into rows, which stand in the form again so that nothing is lost."""

from dataclasses import replace
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.template.defaultfilters import filesizeformat
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club import queries as club
from club.limits import LOADED
from sessions.forms.fields import row_choice
from sessions.ics import read
from sessions.ics.table import Cells, Kind, Row, as_text, valued

MOST_ROWS = 150


class DaysForm(forms.Form):
    """A text or a file. `rows` are those of days that are not over, `over` how many were left out since they are."""

    kind: Kind = "matches"
    use_required_attribute = False  # a file will do
    text = forms.CharField(
        label=gettext_lazy("Paste them here"),
        max_length=LOADED,
        error_messages={"required": gettext_lazy("Paste the days, or choose a file.")},
        widget=forms.Textarea(attrs={"rows": 8, "spellcheck": "false"}),
    )
    file = forms.FileField(
        label=gettext_lazy("Or choose a file"),
        required=False,
        help_text=gettext_lazy("A calendar file (.ics) or a table (.csv), at most 400 kB."),
        widget=forms.FileInput(attrs={"accept": ".ics,.csv,text/calendar,text/csv,text/plain"}),
    )
    rows: list[Row]
    over = 0

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["text"].required = not self.files.get("file")

    def clean_file(self) -> Any:
        sent = self.cleaned_data.get("file")
        if sent is None:
            return None
        if sent.size > read.MOST_BYTES:
            words = _("This file has {size}; at most {most}. Export fewer days, or paste them.")
            most = filesizeformat(read.MOST_BYTES)
            raise ValidationError(words.format(size=filesizeformat(sent.size), most=most))
        try:
            return read.text_of(sent.read())
        except read.NoDays as error:
            raise ValidationError(_unreadable(str(error))) from error

    def clean(self) -> dict[str, Any]:
        data: dict[str, Any] = super().clean() or {}
        if self.errors:
            return data
        beside = "file" if data.get("file") else "text"
        zone = club.club_settings().time_zone
        try:
            cells = read.read(data[beside] or "", self.kind, zone)
        except read.NoDays as error:
            self.add_error(beside, _unreadable(str(error)))
            return data
        self._take([valued(each, self.kind, zone) for each in cells], beside)
        return data

    def _take(self, rows: list[Row], beside: str) -> None:
        today = club.today()
        ahead = [each for each in rows if each.last is None or each.last >= today]
        self.over = len(rows) - len(ahead)
        self.rows = [
            replace(each, cells=replace(each.cells, number=number))
            for number, each in enumerate(ahead, start=1)
        ]
        if len(ahead) > MOST_ROWS:
            words = _("{n} days that are not over; at most {most} at a time. Take them in parts.")
            self.add_error(beside, words.format(n=len(ahead), most=MOST_ROWS))
        elif not ahead:
            self.add_error(beside, _("Every day in it is over."))
        elif len(as_text((each.cells for each in ahead), self.kind)) > LOADED:
            self.add_error(beside, _("Too much text. Take it in parts."))

    def cells(self) -> list[Cells]:
        return [each.cells for each in self.rows]


class MatchesForm(DaysForm):
    """A team's matches."""

    field_order = ("squad", "text", "file")

    def __init__(self, *args: Any, squads: list[Any], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["squad"] = row_choice(_("Team"), squads)
        self.fields["text"].help_text = _(
            "One a line: day, from, to, what, where. Such as 2026-12-05, 10:30, 12:00, Home to Ridgeway, Mill Field. No players’ names."
        )
        self.order_fields(self.field_order)


class ClosedForm(DaysForm):
    """Days on which nobody trains, on any pitch or on one."""

    kind: Kind = "closed"
    field_order = ("pitch", "text", "file")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["pitch"] = row_choice(_("Closed"), club.pitches(), empty=_("Everything: nobody trains"))
        self.fields["text"].help_text = _(
            "One a line: first day, last day, what. Such as 2027-02-15, 2027-02-19, Half-term."
        )
        self.order_fields(self.field_order)


def _unreadable(code: str) -> str:
    return {
        "bytes": _(
            "This is no text: neither a calendar file (.ics) nor a table (.csv). Save it as one of the two first."
        ),
        "calendar": _("This calendar file is damaged or cut off. Download it again."),
        "table": _("This is no table that can be read. One day a line, its parts apart by commas."),
        "nothing": _("There is no day in it. Paste the days, or choose a file."),
    }[code]
