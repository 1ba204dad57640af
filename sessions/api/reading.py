"""From checked JSON to what the actions take: outer ids become rows, or a problem with its pointer."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from club import queries as club
from club.errors import FieldProblem, Refused
from sessions.actions import DayAndTimes, PartInput, StationInput, ZonesAndStaff
from sessions.choices import PartKind
from sessions.planning.order import usual_changeover_s
from sessions.planning.rounds import shared_out


def ids(rows: Iterable[Any], wanted: Sequence[UUID], field: str, text: str) -> tuple[int, ...]:
    """Inner ids of rows that are named by their outer ones. Raises Refused for one that isn't there."""
    known = {each.public_id: each.pk for each in rows}
    problems = [FieldProblem(f"{field}[{at}]", text) for at, each in enumerate(wanted) if each not in known]
    if problems:
        raise Refused(problems)
    return tuple(known[each] for each in wanted)


def one(rows: Iterable[Any], wanted: UUID | None, field: str, text: str) -> Any:
    """The row with this outer id; None for none wanted. Raises Refused."""
    if wanted is None:
        return None
    found = next((each for each in rows if each.public_id == wanted), None)
    if found is None:
        raise Refused(text, field)
    return found


def frame(data: Mapping[str, Any]) -> dict[str, Any]:
    """What plan_session and change_session take, from a whole session's JSON."""
    theme = one(club.themes(), data.get("theme"), "theme", "There is no such theme.")
    return {
        "when": DayAndTimes(data["day"], data["starts"], data["ends"]),
        "place": ZonesAndStaff(
            ids(club.zones(), data.get("zones", ()), "zones", "There is no such space."),
            ids(club.coaches(), data.get("staff", ()), "staff", "Nobody on the staff has this id."),
        ),
        "title": data.get("title", ""),
        "theme_id": theme.pk if theme else None,
        "players_expected": data.get("players_expected", 14),
        "note": data.get("note", ""),
        "confirm": data.get("confirm", ""),
    }


def parts(data: Mapping[str, Any]) -> list[PartInput] | None:
    """The parts that were sent; None when they weren't."""
    if "parts" not in data:
        return None
    people = {each.public_id: each.pk for each in club.coaches()}
    between_s = club.club_settings().changeover_s
    return [
        _part(each, people, f"parts[{index}]", usual_changeover_s(index, between_s))
        for index, each in enumerate(data["parts"])
    ]


def _part(data: Mapping[str, Any], people: Mapping[UUID, int], field: str, usual_s: int) -> PartInput:
    bouts, rest = max(1, data["bouts"]), data["rest_s"]
    stations = [
        _station(each, people, f"{field}.stations[{index}]")
        for index, each in enumerate(data.get("stations", ()))
    ]
    return PartInput(
        kind=PartKind(data["kind"]),
        title=data["title"],
        minutes=data["minutes"],
        bouts=data["bouts"],
        bout_s=data["bout_s"] if "bout_s" in data else shared_out(data["minutes"], bouts, rest),
        rest_s=rest,
        changeover_s=data.get("changeover_s", usual_s),
        effort=data["effort"],
        stations=tuple(stations),
        public_id=data.get("id"),
        changes_round=data["changes_round"],
    )


def _station(data: Mapping[str, Any], people: Mapping[UUID, int], field: str) -> StationInput:
    adult = data.get("adult")
    if adult is not None and adult not in people:
        raise Refused(_("Nobody on the staff has this id."), f"{field}.adult")
    return StationInput(
        drill_id=data.get("drill"),
        variation_key=data["variation_key"],
        group=data["group"],
        place=data["place"],
        adult_id=people[adult] if adult else None,
        public_id=data.get("id"),
        keep_revision=data["keep_revision"],
        stays=data["stays"],
    )
