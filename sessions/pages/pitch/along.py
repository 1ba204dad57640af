"""What a phone takes along for an evening without signal: by number of players what each part becomes, and plan B.

One computation of what is nearest for so many; pieces of the page that are alike are there once, answers name them by number.
Nothing of names stands in it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from django.template.loader import render_to_string
from django.utils.html import format_html_join
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from club.actor import Actor
from club.caches import MIB, remembered
from drills.choices import kit_word
from drills.game.evening import Evening, PlayerAges
from drills.game.fit import SetUp
from drills.game.fit.serialize import as_plain
from drills.game.fits import fits
from drills.game.format import MOST_PLAYERS
from drills.game.played import Played, as_played, dressed
from drills.game.rooms import ENGINE_VERSION
from drills.queries import StationDrill, club_stock
from sessions.bridge import setup_as_kept, setup_kept
from sessions.pages.pitch.coaching import coaching_of
from sessions.pages.pitch.fitting import picture_of_run, title_of
from sessions.pages.pitch.rungs import ladder_of, rung_shown
from sessions.pages.pitch.tonight import headline, in_words, more_kit
from sessions.queries.evening import ages_of, evening_of, station_evening, with_players
from sessions.queries.nearest import Instead, instead_tonight, swapped_in
from sessions.queries.pitch import HEADLINE
from sessions.queries.plan import PartView, SessionView, session_view
from sessions.queries.set_up import ToSetUp, stations_to_set_up
from sessions.queries.station import StationView

if TYPE_CHECKING:
    from sessions.models import TrainingSession

# A kind of its own, so that it travels compressed: JSON of the API does not, whose tags are asked for strong.
TAKEN_ALONG = "application/vnd.bibrack.along+json"
FORM = 2  # rises with any change of what the phone reads
NEAR = 4  # so many players more and fewer than expected are worked out beforehand
USUAL_BOUTS = 6  # rounds that a plan B's turns are told for; the part keeps its own clock
PREFIX = "along-"  # of names inside pictures: the phone puts one of its own for each part


@dataclass(frozen=True)
class TakenAlong:
    """`tag` stands for everything that the answer depends on: who has it under this tag needs nothing new."""

    tag: str
    asked: _Asked

    def as_json(self) -> bytes:
        """All of it. Computes; asks the database nothing."""
        return _made(self.tag, self.asked)


@dataclass(frozen=True)
class _Asked:
    """What is at hand before anything is worked out."""

    view: SessionView
    evening: Evening  # the session's own
    ages: PlayerAges
    near: Mapping[str, Evening]  # by part, what its first station is asked for before anybody types
    everything: Mapping[int, list[ToSetUp]]  # by number of players
    instead: list[Instead]

    @property
    def numbers(self) -> range:
        players = self.view.players
        return range(max(1, players - NEAR), min(MOST_PLAYERS, players + NEAR) + 1)


def taken_along(actor: Actor, session: TrainingSession) -> TakenAlong:
    """What goes along of a session whose rows are at hand. No query beyond kit, settings, figures in force and plan B."""
    stock = club_stock()
    view = session_view(session, k=1.0, judged=False, stock=stock)
    near = {
        str(part.row.public_id): station_evening(session, part.first.row, kit=stock)
        for part in view.parts
        if part.first is not None and part.first.drill is not None
    }
    evening = evening_of(session, players=view.players, kit=stock)
    asked = _Asked(
        view,
        evening,
        ages_of(session.age_group),
        near,
        {},
        [*instead_tonight(actor, view, evening), *swapped_in(view, evening)],
    )
    everything = {players: stations_to_set_up(session, players, kit=stock) for players in asked.numbers}
    asked = replace(asked, everything=everything)
    return TakenAlong(_tag(asked), asked)


def _tag(asked: _Asked) -> str:
    """A pinned revision never changes: its digest stands for its document."""
    told = [FORM, ENGINE_VERSION, get_language(), asked.view.players, asked.evening.fit_key()]
    for part in asked.view.parts:
        told.append((str(part.row.public_id), part.title, part.row.bouts))
        if near := asked.near.get(str(part.row.public_id)):
            told.append(near.fit_key())
        told += [(each.drill and each.drill.sha256, _kept_of(each), each.ages) for each in part.stations]
        told += [each.evening.fit_key() for each in part.stations if each.evening]
    for players, stations in asked.everything.items():
        told += [(players, each.rung, each.evening.fit_key(), each.holds) for each in stations]
    told += [
        (each.drill.sha256, each.key, each.drill.title, sorted(each.fetch.items()), each.offered)
        for each in asked.instead
    ]
    return hashlib.sha256(repr(told).encode()).hexdigest()[:32]


def _kept_of(station: StationView) -> str:
    kept = setup_kept(station.row)
    return f"{station.row.variation_key} {json.dumps(as_plain(kept), sort_keys=True) if kept else ''}"


@remembered(most_bytes=2 * MIB, key=lambda tag, asked: tag)
def _made(tag: str, asked: _Asked) -> bytes:
    table = _Table()
    parts = {}
    for part in asked.view.parts:
        key = str(part.row.public_id)
        if key in asked.near:
            parts[key] = {
                **_plays(part),
                "ladder": _ladder(table, part, asked.ages),
                "near": _near(table, part, asked.near[key], asked.numbers),
                "all": {players: _all(table, part, asked.everything[players]) for players in asked.numbers},
            }
    plain = {
        "form": FORM,
        "tag": tag,
        "least": asked.numbers[0],
        "most": asked.numbers[-1],
        "parts": parts,
        "instead": [_instead(table, each) for each in asked.instead],
        "answers": table.answers,
        "html": list(table.pieces),
    }
    return json.dumps(plain, ensure_ascii=False, separators=(",", ":")).encode()


@dataclass
class _Table:
    """Pieces of the page and answers, each there once, by number."""

    pieces: dict[str, int] = field(default_factory=dict)
    answers: list[dict[str, Any]] = field(default_factory=list)
    known: dict[Any, int] = field(default_factory=dict)

    def piece(self, html: str) -> int:
        """The number of a piece of the page."""
        return self.pieces.setdefault(html.strip(), len(self.pieces))

    def answer(self, key: Any, make: Callable[[], dict[str, Any]]) -> int:
        """The number of an answer; it is made where it is not known yet."""
        if key not in self.known:
            self.known[key] = len(self.answers)
            self.answers.append({})  # its place, while it is made
            self.answers[self.known[key]] = make()
        return self.known[key]


@dataclass(frozen=True)
class ForSoMany:
    """What is nearest to a drill on an evening; `why` says why there is nothing."""

    evening: Evening
    setup: SetUp | None
    why: tuple[str, ...] = ()


def nearest_to(drill: StationDrill, rung: str, evening: Evening) -> ForSoMany:
    """What is nearest to a variation of a drill on an evening."""
    found = fits(drill.document, rung, evening, most=1)
    if found:
        return ForSoMany(evening, found[0])
    return ForSoMany(evening, None, tuple(each.said(_) for each in found.refusals))


def _near(table: _Table, part: PartView, evening: Evening, numbers: range) -> dict[int, dict[str, Any]]:
    """By number of players, what a part's first station becomes."""
    assert part.first is not None
    assert part.first.drill is not None
    drill, rung = part.first.drill, part.first.row.variation_key
    return {
        players: _answered(
            table, drill, rung, nearest_to(drill, rung, with_players(evening, players)), part.row.bouts
        )
        for players in numbers
    }


