"""The frame of a session: what it is called, when, where, who."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club import queries as club
from club.errors import AskFirst, Refused
from club.forms.typed import LoadedField, version_field
from club.limits import NOTE, TITLE
from sessions import queries
from sessions.actions import DayAndTimes, ZonesAndStaff
from sessions.choices import StaffPart, WhyCancelled
from sessions.forms.fields import add_problems, clock_field, day_field, row_choice, row_choices, whole

NAMES = {"staff": "leads", "slot": "day"}
# What a slot has said already: a new session's form shows it folded.
IN_FOLD = ("squad", "day", "starts", "ends", "zones", "leads", "helps", "note")


class MoveForm(forms.Form):
    """Another day or time for a session that stays as it is."""

    day = day_field(gettext_lazy("Day"))
    starts = clock_field(gettext_lazy("From"))
    ends = clock_field(gettext_lazy("To"))
    version = version_field()
    # The yes to taking another team's slot; templates show it only when it is asked for.
    confirm = forms.CharField(required=False, max_length=NOTE)
    ask: AskFirst | None = None

    @property
    def when(self) -> DayAndTimes:
        data = self.cleaned_data
        return DayAndTimes(data["day"], data["starts"], data["ends"])

    def refuse(self, refused: Refused) -> None:
        """Put the problems beside the fields; a place or coach that is taken stands above them all."""
        self.ask = refused if isinstance(refused, AskFirst) else None
        add_problems(self, refused, {**NAMES, "confirm": ""})


class FrameForm(MoveForm):
    """The whole frame. `loaded` carries what the form began with, for when somebody else saved meanwhile."""

    title = forms.CharField(
        label=gettext_lazy("Title"),
        max_length=TITLE,
        required=False,
        help_text=gettext_lazy("What it is about, in a coach's words: “Patience, then through”."),
    )
    note = forms.CharField(
        label=gettext_lazy("Note"),
        required=False,
        max_length=NOTE,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=gettext_lazy("For whoever runs it. No players' names or health details."),
    )
    players_expected = whole(
        gettext_lazy("Players expected"),
        help_text=gettext_lazy("Who is out until lifted comes off by itself."),
    )
    loaded = LoadedField(required=False)

    field_order: tuple[str, ...] = (
        "title",
        "theme",
        "day",
        "starts",
        "ends",
        "zones",
        "leads",
        "helps",
        "players_expected",
        "note",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        people = club.coaches()
        self.fields["theme"] = row_choice(_("Theme"), club.themes(), empty=_("none yet"))
        self.fields["zones"] = row_choices(_("Spaces"), club.zones(), required=False)
        self.fields["leads"] = row_choice(_("Leads"), people, empty=_("nobody yet"))
        self.fields["helps"] = row_choices(_("Help"), people, required=False)
        self.order_fields(self.field_order)

    @property
    def place(self) -> ZonesAndStaff:
        data = self.cleaned_data
        staff = [each.pk for each in (data["leads"], *data["helps"]) if each]
        return ZonesAndStaff(tuple(each.pk for each in data["zones"]), tuple(dict.fromkeys(staff)))

    @property
    def frame(self) -> dict[str, Any]:
        """What plan and change take besides time and place."""
        data = self.cleaned_data
        return {
            "title": data["title"],
            "theme_id": data["theme"].pk if data["theme"] else None,
            "players_expected": data["players_expected"],
            "note": data["note"],
            "confirm": data["confirm"],
        }


class NewSessionForm(FrameForm):
    """A session that isn't there yet: for which squad, and what to begin with."""

    version = version_field(required=False, initial=0)
    slot = forms.UUIDField(widget=forms.HiddenInput, required=False)
    field_order = ("squad", "start_from", *FrameForm.field_order)

    def __init__(self, *args: Any, squads: Any, sources: Any, orders: Any = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["squad"] = row_choice(_("Team"), squads)
        copies = [
            (
                f"copy:{each.public_id}",
                _("the parts of {title}, {day}").format(title=each, day=date_format(each.day, "d M")),
            )
            for each in sources
        ]
        self.fields["start_from"] = forms.ChoiceField(
            label=_("Begin with"),
            choices=[
                ("order", _("the club's usual parts")),
                ("blank", _("nothing")),
                *(
                    [
                        (
                            _("A session template of the club"),
                            [(f"order:{o.public_id}", o.name) for o in orders],
                        )
                    ]
                    if orders
                    else []
                ),
                *([(_("A copy of"), copies)] if copies else []),
            ],
        )
        self.order_fields(self.field_order)

    @property
    def wrong_in_frame(self) -> bool:
        """Whether something in the fold of when, where and who needs another look."""
        return any(name in self.errors for name in IN_FOLD)


class WhyForm(forms.Form):
    """Why a session is off."""

    why = forms.ChoiceField(
        label=gettext_lazy("Why"),
        choices=WhyCancelled.choices,
        error_messages={"required": gettext_lazy("Say why: it is counted at the end of the season.")},
    )
    version = version_field()


def frame_initial(session: Any) -> dict[str, Any]:
    """A session's frame as the form shows it, all of it plain text, so that it can be laid side by side."""
    staff = queries.staff_rows_of(session)
    frame = {
        "title": session.title,
        "theme": str(session.theme.public_id) if session.theme else "",
        "day": session.day.isoformat(),
        "starts": f"{session.starts:%H:%M}",
        "ends": f"{session.ends:%H:%M}",
        "zones": [each["id"] for each in queries.zones_of(session)],
        "leads": next((each["id"] for each in staff if each["part"] == StaffPart.LEADS), ""),
        "helps": [each["id"] for each in staff if each["part"] != StaffPart.LEADS],
        "players_expected": session.players_expected,
        "note": session.note,
    }
    return {**frame, "version": session.version, "loaded": frame}


@dataclass(frozen=True)
class SideBySide:
    """A field that two people changed: what one typed, what is saved, and what it was before."""

    label: str
    mine: str
    theirs: str
    before: str


def side_by_side(form: FrameForm, theirs: Mapping[str, Any]) -> list[SideBySide]:
    """The fields that differ between what was typed and what somebody else saved."""
    mine = {name: form[name].value() for name in form.fields}
    loaded = form.cleaned_data.get("loaded")
    before = loaded if isinstance(loaded, dict) else {}
    rows = []
    for name, field in form.fields.items():
        words = [_words(field, values.get(name)) for values in (mine, theirs, before)]
        if name not in ("version", "loaded", "slot", "confirm") and words[0] != words[1]:
            rows.append(SideBySide(str(field.label), *words))
    return rows


def _words(field: Any, value: Any) -> str:
    known = {str(key): str(label) for key, label in getattr(field, "choices", None) or []}
    many = value if isinstance(value, list | tuple) else [value]
    return ", ".join(known.get(str(each), str(each)) for each in many if each not in (None, ""))
