"""A rotation as it is shown: bout by bout, player by player, and minutes for the night and four weeks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from django.utils.formats import date_format
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from club import queries as club
from club.actor import Actor
from club.choices import bib_word
from club.letters import isolated
from sessions.choices import TOOK_PLACE
from sessions.planning.clock import clock_text
from sessions.planning.rotation import PeopleBout, PeopleRotation, Shares
from sessions.planning.rotation.tonight import KEEPER
from sessions.queries.plan import PartView
from sessions.queries.station import StationView
from sessions.queries.turns.asked import Here, RotationPlaces, here, places_of
from sessions.queries.turns.serialize import MOST_PAIRS, PairWish, as_rotation, kept_pairs, kept_turns
from sessions.queries.turns.winners import WinnerStays, winner_stays
from sessions.sheet import BoutOnPaper, Hand, PlayerOnPaper, TurnsSheet

if TYPE_CHECKING:
    from sessions.models import TrainingSession

NONE = Shares(0, 0, 0)


@dataclass(frozen=True)
class BibLine:
    """A bib in one bout: its place in words, and who wears it."""

    bib: str
    place: str
    names: str


@dataclass(frozen=True)
class BoutLine:
    number: int
    clock: str
    bibs: list[BibLine]
    waiting: str
    away: str
    loans: list[str]


@dataclass(frozen=True)
class PlayerLine:
    """One player's way through the bouts (place, bib), and minutes tonight and over four weeks, tonight among them."""

    name: str
    shirt: int | None
    cells: list[tuple[str, str]]
    night: Shares
    weeks: Shares


@dataclass(frozen=True)
class TurnsPage:
    """The page. `rotation` is None before anything was worked out; `changed` says that others are here now."""

    session: TrainingSession
    part: PartView
    station: StationView
    places: RotationPlaces
    people: list[Here]
    rotation: PeopleRotation | None
    keepers: list[str]
    bouts: list[BoutLine]
    players: list[PlayerLine]
    changed: bool
    winners: list[WinnerStays] = field(default_factory=list)
    pairs: list[PairWish] = field(default_factory=list)
    version: int = 0  # how often it was worked out

    @property
    def pair_rows(self) -> list[PairWish | None]:
        """The pairs that there are, and one or two empty rows to add some."""
        return [*self.pairs, *[None] * min(2, MOST_PAIRS - len(self.pairs))]

    @property
    def grids_without_winners(self) -> list[int]:
        """Grids where nobody can stay on while at others somebody can."""
        staying = {each.grid for each in self.winners}
        every = range(1, len(self.places.grids) + 1)
        return [number for number in every if staying and number not in staying]

    @property
    def short_of(self) -> int:
        """How many players fewer are here than there are places."""
        return max(0, self.places.total - len(self.people))


def turns_page(actor: Actor, session: TrainingSession, part: PartView, station: StationView) -> TurnsPage:
    """Work the page out. Names are those that this person may read."""
    people = here(actor, session, part)
    places = places_of(station, part.row.bouts)
    kept = kept_turns(session, station.row.public_id)
    rotation = as_rotation(kept["bouts"], kept["facts"]) if kept and kept["bouts"] else None
    names = {each.player.id: each.player for each in people}
    lines = _player_lines(session, rotation, people) if rotation else []
    told = {key: _named(player.name, player.shirt) for key, player in names.items()}
    return TurnsPage(
        session=session,
        part=part,
        station=station,
        places=places,
        people=people,
        rotation=rotation,
        keepers=list(kept["facts"].get("keepers", [])) if kept else [],
        bouts=[_bout_line(each, part, told) for each in rotation.bouts] if rotation else [],
        players=lines,
        changed=rotation is not None and set(rotation.names) != set(names),
        winners=winner_stays(places, part, kept),
        pairs=kept_pairs(kept),
        version=kept["version"] if kept else 0,
    )


def _named(name: str, shirt: int | None) -> str:
    return f"{isolated(name)} ({shirt})" if shirt else isolated(name)


def _bout_line(bout: PeopleBout, part: PartView, told: dict[str, str]) -> BoutLine:
    clocks = {each.number: each for each in part.times.spells if each.kind == "bout"}
    spell = clocks.get(bout.number)
    gone = _("somebody who is not here any more")
    return BoutLine(
        number=bout.number,
        clock=f"{clock_text(spell.starts_at)}–{clock_text(spell.ends_at)}" if spell else "",
        bibs=[BibLine(each.bib, each.place, _listed(each.names, told)) for each in bout.teams if each.names],
        waiting=_listed(bout.waiting, told),
        away=_listed(bout.away, told),
        loans=[
            _("{name} plays for {bib}").format(name=told.get(name, gone), bib=bib_word(bib))
            for name, _own, bib in bout.loans
        ],
    )