def _ladder(table: _Table, part: PartView, ages: PlayerAges) -> list[int | None]:
    """The piece that each rung's plan is; None for the planned one's, which the page has."""
    found = ladder_of(part, ages)
    if found is None:
        return []
    return [
        None if each.plan == found.now.plan else table.piece(found.plans[each.plan]) for each in found.rungs
    ]


def _all(table: _Table, part: PartView, asked: list[ToSetUp]) -> list[dict[str, Any]]:
    """What becomes of a part's stations when everything is set up; `holds`: it stays as it is."""
    return [_row(table, part, each) for each in asked if each.part.pk == part.row.pk]


def _row(table: _Table, part: PartView, asked: ToSetUp) -> dict[str, Any]:
    first = part.first is not None and part.first.row.pk == asked.station.pk
    found = nearest_to(asked.drill, asked.rung, asked.evening)
    kept = setup_kept(asked.station)
    return {
        "station": None if first else str(asked.station.public_id),
        "title": asked.drill.title,
        "holds": asked.holds,
        "now": headline(kept.setup) if kept else "",
        **_answered(table, asked.drill, asked.rung, found, part.row.bouts, whole=first),
    }


def _answered(
    table: _Table, drill: StationDrill, rung: str, found: ForSoMany, bouts: int, *, whole: bool = True
) -> dict[str, Any]:
    """The number of an answer, with the pieces that take the place of the page's own where it is `whole`; else why there is none."""
    setup = found.setup
    if setup is None:
        return {"why": list(found.why)}
    kept = setup_as_kept(setup, drill.document, rung, found.evening)
    event = {**{name: getattr(setup, name) for name in HEADLINE}, "kept": kept}

    def make() -> dict[str, Any]:
        run = dressed(drill.document, rung, setup, found.evening)
        return {
            "rung": rung,
            "setup": event,
            "title": title_of(setup),
            "headline": headline(setup),
            "why": [each.said(_) for each in setup.reasons],
            "rotation": setup.rotation_said(_),
            "more": more_kit(run),
            **(_pieces(table, run, bouts) if whole else {}),
        }

    key = (drill.sha256, rung, bouts, json.dumps(event, sort_keys=True), whole)
    return {"answer": table.answer(key, make)}


