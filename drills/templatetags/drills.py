"""The parts of the drill form: fields by name, repeated rows, and folds that open where something is wrong."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from drills.choices import kit_word
from drills.forms.html import field_html, rows_html

register = template.Library()

ROWS = {
    "grids": (_("Grids"), _("The first is the usual one; others for other purposes."), _("One more grid")),
    "groups": (_("Groups"), _("Everybody with a bib colour or a job."), _("One more group")),
    "goals": (_("Goals"), "", _("One more goal")),
    "zones": (_("Zones"), _("A part of the grid with a name."), _("One more zone")),
    "gates": (_("Gates"), _("Two cones to pass or run through."), _("One more gate")),
    "restarts": (_("Where does the ball come from?"), "", _("One more restart")),
    "scoring": (_("Scoring"), "", _("One more way to score")),
    "phases": (
        _("What happens next"),
        _("A phase that a condition opens, with its own format."),
        _("One more phase"),
    ),
    "points": (_("Coaching points"), "", _("One more point")),
    "faults": (_("When it goes wrong"), "", _("One more fault")),
    "questions": (_("Questions"), _("Of whom, when, and what you hope to hear."), _("One more question")),
    "kit": (_("Kit besides bibs, goals and balls"), "", _("One more thing")),
    "challenges": (_("For one player"), "", _("One more challenge")),
    "limits": (_("Limits"), _("What is allowed, for whom."), _("One more limit")),
    "whens": (_("When → then"), _("The ball is won: so many seconds to score."), _("One more condition")),
    "free": (
        _("In your own words"),
        _("Shown and saved, but nothing is computed from it."),
        _("One more rule"),
    ),
    "variations": (
        _("Easier and harder"),
        _("Only what changes. Grid: 30 × 20. Format: 5v5+2. Touches and passes: a number."),
        _("One more variation"),
    ),
}
# What a folded chapter says is in it.
COUNTED: dict[str, Callable[[int], str]] = {
    "restarts": lambda n: ngettext("{n} restart", "{n} restarts", n),
    "groups": lambda n: ngettext("{n} group", "{n} groups", n),
    "goals": lambda n: ngettext("{n} goal", "{n} goals", n),
    "zones": lambda n: ngettext("{n} zone", "{n} zones", n),
    "gates": lambda n: ngettext("{n} gate", "{n} gates", n),
    "scoring": lambda n: ngettext("{n} way to score", "{n} ways to score", n),
    "phases": lambda n: ngettext("{n} phase", "{n} phases", n),
    "points": lambda n: ngettext("{n} coaching point", "{n} coaching points", n),
    "faults": lambda n: ngettext("{n} fault", "{n} faults", n),
    "questions": lambda n: ngettext("{n} question", "{n} questions", n),
    "kit": lambda n: ngettext("{n} kind of kit", "{n} kinds of kit", n),
    "challenges": lambda n: ngettext("{n} challenge for one player", "{n} challenges for one player", n),
    "limits": lambda n: ngettext("{n} limit", "{n} limits", n),
    "whens": lambda n: ngettext("{n} condition", "{n} conditions", n),
    "free": lambda n: ngettext("{n} rule in your own words", "{n} rules in your own words", n),
    "variations": lambda n: ngettext("{n} variation", "{n} variations", n),
}


@dataclass(frozen=True)
class FoldPart:
    """A part of a fold: repeated rows, or fields (in one line where they belong together)."""

    name: str
    rows: bool = False
    pair: bool = True


def _rows(name: str) -> FoldPart:
    return FoldPart(name, rows=True)


FOLDS: dict[str, tuple[Any, list[FoldPart]]] = {
    "about": (_("Themes and restarts"), [FoldPart("themes", pair=False), _rows("restarts")]),
    "who": (
        _("Who plays"),
        [
            _rows("groups"),
            FoldPart("numbers_kind numbers_least numbers_most"),
            FoldPart("under_from under_to adults direction"),
        ],
    ),
    "play": (
        _("How it runs"),
        [
            FoldPart("start_trigger start_source", pair=False),
            FoldPart("winning_task winning_within"),
            _rows("goals"),
            _rows("zones"),
            _rows("gates"),
            _rows("scoring"),
            FoldPart("ends_kind ends_number ends_what"),
            FoldPart("queue_work queue_wait queue_next"),
            FoldPart("shot_towards", pair=False),
        ],
    ),
    "conditions": (
        _("Conditions and phases"),
        [_rows("whens"), _rows("phases"), _rows("limits"), _rows("free")],
    ),
    "variations": (_("Easier and harder"), [_rows("variations"), _rows("challenges")]),
    "coaching": (
        _("Coaching it"),
        [
            _rows("questions"),
            _rows("points"),
            _rows("faults"),
            FoldPart("praise coach_place stops safety notes", pair=False),
        ],
    ),
    "time": (
        _("Time and effort"),
        [FoldPart("minutes bouts bout_s rest_s effort"), FoldPart("heading headers")],
    ),
    "kit": (
        _("Kit and setting up"),
        [
            _rows("kit"),
            FoldPart("balls_number balls_each balls_spare balls_supply"),
            FoldPart("setup_minutes indoors"),
        ],
    ),
}


@register.filter
def kit(count: int, kind: str) -> SafeString:
    """`12 marker cones`, `1 bib`: how many of a kind of kit, whose word is kept in the plural."""
    return format_html("<b>{}</b> {}", count, kit_word(kind, count))


@register.filter
def row_title(name: str) -> str:
    """What the rows of a list are called in the form."""
    return str(ROWS[name][0])


@register.filter
def together(text: str) -> str:
    """`on 25 × 19 m` with its size kept on one line."""
    return re.sub(r"([0-9.]{1,9}) × ([0-9.]{1,9}) m\b", "\\1\u00a0×\u00a0\\2\u00a0m", text)


@register.simple_tag
def form_fields(editor: Any, names: str) -> SafeString:
    """Fields of the drill by name."""
    return mark_safe("".join(field_html(editor.main[name]) for name in names.split()))


@register.inclusion_tag("drills/form/rows.html")
def form_rows(editor: Any, name: str) -> dict[str, Any]:
    """A repeated part with its spare rows."""
    title, text, more = ROWS[name]
    rows = mark_safe(rows_html(editor.sets[name], editor.offered, editor.wrong_of(name)))
    return {"rows": rows, "name": name, "title": title, "help": text, "more": more}


@register.inclusion_tag("drills/form/fold.html")
def form_fold(editor: Any, name: str) -> dict[str, Any]:
    """A folded chapter: open where something is wrong, and its summary says what is in it."""
    title, parts = FOLDS[name]
    names = [each for part in parts for each in part.name.split()]
    there = [(part.name, editor.sets[part.name].initial_form_count()) for part in parts if part.rows]
    counts = [COUNTED[name](n).format(n=n) for name, n in there if n]
    grown = editor.grown in names
    note = " · ".join(counts)
    return {
        "editor": editor,
        "name": name,
        "title": title,
        "parts": parts,
        "note": note,
        "open": grown or editor.wrong_in(*names),
    }


# What an address of a drill says of tonight; a drawing as written is told nothing of it.
TONIGHT = ("players", "keepers", "adults", "length", "width")


@register.simple_tag(takes_context=True)
def card_query(context: template.Context, card: Any) -> str:
    """The query that opens a drill as its card shows it: in its variation, set up for the numbers that were asked."""
    wanted = context["wanted"]
    asked = {"variation": card.runs_key} if card.runs_key else {}
    if card.runs and wanted.players:
        asked |= {name: getattr(wanted, name) for name in TONIGHT if getattr(wanted, name) is not None}
    return f"?{urlencode(asked)}" if asked else ""


@register.simple_tag(takes_context=True)
def plan_query(context: template.Context, **changed: Any) -> str:
    """The query of an address that draws the plan as the page shows it; `changed` stands in place of what was asked."""
    asked = context["request"].GET.copy()
    tonight = context["shown"].tonight
    if tonight and tonight.chosen:
        asked["fit"] = tonight.chosen.place
    else:
        for name in (*TONIGHT, "fit"):
            asked.pop(name, None)
    for name, value in changed.items():
        if value is None or value == "":
            asked.pop(name, None)
        else:
            asked[name] = value
    return f"?{asked.urlencode()}" if asked else "?"