def _listed(ids: Iterable[str], told: dict[str, str]) -> str:
    """Names in a row; a line ends between two of them, never inside one."""
    return ", ".join(told[each].replace(" ", "\N{NO-BREAK SPACE}") for each in ids if each in told)


def _player_lines(session: TrainingSession, rotation: PeopleRotation, people: list[Here]) -> list[PlayerLine]:
    night = rotation.shares()
    before = _four_weeks(session)
    return [
        PlayerLine(
            name=each.player.name,
            shirt=each.player.shirt,
            cells=[bout.place_of(each.player.id) for bout in rotation.bouts],
            night=night.get(each.player.id, NONE),
            weeks=before.get(each.player.id, NONE),
        )
        for each in people
        if each.player.id in night
    ]


def _four_weeks(session: Any) -> dict[str, Shares]:
    """Minutes of the squad's last four weeks that have been kept, and of every part of tonight. No query."""
    rows: list[dict[str, Any]] = session.turns_rows
    total: dict[str, Shares] = {}
    for row in rows:
        if not row["bouts"] or (row["session"] != session.pk and row["state"] not in TOOK_PLACE):
            continue
        for key, each in as_rotation(row["bouts"], row["facts"]).shares().items():
            total[key] = total.get(key, NONE).plus(each)
    return total


# --- on paper ---


def turns_sheet(page: TurnsPage) -> TurnsSheet:
    """What is printed of a page of turns that have been worked out. It names players: for their own staff alone."""
    session = page.session
    return TurnsSheet(
        lang=(get_language() or "en").split("-")[0],
        club=club.club_settings().name,
        title=_("Who plays when: {title}").format(title=page.station.title),
        squad=f"{session.age_group.label} {session.squad.name}",
        when=f"{date_format(session.day, 'D j M Y')}, {session.starts:%H:%M}–{session.ends:%H:%M}",
        part=_("part {number}, {bouts} rounds").format(number=page.part.number, bouts=page.part.row.bouts),
        even=_even(page),
        minutes=(_("inside, min"), _("outside, min"), _("off, min"), _("in play")),
        bouts=tuple(_bout(each) for each in page.bouts),
        players=tuple(_player(each) for each in page.players),
        note=_("Names of children: keep it with the staff, and throw it away after training."),
        stamp=int(page.part.times.starts_at.timestamp()),
        labels={
            "bout": _("Round"),
            "bouts": _("Round by round"),
            "who": _("Who is where"),
            "player": _("Player"),
            "players": _("Player by player (in brackets: outside)"),
            "waits": _("off"),
        },
    )


def _even(page: TurnsPage) -> str:
    assert page.rotation is not None
    spread, bound = (
        f"{each:.1f}".removesuffix(".0") for each in (page.rotation.spread_min, page.rotation.bound_min)
    )
    return _("Time off differs by {spread} min at most; no plan can do better than {bound} min.").format(
        spread=spread, bound=bound
    )


def _bout(line: BoutLine) -> BoutOnPaper:
    hands = tuple(
        Hand(
            _("in goal") if each.bib == KEEPER else bib_word(each.bib),
            _("outside") if each.place == "outside" else "",
            _kept_together(each.names),
        )
        for each in line.bibs
    )
    away = (_("not there: {names}").format(names=line.away),) if line.away else ()
    return BoutOnPaper(line.number, line.clock, hands, _kept_together(line.waiting), (*line.loans, *away))


def _kept_together(names: str) -> str:
    """A name and its number stand on one line."""
    return names.replace(" (", "\u00a0(")


def _player(line: PlayerLine) -> PlayerOnPaper:
    night = line.night
    share = "–" if night.share is None else f"{100 * night.share:.0f}\u00a0%"
    minutes = (night.inside_min, night.outside_min, night.waiting_min)
    return PlayerOnPaper(
        name=line.name,
        shirt=str(line.shirt or ""),
        cells=tuple(_cell(place, bib) for place, bib in line.cells),
        waits=tuple(place == "waiting" for place, _bib in line.cells),
        minutes=(*(f"{each:.1f}".removesuffix(".0") for each in minutes), share),
    )


def _cell(place: str, bib: str) -> str:
    if place == "waiting":
        return _("off")
    if place == "away":
        return "–"
    word = _("goal") if bib == KEEPER else bib_word(bib)
    return f"({word})" if place == "outside" else word
