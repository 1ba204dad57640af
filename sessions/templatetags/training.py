"""Words and figures of training on a page."""

from collections.abc import Sequence
from datetime import date, datetime
from typing import Any

from django import template
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club.choices import bib_word as word_of_bib
from drills.pages.library import activity_word
from drills.pages.words import effort_words
from drills.templatetags.drills import together
from sessions.choices import PartKind
from sessions.forms import seconds_text
from sessions.pages.afterwards import AGAIN, said_apart
from sessions.pages.attendance import PlayerAttendance, player_attendance, word_of
from sessions.pages.stations.at_once import at_once as shown_at_once
from sessions.planning.fold.bodies import AgainAnswer
from sessions.queries import expected_of
from sessions.queries.recorded.apart import WordOfPhone
from sessions.queries.squad_context import local

register = template.Library()

_REMARKS = {"session_spare_minutes", "bouts_shorter_than_part", "kit_unknown", "cycle", "waiting_uneven"}
_STOPS = {"session_over_minutes", "headers_none"}


@register.filter
def level(reason: Any) -> str:
    """How a reason is shown: a remark, something to mind, or a stop."""
    if reason.code in _STOPS:
        return "stop"
    return "info" if reason.code in _REMARKS else "warning"


@register.filter
def effort_word(cr10: Any) -> str:
    """How hard a part is, in the words that coaches are asked in."""
    return effort_words(float(cr10))


@register.filter
def expected(session: Any) -> int:
    """How many players are expected, without who is out until lifted."""
    return expected_of(session)


@register.filter
def said(reason: Any) -> str:
    """A reason's sentence in the reader's language, sizes kept on one line."""
    return together(reason.said(_, ngettext))


@register.filter
def rotation(setup: Any) -> str:
    """How players change places with a set-up."""
    return str(setup.rotation_said(_))


@register.filter
def grids_numbers(setup: Any) -> str:
    """All grids of a set-up in the coaches' notation: `2 × 5v5+2`."""
    return str(setup.numbers_said(_))


@register.filter
def bib_word(bib: str) -> str:
    """A colour of bibs in the reader's language."""
    return word_of_bib(bib)


@register.filter
def clears(reason: Any) -> str:
    """What would clear a reason, as one line."""
    return " ".join(said(each) for each in reason.clears)


@register.filter
def in_words(day: date) -> str:
    """`Tue 3 Mar`."""
    return date_format(day, "D j M")


@register.filter
def clock(moment: datetime) -> str:
    """`18:05`, with seconds only where they are not zero."""
    return f"{moment:%H:%M:%S}" if moment.second else f"{moment:%H:%M}"


@register.filter
def stretch(seconds: int) -> str:
    """`3:30`."""
    return seconds_text(seconds)


@register.filter
def whole(number: float | None) -> str:
    """A figure rounded to a whole; a dash for none."""
    return "–" if number is None else f"{number:.0f}"


@register.filter
def plain(number: float | None) -> str:
    """6 or 6.5."""
    return "–" if number is None else f"{float(number):.1f}".removesuffix(".0")


@register.filter
def hundredths(number: float) -> str:
    """0.9 or 0.75."""
    return f"{number:.2f}".rstrip("0").rstrip(".")


@register.filter
def how_hard(cr10: float | None) -> str:
    """The scale's own word for a rating, the next one below where there is none: `hard`; nothing where nobody rated it."""
    return "" if cr10 is None else effort_words(float(cr10))


@register.filter
def again(answer: AgainAnswer) -> str:
    """What was said of running a part again: yes, change it, no."""
    return str(AGAIN[answer])


@register.filter
def phones_said(words: Sequence[WordOfPhone]) -> str:
    """`Kim's phone: here at 18:02. Another phone: not here at 18:10. Counts: not here.`"""
    return said_apart(words)


@register.filter
def on_clock(moment: datetime | None) -> str:
    """`18:05` by the club's clock; nothing for no moment."""
    return "" if moment is None else f"{local(moment):%H:%M}"


@register.filter
def percent(share: float) -> str:
    """A share of 1 in hundredths, whole."""
    return f"{100 * share:.0f}"


@register.filter
def part_kind(kind: str) -> str:
    """A part's place in the order, in words."""
    return str(PartKind(kind).label) if kind in PartKind.values else kind


@register.filter
def activity_in_words(activity: str) -> str:
    """What kind of drill it is."""
    return activity_word(activity)


@register.filter
def at_once(part: Any) -> Any:
    """The carousel of a part with several stations."""
    return shown_at_once(part)


@register.filter
def at(mapping: Any, key: Any) -> Any:
    """A value of a mapping by a key that is itself a variable; None where it isn't there."""
    return mapping.get(key)


@register.filter
def attendance_word(state: str) -> str:
    """A mark of the register in words."""
    return word_of(state)


@register.simple_tag
def came_lately(player: Any) -> PlayerAttendance:
    """How often a player came of late; the page has asked already who may read it."""
    return player_attendance(player)
