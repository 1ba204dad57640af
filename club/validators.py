"""What a field of the club may hold. Called by forms and models alike."""

import math
import re
from datetime import date
from typing import Any
from zoneinfo import available_timezones

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from club.choices import EDGES, FixedGoalKind
from club.errors import FieldProblem
from club.letters import is_plain_line, turns_round
from club.limits import AS_TYPED, FIXED_GOALS

NOT_PLAIN = _(
    "This holds a letter that nobody sees and that turns the text beside it round or breaks the line."
)
MATCH_FORMAT = re.compile(r"([0-9]{1,2})v([0-9]{1,2})")


def match_format(text: str) -> None:
    """A match has as many on one side as on the other: 5v5, 9v9, 11v11."""
    found = MATCH_FORMAT.fullmatch(text.strip()) if len(text) <= AS_TYPED else None
    if found is None or found[1] != found[2] or not 1 <= int(found[1]) <= 11:
        raise ValidationError(_("Write a match as coaches do, the same number on both sides: 7v7."))


def fixed_goals(value: Any) -> None:
    """The goals of a zone that can't be moved, as `club.models.Zone` keeps them."""
    if not isinstance(value, list) or not all(_is_fixed_goal(each) for each in value):
        raise ValidationError(
            _("Say of each fixed goal at which edge it stands, how far along, and its size.")
        )
    if len(value) > FIXED_GOALS:
        raise ValidationError(_("A space has at most %d fixed goals.") % FIXED_GOALS)


def _is_fixed_goal(value: Any) -> bool:
    if not isinstance(value, dict) or set(value) != {"edge", "along", "size"}:
        return False
    along = value["along"]
    is_number = isinstance(along, int | float) and not isinstance(along, bool) and math.isfinite(along)
    # Asked of tuples: a list or a dict as a value is none of them, and no error.
    return (
        value["edge"] in EDGES
        and value["size"] in tuple(FixedGoalKind.values)
        and is_number
        and 0 <= along <= 1
    )


def players_a_side(text: str) -> int | None:
    """Players of one side of a match format, its goalkeeper among them: `9v9` → 9; None where it is none."""
    found = MATCH_FORMAT.fullmatch(text.strip()) if len(text) <= AS_TYPED else None
    return int(found[1]) if found else None


def reference_day(month: int, day: int) -> date:
    """A day that every year has, in a year without 29 February."""
    try:
        return date(2001, month, day)
    except ValueError:
        raise ValidationError({"ages_on_day": _("This month has no such day.")}) from None


def time_zones() -> list[str]:
    """The places whose clock a club may go by, without those that are no place."""
    return sorted(name for name in available_timezones() if "/" in name and not name.startswith("Etc/"))


def line_problems(**texts: str) -> list[FieldProblem]:
    """What is wrong with names, titles and the like, by field: each has to be able to stand in a line with others."""
    return [FieldProblem(name, str(NOT_PLAIN)) for name, text in texts.items() if not is_plain_line(text)]


def text_problems(**texts: str) -> list[FieldProblem]:
    """The same for texts that may go over several lines: nothing in them turns what stands beside it round."""
    return [FieldProblem(name, str(NOT_PLAIN)) for name, text in texts.items() if turns_round(text)]


PHONE_NUMBER = re.compile(r"\+?[0-9(][0-9 ()/-]*+")


def phone(text: str) -> None:
    """A number to be rung, and nothing else: no name stands beside it."""
    if not PHONE_NUMBER.fullmatch(text.strip()) or len(re.findall("[0-9]", text)) < 2:
        raise ValidationError(_("Type the number alone: digits, with blanks or a + in front."))
