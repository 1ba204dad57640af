"""What a field of the club may hold. Called by forms and models alike."""

import re
from zoneinfo import available_timezones

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from club.limits import AS_TYPED

MATCH_FORMAT = re.compile(r"([0-9]{1,2})v([0-9]{1,2})")


def match_format(text: str) -> None:
    """A match has as many on one side as on the other: 5v5, 9v9, 11v11."""
    found = MATCH_FORMAT.fullmatch(text.strip()) if len(text) <= AS_TYPED else None
    if found is None or found[1] != found[2] or not 1 <= int(found[1]) <= 11:
        raise ValidationError(_("Write a match as coaches do, the same number on both sides: 7v7."))


def time_zones() -> list[str]:
    """The places whose clock a club may go by, without those that are no place."""
    return sorted(name for name in available_timezones() if "/" in name and not name.startswith("Etc/"))
