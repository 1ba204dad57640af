"""What a drill has once: its title, what it is for, its numbers, how it runs."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from drills.choices import ACTIVITIES, MOMENTS
from drills.forms.base import Plain, QuietForm, choice, number, text
from drills.game.document.choices import EndsKind, NumbersKind
from drills.pages import words

_ENDS = [
    (EndsKind.TIME.value, _("with the time of the round")),
    (EndsKind.FIRST_TO.value, _("first to so many")),
    (EndsKind.REPETITIONS.value, _("after so many goes each")),
]
_NUMBERS = [
    (NumbersKind.EXACT.value, _("as the format says")),
    (NumbersKind.RANGE.value, _("from … to …")),
    (NumbersKind.ANYONE.value, _("anyone can join")),
]
# Field of the form → path in the document. Lines of a text area are the items of a list.
SIMPLE = {
    "title": "title",
    "activity": "activity",
    "moment": "moment",
    "purpose": "purpose",
    "themes": "themes",
    "format": "format",
    "under_from": "under_from",
    "under_to": "under_to",
    "numbers_kind": "numbers.kind",
    "numbers_least": "numbers.least",
    "numbers_most": "numbers.most",
    "direction": "direction",
    "adults": "adults",
    "indoors": "indoors",
    "setup_minutes": "setup_minutes",
    "shot_towards": "shot_towards",
    "balls_number": "balls.number",
    "balls_each": "balls.each",
    "balls_spare": "balls.spare",
    "balls_supply": "balls.supply",
    "start_trigger": "start.trigger",
    "start_source": "start.source",
    "winning_task": "on_winning.task",
    "winning_within": "on_winning.within_s",
    "ends_kind": "ends.kind",
    "ends_number": "ends.number",
    "ends_what": "ends.what",
    "queue_work": "queue.work_s",
    "queue_wait": "queue.wait_s",
    "queue_next": "queue.next",
    "minutes": "work.minutes",
    "bouts": "work.bouts",
    "bout_s": "work.bout_s",
    "rest_s": "work.rest_s",
    "effort": "work.effort",
    "heading": "heading",
    "headers": "headers_per_player",
    "praise": "praise",
    "coach_place": "coach_place",
    "stops": "stops",
    "notes": "notes",
}
LINES = {"say_this": 3, "safety": 8}
# A part that needs this field of its own is left out while it is empty.
WANTED = {"start": "trigger", "on_winning": "task", "queue": "next"}


class MainForm(QuietForm):
    title = text(_("Title"), 80, required=True)
    activity = choice(_("Activity"), ACTIVITIES, empty=_("choose"), required=True)
    moment = choice(_("Moment of the game"), MOMENTS, empty=_("choose"), required=True)
    purpose = text(_("What it is for"), 300, long=True, required=True, help_text=_("One sentence."))
    themes = forms.MultipleChoiceField(label=_("Themes"), required=False, widget=forms.CheckboxSelectMultiple)
    format = text(_("Format"), 60, required=True, help_text=_("As you would write it: 5v5+2, GK+6v6+GK, 12."))
    say_this = text(
        _("Say this"), 920, long=True, help_text=_("What you say to the players. A line each, at most three.")
    )

    under_from = number(_("From under"), 4, 100, help_text=_("12 for U12."))
    under_to = number(_("To under"), 4, 100)
    numbers_kind = choice(_("Numbers"), _NUMBERS)
    numbers_least = number(_("from"), 1, 60)
    numbers_most = number(_("to"), 1, 60)
    direction = choice(_("Direction"), [(each.value, label) for each, label in words.DIRECTIONS.items()])
    adults = number(_("Adults needed"), 1, 10)
    indoors = choice(_("Indoors"), [(each.value, label) for each, label in words.INDOORS.items()])
    setup_minutes = number(_("Minutes to set up"), 0, 60, help_text=_("for one adult, from an empty pitch"))
    shot_towards = text(_("Where it is shot towards"))

    balls_number = number(_("Balls in play"), 0, 200)
    balls_each = forms.BooleanField(label=_("a ball each"), required=False)
    balls_spare = number(_("Spare balls"), 0, 200)
    balls_supply = text(_("Where the spare balls lie"))
    start_trigger = text(_("How it starts"))
    start_source = text(_("Where the first ball comes from"))
    winning_task = text(_("On winning it, they must"))
    winning_within = number(_("within, s"), 1, 120, whole=False)
    ends_kind = choice(_("It ends"), _ENDS)
    ends_number = number(_("How many"), 1, 200)
    ends_what = text(_("of what"), help_text=_("goals, goes"))
    queue_work = number(_("Work, s"), 1, 600)
    queue_wait = number(_("Wait, s"), 0, 600)
    queue_next = text(_("Who goes next"), help_text=_("Fill this in only where waiting in turn is planned."))

    minutes = number(_("Minutes"), 1, 120)
    bouts = number(_("Rounds"), 1, 40)
    bout_s = number(_("A round, s"), 10, 5400)
    rest_s = number(_("Rest, s"), 0, 1200)
    effort = number(_("Effort, CR10"), 0, 10, whole=False, help_text=_("3 moderate, 5 hard, 7 very hard."))
    heading = choice(_("Heading"), [(each.value, label) for each, label in words.HEADINGS.items()])
    headers = number(_("Headers per player"), 0, 50)

    praise = text(_("The one thing worth praising"), 300)
    coach_place = text(_("Where you stand"))
    stops = forms.MultipleChoiceField(
        label=_("How it may be stopped to coach"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        choices=[(each.value, label) for each, label in words.STOPS.items()],
    )
    safety = text(_("Safety"), 2500, long=True, help_text=_("A line each."))
    notes = text(_("Notes"), 2000, long=True, help_text=_("No players' names or health details."))

    def __init__(self, *args: Any, themes: list[tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["themes"].choices = themes  # type: ignore[attr-defined]

    def clean(self) -> Plain:
        data = super().clean() or {}
        for name, most in LINES.items():
            lines = _lines(data.get(name))
            if len(lines) > most:
                self.add_error(
                    name, _("At most %(most)d lines; these are %(n)d.") % {"most": most, "n": len(lines)}
                )
            if any(len(line) > 300 for line in lines):
                self.add_error(name, _("A line has at most 300 characters."))
        return data

    @classmethod
    def read(cls, document: Plain) -> Plain:
        """What the form shows of a document."""
        shown = {name: _at(document, path) for name, path in SIMPLE.items()}
        shown |= {name: "\n".join(document.get(name, [])) for name in LINES}
        return {name: value for name, value in shown.items() if value is not None}

    def fill(self, document: Plain) -> Plain:
        """The document with what was typed; what the form can't show stays."""
        made = {name: dict(value) if isinstance(value, dict) else value for name, value in document.items()}
        for name, path in SIMPLE.items():
            _put(made, path, self.cleaned_data.get(name))
        for name in LINES:
            _put(made, name, _lines(self.cleaned_data.get(name)))
        for part, wanted in WANTED.items():
            if part in made and not made[part].get(wanted):
                del made[part]
        return made


def field_of(path: str) -> str:
    """The form's field for a path in the document, or nothing."""
    exact = next((name for name, each in SIMPLE.items() if each == path), "")
    head = path.split("[")[0].split(".")[0]
    first = next((name for name, each in SIMPLE.items() if each.split(".")[0] == head), "")
    return exact or (head if head in LINES else first)


def _lines(value: str | None) -> list[str]:
    return [line.strip() for line in (value or "").splitlines() if line.strip()]


def _at(document: Plain, path: str) -> Any:
    value: Any = document
    for name in path.split("."):
        value = value.get(name) if isinstance(value, dict) else None
    return value


def _put(document: Plain, path: str, value: Any) -> None:
    """Set or take away one value; an emptied part goes with its last value."""
    *parents, last = path.split(".")
    holder = document
    for name in parents:
        holder = holder.setdefault(name, {})
    if value is None or value is False or value in ("", []):
        holder.pop(last, None)
    else:
        holder[last] = value
    if parents and not holder:
        document.pop(parents[0], None)
