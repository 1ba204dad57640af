"""Checks shared by pages and API before something is written. Each returns problems beside the field."""

from collections.abc import Sequence
from datetime import date, time, timedelta
from typing import Protocol

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from club.errors import FieldProblem
from club.validators import line_problems
from drills.game.format import MOST_PLAYERS  # as many as Fit can answer for

SHORTEST_MINUTES = 10
LONGEST_MINUTES = 240
MOST_PARTS = 12
MOST_STATIONS = 6
MOST_STATIONS_IN_ALL = 24  # what an evening of many groups needs, and what a sheet can hold
MOST_PART_MINUTES = 120


class StationLike(Protocol):
    """What `parts_problems` looks at of a station."""

    @property
    def group(self) -> str: ...
    @property
    def place(self) -> str: ...


class PartLike(Protocol):
    """What `parts_problems` looks at; see `actions.PartInput`."""

    @property
    def minutes(self) -> int: ...
    @property
    def bouts(self) -> int: ...
    @property
    def bout_s(self) -> int: ...
    @property
    def rest_s(self) -> int: ...
    @property
    def changeover_s(self) -> int: ...
    @property
    def effort(self) -> float: ...
    @property
    def title(self) -> str: ...
    @property
    def stations(self) -> Sequence["StationLike"]: ...


def minutes_between(starts: time, ends: time) -> int:
    """Whole minutes from–to on one day; negative when the end is before the start."""
    return (ends.hour - starts.hour) * 60 + ends.minute - starts.minute


def when_problems(
    day: date, starts: time, ends: time, *, season: tuple[date, date] | None
) -> list[FieldProblem]:
    """A session's day and times."""
    minutes = minutes_between(starts, ends)
    found = []
    if minutes <= 0:
        found.append(FieldProblem("ends", _("The end must be after the start.")))
    elif minutes < SHORTEST_MINUTES:
        found.append(
            FieldProblem(
                "ends",
                _("A session lasts at least {shortest_minutes} minutes.").format(
                    shortest_minutes=SHORTEST_MINUTES
                ),
            )
        )
    elif minutes > LONGEST_MINUTES:
        found.append(
            FieldProblem("ends", _("A session lasts at most {n} hours.").format(n=LONGEST_MINUTES // 60))
        )
    if season and not season[0] <= day < season[1]:
        last = season[1] - timedelta(days=1)
        found.append(
            FieldProblem(
                "day",
                _("The season runs from {first} to {last}.").format(
                    first=date_format(season[0], "d M Y"), last=date_format(last, "d M Y")
                ),
            )
        )
    return found


def players_problems(players: int) -> list[FieldProblem]:
    if 1 <= players <= MOST_PLAYERS:
        return []
    return [
        FieldProblem(
            "players_expected",
            _("Say how many players you expect, from 1 to {most_players}.").format(most_players=MOST_PLAYERS),
        )
    ]


def parts_problems(parts: Sequence[PartLike]) -> list[FieldProblem]:
    """Parts of a session, each on its own; whether the minutes add up is a reason shown, not a refusal."""
    found = []
    if len(parts) > MOST_PARTS:
        found.append(FieldProblem("parts", _("At most {most_parts} parts.").format(most_parts=MOST_PARTS)))
    if sum(len(part.stations) for part in parts) > MOST_STATIONS_IN_ALL:
        found.append(
            FieldProblem(
                "parts",
                _("At most {most_stations_in_all} stations in one session.").format(
                    most_stations_in_all=MOST_STATIONS_IN_ALL
                ),
            )
        )
    for index, part in enumerate(parts):
        found += _part_problems(part, f"parts[{index}]")
    return found


def _part_problems(part: PartLike, field: str) -> list[FieldProblem]:
    checks = (
        (1 <= part.minutes <= MOST_PART_MINUTES, "minutes", f"From 1 to {MOST_PART_MINUTES} minutes."),
        (1 <= part.bouts <= 40, "bouts", "From 1 to 40 rounds."),
        (10 <= part.bout_s <= 7200, "bout_s", "A round lasts at least 10 seconds."),
        (0 <= part.rest_s <= 1200, "rest_s", "A rest lasts at most 20 minutes."),
        (0 <= part.changeover_s <= 1800, "changeover_s", "A changeover takes at most 30 minutes."),
        (0 <= part.effort <= 10, "effort", "Effort goes from 0 (rest) to 10 (maximal)."),
        (len(part.stations) <= MOST_STATIONS, "stations", f"At most {MOST_STATIONS} stations at a time."),
    )
    found = [FieldProblem(f"{field}.{name}", text) for fine, name, text in checks if not fine]
    found += line_problems(**{f"{field}.title": part.title.strip()})
    for index, station in enumerate(part.stations):
        beside = f"{field}.stations[{index}]"
        found += line_problems(**{f"{beside}.group": station.group, f"{beside}.place": station.place})
    return found
