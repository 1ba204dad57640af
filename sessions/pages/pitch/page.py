"""Everything that a phone needs for the whole evening, part by part, in the words of the drills."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from drills.queries import club_stock
from sessions.pages.afterwards import asked_efforts, exact_efforts
from sessions.pages.emergency import Emergency, emergency_of
from sessions.pages.laying import LayLine, fetched, goals_caution, goals_size, kit_lines, laying_lines
from sessions.pages.pitch.coaching import Coaching, coaching_of
from sessions.pages.pitch.rungs import RungLadder, RungShown, ladder_of, planned_alone
from sessions.pages.pitch.standing import standing_of
from sessions.pages.pitch.tonight import DrillInWords, tonight_of
from sessions.pages.stations.starting import starting
from sessions.planning.clock import ClockSpell, clock_text
from sessions.queries.evening import ages_of, station_evening
from sessions.queries.pitch import off_by_turns
from sessions.queries.plan import PartView, SessionView, session_view
from sessions.queries.station import StationView

if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class PitchPart:
    """One part as the page shows it; `clock` is what its clock runs on."""

    key: str
    number: int
    title: str
    starts: str
    others: list[str]
    times: list[str]
    clock: dict[str, Any]
    plans: list[SafeString]
    rungs: list[RungShown]
    now: RungShown | None
    coaching: Coaching
    set_up: DrillInWords
    meanwhile: list[str]  # what a spare adult lays for the next part while this one is played
    fetch: list[str]
    stays: list[str]
    next_title: str
    stale: list[str]  # why its set-up is not one for tonight any more


@dataclass(frozen=True)
class PitchPage:
    """The page: the session in short, its parts, and the same as data for the clock."""

    view: SessionView
    parts: list[PitchPart]
    data: dict[str, Any]
    set_up_from: str
    laying: list[LayLine]
    goals_caution: str
    emergency: Emergency

    @property
    def session(self) -> TrainingSession:
        return self.view.row

    @property
    def efforts(self) -> list[tuple[int, str]]:
        """The answers to "How hard was it?"."""
        return asked_efforts()

    @property
    def exact_efforts(self) -> list[tuple[int, str]]:
        """All of the scale."""
        return exact_efforts()


def pitch_page(session: TrainingSession) -> PitchPage:
    """The page of a session whose rows are at hand. Computes; asks the database for documents and settings only."""
    stock = club_stock()
    view = session_view(session, k=1.0, judged=False, stock=stock)  # the pitch is no place for a budget
    ages = ages_of(session.age_group)
    ladders = [planned_alone(ladder_of(part, ages)) for part in view.parts]
    parts = [_part(view, index, found, stock) for index, found in enumerate(ladders)]
    set_up_from = clock_text(view.timetable.set_up_from)
    data = _data(view, parts, off_by_turns(session))
    return PitchPage(
        view, parts, data, set_up_from, laying_lines(view), goals_caution(view), emergency_of(session)
    )


def _spell(spell: ClockSpell) -> str:
    name = _("round {n}").format(n=spell.number) if spell.kind == "bout" else _("rest")
    return f"{name} {spell.clock_text}"


def _part(view: SessionView, index: int, found: RungLadder | None, stock: Mapping[str, int]) -> PitchPart:
    part, station = view.parts[index], view.parts[index].first
    following = view.parts[index + 1] if index + 1 < len(view.parts) else None
    set_up = tonight_of(station)
    evening = station_evening(view.row, station.row, kit=stock) if station else None
    standing = standing_of(part.row, (each.stale for each in part.stations))
    return PitchPart(
        key=str(part.row.public_id),
        number=part.number,
        title=part.title,
        starts=clock_text(part.times.starts_at),
        others=[each.title for each in part.stations[1:]],
        times=[_spell(each) for each in part.times.spells],
        clock={
            **_clock(part, found),
            **_drawn_as(station),
            **asdict(standing),
            "stations": sum(each.drill is not None for each in part.stations),
            "starts": vars(starting(evening)) if evening else {},
            "turns": set_up.turns_rows,
        },
        plans=found.plans if found else [],
        rungs=found.rungs if found else [],
        now=found.now if found else None,
        coaching=coaching_of(station.document if station else None),
        set_up=set_up,
        meanwhile=[
            each
            for lay in view.laying.laid_at("during", index)
            for each in kit_lines(lay.kit, goals_size(view))
        ],
        fetch=kit_lines(fetched(view, index + 1), goals_size(view)) if following else [],
        stays=kit_lines(view.laying.stays(index + 1)) if following else [],
        next_title=following.title if following else "",
        stale=standing.stale,
    )


def _drawn_as(station: StationView | None) -> dict[str, Any]:
    """The set-up that the page draws a part with, as an event would name it: what a phone hears of again needs no new plan."""
    if station is None or station.setup is None:
        return {}
    setup = station.setup
    return {
        "drawn": {name: getattr(setup, name) for name in ("numbers", "grids", "players_total", "waiting")}
    }


def _clock(part: PartView, found: RungLadder | None) -> dict[str, Any]:
    """What the phone's clock runs on, in seconds and in milliseconds since 1970."""
    row = part.row
    return {
        "key": str(row.public_id),
        "title": part.title,
        "from": int(part.times.starts_at.timestamp() * 1000),
        "minutes": row.minutes,
        "bouts": row.bouts,
        "bout_s": row.bout_s,
        "rest_s": row.rest_s,
        "rungs": [_rung(each) for each in found.rungs] if found else [],
        "rung": next((n for n, each in enumerate(found.rungs) if each.is_now), 0) if found else 0,
    }


def _rung(each: RungShown) -> dict[str, Any]:
    """`easier`, `harder` and `back` are the keys of the rungs that the buttons lead to; null for none."""
    return {"key": each.key, "side": each.side, "plan": each.plan, **asdict(each.steps)}


def _data(view: SessionView, parts: list[PitchPart], off: Mapping[str, list[list[str]]]) -> dict[str, Any]:
    times = view.timetable
    return {
        "session": str(view.row.public_id),
        "minutes": round(view.plan.minutes),
        "starts": int(times.starts_at.timestamp() * 1000),
        "clear": int(times.clear_from.timestamp() * 1000),
        "off": int(times.clear_by.timestamp() * 1000),
        "off_text": clock_text(times.clear_by),
        "expected": view.players,
        "tonight": view.players,
        "parts": [{**each.clock, **({"off": off[each.key]} if each.key in off else {})} for each in parts],
    }
