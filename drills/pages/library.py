"""A drill as it stands on the shelf: what a list shows of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING
from urllib.parse import urlencode
from uuid import UUID

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language, ngettext
from django.utils.translation import gettext as _

from club import queries as club
from club.caches import MIB, remembered
from drills.bridge import document_of
from drills.choices import ACTIVITIES, MOMENTS, DrillState, kit_word, theme_word
from drills.drawing.picture import scene_as_written, scene_of
from drills.drawing.svg import DrawingOptions, render
from drills.game.document import DrillDocument, Grid
from drills.game.evening import Evening, typed_ground
from drills.game.fit import SetUp as Fitted
from drills.game.fit.kit import shortages
from drills.game.fits import fits
from drills.game.format import Format
from drills.game.played import Played, dressed
from drills.game.scene import Scene
from drills.game.variations import find, played
from drills.game.wording import joined
from drills.pages.sizes import Area, area_of
from drills.pages.words import effort_words
from drills.queries.runs import RunCounts, times_run
from drills.queries.stock import Stock
from drills.queries.wanted import DrillSearch

if TYPE_CHECKING:
    from drills.models import Drill

_ACTIVITY = dict(ACTIVITIES)
_MOMENT = dict(MOMENTS)


@dataclass(frozen=True)
class DrillCard:
    """One row of the library; where numbers were asked for, as it is set up for them."""

    public_id: UUID
    title: str
    purpose: str
    state: str
    state_word: str
    retired: bool
    activity: str
    facts_line: list[str]
    themes: list[str]
    picture: SafeString
    runs: str
    off: int  # players who would be off at one time
    short_of: str  # kit that the club lacks for it, in words
    runs_key: str
    runs_as: str  # the variation's title when it is not the drill as written
    area: Area | None
    times_run: RunCounts
    run_words: str  # how often it was run, in words; empty before the first time


def theme_choices() -> list[tuple[str, str]]:
    """The club's themes by key."""
    return [(theme.key, theme.title) for theme in club.themes()]


def activity_word(value: str) -> str:
    return str(_ACTIVITY.get(value, value))


def moment_word(value: str) -> str:
    return str(_MOMENT.get(value, value))


def card(drill: Drill, wanted: DrillSearch, themes: dict[str, str], stock: Stock | None = None) -> DrillCard:
    """A drill's row, with why it runs tonight where players and space are named; without `stock` there is plenty of kit."""
    assert drill.current_revision is not None
    document, digest = document_of(drill.current_revision), drill.current_revision.sha256
    key = getattr(drill, "runs_key", "") or ""
    variation = find(document, key)
    runs = _runs(document, key, wanted, stock or {})
    return DrillCard(
        public_id=drill.public_id,
        title=drill.title,
        purpose=drill.purpose,
        state=drill.state,
        state_word=str(DrillState(drill.state).label),
        retired=drill.retired_at is not None,
        activity=activity_word(drill.activity),
        facts_line=_facts_line(drill, document),
        themes=[theme_word(each, themes) for each in drill.theme_keys],
        picture=thumbnail(digest, document) if runs is None else drawn_for(digest, runs.tonight),
        runs=numbers_and_place(runs.setup) if runs else "",
        off=runs.setup.waiting if runs else 0,
        short_of=runs.short_of if runs else "",
        runs_key=key,
        runs_as=variation.title if variation else "",
        area=area_of(document),
        times_run=times_run(drill),
        run_words=run_words(times_run(drill)),
    )


def _facts_line(drill: Drill, document: DrillDocument) -> list[str]:
    """Numbers, players, grid, minutes and how hard, as the drill is written."""
    grid, who = document.grids[0], players_words(drill.players_least, drill.players_most)
    return [
        drill.format,
        _("{n} players").format(n=who) if who else _("anyone can join"),
        f"{grid.length_m:g} × {grid.width_m:g} m",
        _("{n} min").format(n=drill.minutes),
        effort_words(float(drill.effort)),
    ]


def run_words(run: RunCounts) -> str:
    """`Run 7 times by 4 coaches`; empty before the first time."""
    if not run.times:
        return ""
    times = ngettext("Run once", "Run {n} times", run.times).format(n=run.times)
    if not run.coaches:
        return times
    by = ngettext("by {n} coach", "by {n} coaches", run.coaches).format(n=run.coaches)
    return f"{times} {by}"


def again_words(run: RunCounts) -> str:
    """`Again? 3 × yes, 1 × change it`; empty where nobody said."""
    said = (
        (run.again, _("{n} × yes")),
        (run.again_changed, _("{n} × change it")),
        (run.not_again, _("{n} × no")),
    )
    counts = ", ".join(words.format(n=n) for n, words in said if n)
    return _("Again? {counts}").format(counts=counts) if counts else ""


def felt_words(said: Sequence[float]) -> str:
    """`Sessions with it felt 5, 6, 5`, latest first; empty where nobody said."""
    if not said:
        return ""
    return _("Sessions with it felt {list}").format(list=", ".join(f"{each:g}" for each in said))


def first_grid(drill: Drill) -> Grid:
    """The grid that a drill is played in unless said otherwise."""
    assert drill.current_revision is not None
    return document_of(drill.current_revision).grids[0]


