"""Heading: what a guideline leaves, and what is planned above it."""

from drills.game.wording.shapes import CountedWording, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

WEEK, MONTH = _("week"), _("month")

ENTRIES = entries(
    parts={
        "heading_none": _("No heading in training at this age."),
        "heading_sessions_left": CountedWording(
            "left",
            *ngettext(
                "{left} session with heading left this {period:word}, {each} headers per player at most.",
                "{left} sessions with heading left this {period:word}, {each} headers per player at most.",
            ),
        ),
        "heading_used_up": _("No session with heading left this {period:word}."),
        "heading_headers_left": CountedWording(
            "left",
            *ngettext(
                "{left} header per player left this week.",
                "{left} headers per player left this week.",
            ),
        ),
        "clear_heading": _("Without heading it would do."),
        "clear_headers_less": _("{over} fewer would do."),
        "headers_none": _(
            "Headers are planned ({planned}); the guideline for this age says none in training."
        ),
        "headers_over": _(
            "{planned} headers per player are planned, {over} more than the guideline's {limit} in a session."
        ),
        "headers_week_over": _(
            "{planned} headers per player in the week, {over} more than the guideline's {limit}."
        ),
        "headers_sessions_over": _(
            "{planned} sessions with heading in the {period}; the guideline says {limit} at most."
        ),
        "headers_minutes_over": _(
            "{planned} min of heading in the week, {over} more than the guideline's {limit}."
        ),
    }
)
