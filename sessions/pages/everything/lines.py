"""What each part is set up for, and what it becomes for tonight's number: the page, the pitch's list and the API's answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal
from uuid import UUID

from django.utils.translation import gettext as _

from drills import queries as drills
from drills.game.fits import Fits, fits
from drills.pages import assumed
from sessions.bridge import setup_kept
from sessions.pages.pitch.fitting import title_of
from sessions.pages.pitch.tonight import headline
from sessions.queries.evening import evening_of
from sessions.queries.rows import expected_of
from sessions.queries.set_up import ToSetUp, players_tonight, stations_to_set_up

if TYPE_CHECKING:
    from sessions.models import Station, TrainingSession

# holds: its set-up can be played as it is; fits: it would be set up; nothing_fits: it keeps what it has; begun: under way or over.
Standing = Literal["holds", "fits", "nothing_fits", "begun"]


@dataclass(frozen=True)
class StationLine:
    """One station. `now` is its set-up in words, empty where it is played as written; `becomes` the one that it would get.

    `players` are its share of tonight's; `stale` says why its set-up doesn't hold, `reasons` why nothing fits.
    """

    station: Station
    part: str  # its outer id
    number: int
    title: str
    players: int
    standing: Standing
    now: str
    becomes: str
    stale: tuple[str, ...]
    reasons: tuple[str, ...]
    changed: bool  # by the action that this answers


@dataclass(frozen=True)
class AllSetUp:
    """Every station with a drill, for so many players; `assumed` is what Fit took for granted."""

    players: int
    expected: int
    lines: list[StationLine]
    assumed: str

    @property
    def is_wanted(self) -> bool:
        """Whether anything would be set up."""
        return any(each.standing == "fits" for each in self.lines)

    @property
    def left(self) -> list[StationLine]:
        """Those that nothing fits."""
        return [each for each in self.lines if each.standing == "nothing_fits"]

    @property
    def done(self) -> str:
        """What is said when it is done."""
        text = _("Set up for {players}.").format(players=self.players)
        if self.left:
            titles = ", ".join(each.title for each in self.left)
            text += " " + _("Nothing fits {titles}: it stays as it was.").format(titles=titles)
        return text


def all_set_up(
    session: TrainingSession,
    players: int | None = None,
    *,
    changed: frozenset[UUID] = frozenset(),
    kit: Mapping[str, int] | None = None,
) -> AllSetUp:
    """The list for so many; None: who is there by the register, else who is expected. One query where `kit` is not at hand."""
    wanted = players_tonight(session) if players is None else players
    stock = drills.club_stock() if kit is None else kit
    asked = stations_to_set_up(session, wanted, kit=stock)
    return AllSetUp(
        players=wanted,
        expected=expected_of(session),
        lines=[_line(each, changed) for each in asked],
        assumed=assumed(evening_of(session, players=wanted, kit=stock)),
    )


def _line(asked: ToSetUp, changed: frozenset[UUID]) -> StationLine:
    station, kept = asked.station, setup_kept(asked.station)
    standing: Standing
    if asked.begun or asked.holds:
        found, standing = None, "begun" if asked.begun else "holds"
    else:
        found = _found(asked)
        standing = "fits" if found else "nothing_fits"
    return StationLine(
        station=station,
        part=str(asked.part.public_id),
        number=asked.part.position + 1,
        title=_title(asked),
        players=asked.evening.players,
        standing=standing,
        now=headline(kept.setup) if kept else "",
        becomes=title_of(found[0]) if found else "",
        stale=tuple(each.said(_) for each in asked.stale),
        reasons=tuple(each.said(_) for each in found.refusals) if found is not None else (),
        changed=station.public_id in changed,
    )


def _title(asked: ToSetUp) -> str:
    """The drill's title, behind the part's own where it has one."""
    title = asked.drill.title
    return f"{asked.part.title}: {title}" if asked.part.title not in ("", title) else title


def _found(asked: ToSetUp) -> Fits:
    return fits(asked.drill.document, asked.rung, asked.evening)
