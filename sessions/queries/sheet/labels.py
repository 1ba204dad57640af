"""The fixed words of a sheet."""

from django.utils.translation import gettext as _


def labels() -> dict[str, str]:
    """Every word that the template prints by itself."""
    return {
        "sheet": _("Sheet"),
        "code": _("Scan for the session and its clock. Sign in first; the code holds no names."),
        "evening": _("The evening by the clock"),
        "kit": _("Carry"),
        "pace": _("Pace it out"),
        "heart": _("The heart of it:"),
        "say": _("Say this"),
        "praise": _("Praise one thing"),
        "easy": _("Too easy?"),
        "hard": _("Too hard?"),
        "chaos": _("Chaos?"),
        "safety": _("Safety"),
        "clock": _("By the clock"),
        "inside": _("inside"),
        "outside": _("outside"),
        "resting": _("resting"),
        "bout": _("Bout"),
        "numbers": _("Numbers"),
        "rotation": _("Rotation"),
        "rule": _("Rule"),
        "look": _("Look for"),
        "ask": _("Ask"),
        "listen": _("Listen for:"),
    }
