"""Winner stays on, as it is shown: each grid's games that were played, the one that is on, and who comes next."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sessions.planning.clock import clock_text
from sessions.planning.rotation import next_game
from sessions.queries.plan import PartView
from sessions.queries.turns.asked import GridBibs, RotationPlaces

MOST_RUNNING = 3
DRAW = "draw"


@dataclass(frozen=True)
class WinnerGame:
    """One bout: who plays whom, who waits in which order, and how it ended (a bib, `draw`, empty before that)."""

    number: int
    clock: str
    playing: tuple[str, str]
    waiting: tuple[str, ...]
    stayed: int
    ended: str = ""


@dataclass(frozen=True)
class WinnerStays:
    """The games of one grid. `on` is the one to be played now, None after the last bout; `cap` is games running."""

    grid: int
    cap: int
    played: list[WinnerGame]
    on: WinnerGame | None

    @property
    def games(self) -> list[WinnerGame]:
        return [*self.played, *([self.on] if self.on else [])]


def winner_stays(places: RotationPlaces, part: PartView, kept: Mapping[str, Any] | None) -> list[WinnerStays]:
    """The games of each grid from what was noted; without grids that have not two sides of one size and one that waits.

    Grids go on by themselves: who waits at one never comes on at another.
    """
    noted: Mapping[str, Any] = (kept or {}).get("facts", {}).get("winners", {})
    return [
        _games(number, bibs, part, noted.get(str(number), {}))
        for number, grid in enumerate(places.grids, start=1)
        if (bibs := _in_turn(grid))
    ]


def _games(grid: int, bibs: Sequence[str], part: PartView, noted: Mapping[str, Any]) -> WinnerStays:
    cap, results = noted.get("cap", MOST_RUNNING), list(noted.get("results", []))
    clocks = [each for each in part.times.spells if each.kind == "bout"]
    playing, waiting, stayed = (bibs[0], bibs[1]), tuple(bibs[2:]), 1
    games: list[WinnerGame] = []
    for number, spell in enumerate(clocks, start=1):
        ended = results[number - 1] if number <= len(results) else ""
        if ended and ended != DRAW and ended not in playing:
            ended = ""  # other bibs are worn than when this was noted
        clock = f"{clock_text(spell.starts_at)}–{clock_text(spell.ends_at)}"
        games.append(WinnerGame(number, clock, playing, waiting, stayed, ended))
        if not ended:
            break
        then = next_game(playing, waiting, None if ended == DRAW else ended, stayed=stayed, cap=cap)
        playing, waiting, stayed = then.playing, then.waiting, then.stayed
    on = games[-1] if games and not games[-1].ended else None
    return WinnerStays(grid, cap, [each for each in games if each.ended], on)


def _in_turn(grid: GridBibs) -> list[str] | None:
    """The bibs of a grid, the two that begin inside first; None where this can't be played."""
    teams = sorted(grid.teams, key=lambda each: each[2] != "inside")
    inside = sum(place == "inside" for _bib, _players, place in teams)
    sizes = [players for _bib, players, _place in teams]
    if inside != 2 or len(teams) < 3 or max(sizes) - min(sizes) > 1:
        return None
    return [bib for bib, _players, _place in teams]
