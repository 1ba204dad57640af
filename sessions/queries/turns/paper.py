"""The turns of a station for paper: the same lines as the page, in the reader's language."""

from django.utils.formats import date_format
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from club import queries as club
from sessions.queries.turns.page import BoutLine, PlayerLine, TurnsPage
from sessions.sheet import BoutOnPaper, Hand, PlayerOnPaper, TurnsSheet

KEEPER = "keeper"


def turns_sheet(page: TurnsPage) -> TurnsSheet:
    """What is printed of a page of turns that have been worked out. It names players: for their own staff alone."""
    session = page.session
    return TurnsSheet(
        lang=(get_language() or "en").split("-")[0],
        club=club.club_settings().name,
        title=_("Who plays when: {title}").format(title=page.station.title),
        squad=f"{session.age_group.label} {session.squad.name}",
        when=f"{date_format(session.day, 'D j M Y')}, {session.starts:%H:%M}–{session.ends:%H:%M}",
        part=_("part {number}, {bouts} bouts").format(number=page.part.number, bouts=page.part.row.bouts),
        even=_even(page),
        minutes=(_("inside, min"), _("outside, min"), _("waiting, min"), _("in play")),
        bouts=tuple(_bout(each) for each in page.bouts),
        players=tuple(_player(each) for each in page.players),
        note=_("Names of children: keep it with the staff, and throw it away after training."),
        stamp=int(page.part.times.starts_at.timestamp()),
        labels={
            "bout": _("Bout"),
            "bouts": _("Bout by bout"),
            "who": _("Who is where"),
            "player": _("Player"),
            "players": _("Player by player (in brackets: outside)"),
            "waits": _("waits"),
        },
    )


def _even(page: TurnsPage) -> str:
    assert page.rotation is not None
    spread, bound = (
        f"{each:.1f}".removesuffix(".0") for each in (page.rotation.spread_min, page.rotation.bound_min)
    )
    return _(
        "Turns of standing out differ by {spread} min at most; no plan can do better than {bound} min."
    ).format(spread=spread, bound=bound)


def _bout(line: BoutLine) -> BoutOnPaper:
    hands = tuple(
        Hand(
            _("in goal") if each.bib == KEEPER else each.bib,
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
        return _("waits")
    if place == "away":
        return "–"
    word = _("goal") if bib == KEEPER else bib
    return f"({word})" if place == "outside" else word
