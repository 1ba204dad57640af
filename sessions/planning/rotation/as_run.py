"""Who was in play for how long on a night that was: rounds as they were run, who was where in each, and who was there.

Share = minutes in play, inside or outside, ÷ minutes there (`rotation.Shares`), both in rounds of which it is known who
played; nothing is guessed of the others.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from sessions.planning.account import PartAccount
from sessions.planning.fold.state import RegisterLine
from sessions.planning.plan import PlannedPart
from sessions.planning.rotation.tonight import INSIDE, OUTSIDE, PeopleBout, Shares

# turns: the players' turns were worked out. everybody: its set-up left nobody off. not_known: neither.
WhoPlayed = Literal["turns", "everybody", "not_known"]
NOBODY = Shares(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Round:
    """A round as it was run: when it lay, and how many seconds of it were play (holds lie in it, too)."""

    number: int
    starts_at: datetime
    ends_at: datetime
    play_s: float


@dataclass(frozen=True, slots=True)
class PartPlayed:
    """A part that was run, its rounds, and who was where: by round where turns were worked out."""

    key: str
    rounds: tuple[Round, ...]
    who: WhoPlayed
    turns: Mapping[int, PeopleBout]


def rounds_run(part: PlannedPart, cost: PartAccount, starts_at: datetime) -> tuple[Round, ...]:
    """The rounds that were begun, from the part's start. They share its play as run: all whole but the last.

    Where the part took longer than its rounds and rests (holds), they lie the further apart.
    """
    left_s = part.bouts * part.bout_length_s * cost.work_share
    play: list[float] = []
    for number in range(1, cost.bouts + 1):
        play.append(left_s if number == cost.bouts else min(left_s, part.bout_length_s))
        left_s -= play[-1]
    rests_s = part.rest_s * max(0, len(play) - 1)
    stretch = max(1.0, cost.minutes * 60 / (sum(play) + rests_s)) if sum(play) + rests_s else 1.0
    found, begins = [], starts_at
    for number, seconds in enumerate(play, start=1):
        ends = begins + timedelta(seconds=seconds * stretch)
        found.append(Round(number, begins, ends, seconds))
        begins = ends + timedelta(seconds=part.rest_s * stretch)
    return tuple(found)


def in_play(parts: Iterable[PartPlayed], register: Mapping[str, RegisterLine]) -> dict[str, Shares]:
    """Minutes inside, outside and waiting of everybody on the register, over the rounds of which it is known who played.

    A round counts for a player as far as they were there and took part. Who was there and is named in no place of it,
    and of whom no more than some minutes were wanted where no turns say when, is not known of.
    """
    known = [part for part in parts if part.who != "not_known"]
    return {key: _of_player(key, line, known) for key, line in register.items()}


def _of_player(key: str, line: RegisterLine, parts: Sequence[PartPlayed]) -> Shares:
    found = NOBODY
    for part in parts:
        for each in part.rounds:
            there = minutes_there(line, each)
            if there:
                found = found.plus(_in_place(_place(key, line, part, each), there))
    return found


def _place(key: str, line: RegisterLine, part: PartPlayed, each: Round) -> str:
    if part.who == "everybody":
        return INSIDE if line.at_most_min is None else ""
    bout = part.turns.get(each.number)
    return bout.place_of(key)[0] if bout else ""


def _in_place(place: str, minutes: float) -> Shares:
    return Shares(
        minutes if place == INSIDE else 0.0,
        minutes if place == OUTSIDE else 0.0,
        minutes if place == "waiting" else 0.0,
    )


def minutes_there(line: RegisterLine, each: Round) -> float:
    """Minutes of play in a round that a player was there for and took part in."""
    whole_s = (each.ends_at - each.starts_at).total_seconds()
    if line.state == "absent" or whole_s <= 0:
        return 0.0
    there_s = 0.0
    for spell in line.spells:
        if spell.taking_part:
            begins = max(spell.starts_at or each.starts_at, each.starts_at)
            ends = min(spell.ends_at or each.ends_at, each.ends_at)
            there_s += max(0.0, (ends - begins).total_seconds())
    return each.play_s / 60 * min(1.0, there_s / whole_s)


def most_there(rounds: Iterable[Round], register: Mapping[str, RegisterLine]) -> int:
    """The most players of the register that took part in any one of these rounds, for some of it at least."""
    counts = (sum(minutes_there(line, each) > 0 for line in register.values()) for each in rounds)
    return max(counts, default=0)
