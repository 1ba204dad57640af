"""Winner stays on, with a cap so that nobody stands outside all evening."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sessions.planning.numbers import whole


@dataclass(frozen=True, slots=True)
class NextGame:
    """The next game, who waits in which order, and how many games running the stayer has played."""

    playing: tuple[str, str]
    waiting: tuple[str, ...]
    stayed: int


def next_game(
    playing: tuple[str, str], waiting: Sequence[str], winner: str | None, *, stayed: int = 1, cap: int = 3
) -> NextGame:
    """The winner stays until it has played `cap` games running; then, or after a draw, both go off.

    `stayed` is how many games running the side that stayed last has played, this one included. With one team waiting
    somebody has to stay: after the cap it is the loser, after a draw the side that came on last. Raises ValueError for a
    winner that was not playing, and for `stayed` or `cap` below 1.
    """
    if winner is not None and winner not in playing:
        raise ValueError(f"winner: {winner!r} was not playing")
    whole("stayed", stayed, 1)
    whole("cap", cap, 1)
    if not waiting:
        return NextGame(playing, (), stayed + 1)
    queue = list(waiting)
    if winner is not None and stayed < cap:
        loser = playing[1] if winner == playing[0] else playing[0]
        return NextGame((winner, queue[0]), (*queue[1:], loser), stayed + 1)
    if len(queue) > 1:
        off = playing if winner is None else _loser_first(playing, winner)
        return NextGame((queue[0], queue[1]), (*queue[2:], *off), 1)
    stays = playing[1] if winner in (None, playing[0]) else playing[0]
    leaves = playing[0] if stays == playing[1] else playing[1]
    return NextGame((stays, queue[0]), (leaves,), 1)


def _loser_first(playing: tuple[str, str], winner: str) -> tuple[str, str]:
    return (playing[1], playing[0]) if winner == playing[0] else playing