def players_words(least: int | None, most: int | None) -> str:
    """`12`, `8–14`, `6 or more`."""
    if least is None:
        return ""
    if most is None:
        return _("{least} or more").format(least=least)
    return f"{least}" if least == most else f"{least}–{most}"


@remembered(most_bytes=4 * MIB, key=lambda sha256, document, key="": (sha256, key, get_language()))
def thumbnail(sha256: str, document: DrillDocument, key: str = "") -> SafeString:
    """The small plan of a drill as it is written, drawn once per content."""
    return _small(sha256, key, scene_as_written(document, key))


def _drawn_key(sha256: str, tonight: Played) -> tuple[str, str, str, str | None]:
    return sha256, tonight.rung, repr(tonight.first), get_language()


@remembered(most_bytes=2 * MIB, key=_drawn_key)
def drawn_for(sha256: str, tonight: Played) -> SafeString:
    """The small plan of a drill's first grid as it is set up, drawn once per content and look."""
    return _small(sha256, tonight.rung, scene_of(tonight))


def _small(sha256: str, key: str, scene: Scene) -> SafeString:
    prefix = f"t{sha256[:10]}{key}-"
    options = DrawingOptions(thumbnail=True, legend=False, hatched="no", prefix=prefix, translate=_)
    return mark_safe(render(scene, options=options))


def evening_wanted(wanted: DrillSearch, stock: Stock, *, as_written: int) -> Evening:
    """Tonight as a search says it; a drill that nobody said players for is played by as many as it is written for."""
    return Evening(
        players=wanted.players or max(as_written, wanted.keepers or 1),
        keepers=wanted.keepers,
        adults=wanted.adults,
        ages=wanted.ages,
        pieces=typed_ground(wanted.length, wanted.width),
        kit=stock,
    )


@dataclass(frozen=True)
class _Runs:
    """How a drill is run with what was asked, and the kit that it lacks where no other way has enough."""

    setup: Fitted
    tonight: Played
    short_of: str = ""


def _runs(document: DrillDocument, key: str, wanted: DrillSearch, stock: Stock) -> _Runs | None:
    if not wanted.asks_for_room:
        return None
    as_written = Format.parse(played(document, key).format).players
    evening = evening_wanted(wanted, stock, as_written=as_written)
    if best := fits(document, key, evening, most=1):
        return _Runs(best[0], dressed(document, key, best[0], evening))
    plenty = replace(evening, kit={})
    without = fits(document, key, plenty, most=1)
    if not without:
        return None
    lacks = shortages(without[0].kit, dict(stock))
    more = ", ".join(f"{count} {kit_word(kind, count)}" for kind, count in sorted(lacks.items()))
    return _Runs(without[0], dressed(document, key, without[0], plenty), more)


def numbers_and_place(setup: Fitted) -> str:
    """`5v5+2 on 32 × 24 m, one grid`."""
    size = f"{setup.length_m:g} × {setup.width_m:g} m"
    grids = _("one grid") if setup.grids == 1 else _("{n} grids").format(n=setup.grids)
    text = _("{numbers} on {size}, {grids}").format(
        numbers=joined(dict.fromkeys(str(each) for each in setup.grid_formats), _), size=size, grids=grids
    )
    if setup.waiting:
        text += ", " + ngettext("{n} off in turn", "{n} off in turn", setup.waiting).format(n=setup.waiting)
    return text


def filters_on(
    wanted: DrillSearch, params: Mapping[str, str], themes: Mapping[str, str]
) -> list[tuple[str, str]]:
    """What is looked for, word by word, and the query string that no longer asks for it."""
    kept = {name: params[name] for name in params if name != "page" and params[name]}
    return [
        (said, urlencode({key: value for key, value in kept.items() if key != name}))
        for name, said in _filters(wanted, themes).items()
        if said
    ]


def _filters(wanted: DrillSearch, themes: Mapping[str, str]) -> dict[str, str]:
    """The words by parameter; empty for what is not asked."""
    return {
        "q": wanted.format or (_("“{words}”").format(words=wanted.q) if wanted.q else ""),
        "players": _with_number(ngettext("{n} player", "{n} players", wanted.players or 0), wanted.players),
        "keepers": _with_number(ngettext("{n} keeper", "{n} keepers", wanted.keepers or 0), wanted.keepers),
        "length": _with_number(_("{n} m long"), wanted.length),
        "width": _with_number(_("{n} m wide"), wanted.width),
        "minutes": _with_number(_("{n} min"), wanted.minutes),
        "effort_max": _with_number(_("effort up to {n}"), wanted.effort_max),
        "kit": ", ".join(f"{count} {kit_word(kind, count)}" for kind, count in wanted.kit),
        "age_group": wanted.age_group,
        "theme": theme_word(wanted.theme, themes),
        "activity": activity_word(wanted.activity),
        "state": str(DrillState(wanted.state).label) if wanted.state else "",
        "mine": _("mine") if wanted.mine else "",
        "favourite": _("saved") if wanted.favourite else "",
        "retired": _("retired") if wanted.retired else "",
    }


def _with_number(words: str, n: float | None) -> str:
    return "" if n is None else words.format(n=f"{n:g}")
