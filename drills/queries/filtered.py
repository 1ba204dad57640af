"""The filters that are set, each in a coach's words with the address of the list without it."""

from collections.abc import Mapping
from urllib.parse import urlencode

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drills.choices import DrillState
from drills.queries.shelf import activity_word
from drills.queries.wanted import DrillSearch
from drills.queries.words import kit_word


def filters_on(
    wanted: DrillSearch, params: Mapping[str, str], themes: Mapping[str, str]
) -> list[tuple[str, str]]:
    """What is looked for, word by word, and the query string that no longer asks for it."""
    kept = {name: params[name] for name in params if name != "page" and params[name]}
    return [
        (said, urlencode({key: value for key, value in kept.items() if key != name}))
        for name, said in _said(wanted, themes).items()
        if said
    ]


def _said(wanted: DrillSearch, themes: Mapping[str, str]) -> dict[str, str]:
    """The words by parameter; empty for what is not asked."""
    return {
        "q": _("“{words}”").format(words=wanted.q) if wanted.q else "",
        "players": _counted(ngettext("{n} player", "{n} players", wanted.players or 0), wanted.players),
        "keepers": _counted(ngettext("{n} keeper", "{n} keepers", wanted.keepers or 0), wanted.keepers),
        "length": _counted(_("{n} m long"), wanted.length),
        "width": _counted(_("{n} m wide"), wanted.width),
        "minutes": _counted(_("{n} min"), wanted.minutes),
        "effort_max": _counted(_("effort up to {n}"), wanted.effort_max),
        "kit": ", ".join(f"{count} {kit_word(kind, count)}" for kind, count in wanted.kit),
        "age_group": wanted.age_group,
        "theme": themes.get(wanted.theme, wanted.theme.replace("-", " ")),
        "activity": activity_word(wanted.activity),
        "state": str(DrillState(wanted.state).label) if wanted.state else "",
        "mine": _("mine") if wanted.mine else "",
        "close": _("kept close") if wanted.close else "",
        "retired": _("retired") if wanted.retired else "",
    }


def _counted(words: str, n: float | None) -> str:
    return "" if n is None else words.format(n=f"{n:g}")
