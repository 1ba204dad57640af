"""What a session teaches: minutes on each theme, as planned or as run. Counting rules of our own (common practice, no source)."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TaughtPart:
    """A part: its minutes, and of each of its stations the keys of the themes that its drill is on."""

    minutes: float
    stations: Sequence[Sequence[str]]


@dataclass(frozen=True, slots=True)
class OnTheme:
    """Minutes of a team on one theme: `done` as run, `planned` still to come, `meant` by the target (None without one)."""

    done: float = 0.0
    planned: float = 0.0
    meant: float | None = None

    @property
    def gap(self) -> float:
        """Minutes that are neither done nor planned of those that are meant; 0 without a target."""
        return max(0.0, (self.meant or 0.0) - self.done - self.planned)


def theme_minutes(parts: Iterable[TaughtPart]) -> dict[str, float]:
    """Minutes on each theme, by its key. Raises nothing.

    A part's minutes go in equal shares to its stations, since each player is at one of them at a time; a station's minutes count
    whole for every theme of its drill: a game that serves two themes teaches both.
    """
    found: dict[str, float] = {}
    for part in parts:
        for themes in part.stations:
            for theme in dict.fromkeys(themes):
                found[theme] = found.get(theme, 0.0) + part.minutes / len(part.stations)
    return found


def on_themes(
    done: Iterable[Mapping[str, float]],
    planned: Iterable[Mapping[str, float]],
    shares: Mapping[str, int],
    minutes: float,
) -> dict[str, OnTheme]:
    """By theme, those with a target first in their order: minutes of sessions done and planned against the target.

    `shares` in percent of `minutes`, which are all that the team trains in the block, empty slots included. Raises nothing.
    """
    has, will = _sums(done), _sums(planned)
    keys = dict.fromkeys([*shares, *has, *will])
    return {
        key: OnTheme(
            has.get(key, 0.0), will.get(key, 0.0), shares[key] * minutes / 100 if key in shares else None
        )
        for key in keys
    }


def _sums(rows: Iterable[Mapping[str, float]]) -> dict[str, float]:
    found: dict[str, float] = {}
    for row in rows:
        for key, minutes in row.items():
            found[key] = found.get(key, 0.0) + minutes
    return found
