"""How long what is handed out lasts: the one place, for whoever ends it and for every page that says so."""

from datetime import timedelta

from django.conf import settings
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club.choices import LinkKind

LINKS = {
    LinkKind.SIGN_IN: timedelta(days=1),
    LinkKind.INVITATION: timedelta(days=7),
    LinkKind.SET_UP: timedelta(days=7),
}
VIDEOS = timedelta(days=7)  # after they were last asked for
HELPERS_NUMBER = timedelta(hours=3)  # and the code on a sheet: after the session
HELPERS_SENDING = timedelta(days=7)  # of what a helper's phone recorded until then
WRONG_GUESSES = timedelta(minutes=15)  # so long each counts
PHONE_COPIES = timedelta(days=3)  # of a session on a phone, after its end
BETWEEN_READINGS = timedelta(hours=12)  # within it, reading the same names again is noted once


def in_words(span: timedelta) -> str:
    """Whole weeks, days, hours or minutes as people say them: a week, 2 days, 4 hours, 15 minutes."""
    if span.days and span.days % 7 == 0:
        return ngettext("a week", "%(n)d weeks", span.days // 7) % {"n": span.days // 7}
    if span.days:
        return ngettext("a day", "%(n)d days", span.days) % {"n": span.days}
    if hours := span // timedelta(hours=1):
        return ngettext("an hour", "%(n)d hours", hours) % {"n": hours}
    minutes = span // timedelta(minutes=1)
    return ngettext("a minute", "%(n)d minutes", minutes) % {"n": minutes} if minutes else _("some seconds")


def for_pages() -> dict[str, str]:
    """What pages say of it."""
    return {
        "sign_in_link": in_words(LINKS[LinkKind.SIGN_IN]),
        "password_link": in_words(timedelta(seconds=settings.PASSWORD_RESET_TIMEOUT)),
        "video": in_words(VIDEOS),
        "helpers_number": in_words(HELPERS_NUMBER),
        "between_readings": in_words(BETWEEN_READINGS),
    }