def _pieces(table: _Table, run: Played, bouts: int) -> dict[str, int]:
    """By name, the pieces of one drill as it is run: what the page shows of a part, and on one rung alone."""
    coaching, rungs = coaching_of(run.document), [rung_shown(run, run.rung)]
    shown = {
        "teams": _html("teams", set_up=in_words(run, bouts)),
        "plan": str(picture_of_run(run, PREFIX)),
        "condition": _html("condition", rungs=rungs),
        "rules": _html("rules", rungs=rungs),
        "say": format_html_join("", "<li>{}</li>", ((each,) for each in coaching.say)),
        "coaching": _html("coaching", coaching=coaching),
        "safety": _html("safety", coaching=coaching),
    }
    return {name: table.piece(html) for name, html in shown.items()}


def _html(name: str, **context: Any) -> str:
    return render_to_string(f"sessions/pitch/{name}.html", context).strip()


def _plays(part: PartView) -> dict[str, Any]:
    """What a part plays, as an event names it where another part takes it over."""
    assert part.first is not None
    assert part.first.drill is not None
    drill = part.first.drill
    return {"drill": str(drill.drill_public_id), "revision": drill.revision_number}


def _instead(table: _Table, each: Instead) -> dict[str, Any]:
    """A drill of the library that could be played tonight in a part's place."""
    drill = each.drill
    more = [f"{n} {kit_word(kind, n)}" for kind, n in each.fetch.items()]
    found = ForSoMany(each.evening, each.setup)
    answer = _answered(table, drill, each.key, found, USUAL_BOUTS)
    if each.setup is None:
        # It is played all the same: as it is written.
        run = as_played(drill.document, each.key, players=each.evening.ages)
        as_written = {"rung": each.key, **_pieces(table, run, USUAL_BOUTS)}
        answer = {"answer": table.answer((drill.sha256, each.key), lambda: as_written)}
    return {
        "drill": str(drill.drill_public_id),
        "revision": drill.revision_number,
        "title": drill.title,
        "offered": each.offered,
        "fetch": _("Also fetch {kit}.").format(kit=", ".join(more)) if more else "",
        **answer,
    }
