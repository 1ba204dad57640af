"""A session for somebody without an account: its parts and how each is run. No names, no team, no place, no day, no time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drills.pages.tonight import GridLine, ToldDrill, grids_told, told
from sessions.pages.stations.plans import GridShown, station_drawing
from sessions.pictures.section import plan_and_section
from sessions.pictures.section_sheet import Size
from sessions.planning.clock import PartTimes
from sessions.queries.plan import PartView, SessionView, session_view
from sessions.queries.station import StationView

if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class SharedStation:
    """A drill as it is run: as it was set up, else as written."""

    title: str
    variation: str
    plans: Sequence[GridShown]
    numbers: str
    length_m: float
    width_m: float
    grids: Sequence[GridLine]
    say_this: Sequence[str]
    told: ToldDrill
    safety: Sequence[str]
    kit: Sequence[tuple[str, int]]


@dataclass(frozen=True)
class SharedPart:
    """A part on the clock: minutes from the start of the session."""

    number: int
    title: str
    row: Any  # kind, rounds, rest and effort, as the session's own page shows them
    from_min: float
    to_min: float
    stations: Sequence[SharedStation]


@dataclass(frozen=True)
class SharedSession:
    """Everything that a link shows, and nothing besides: the row itself is not among it."""

    title: str
    age_group: str
    minutes: float
    large: SafeString
    phone: SafeString
    parts: Sequence[SharedPart]
    kit: Sequence[tuple[str, int]]


def shared_session(session: TrainingSession) -> SharedSession:
    """Work the page out. The session's own queries alone."""
    view = session_view(session, k=1.0, judged=False, stock={})
    title = shared_title(session)
    return SharedSession(
        title=title,
        age_group=session.age_group.label,
        minutes=view.plan.minutes,
        large=_section(view, title, "large"),
        phone=_section(view, title, "phone"),
        parts=[_part(view, each) for each in view.parts],
        kit=sorted(view.kit.items()),
    )


def shared_title(session: TrainingSession) -> str:
    """What whoever planned it called it, else its theme; never the day and time that stand for a title elsewhere."""
    return session.title or (session.theme.title if session.theme else _("A training session"))


def _section(view: SessionView, title: str, size: Size) -> SafeString:
    """Plan and section without a start: the tape counts minutes then."""
    firsts = [each.first for each in view.parts]
    plans = [
        station_drawing(first, f"tape{number}-") if first else None
        for number, first in enumerate(firsts, start=1)
    ]
    drawn = plan_and_section(
        replace(view.plan, starts_at=None),
        plans=[str(each.picture) if each else "" for each in plans],
        links=[f"#part-{each.number}" for each in view.parts],
        size=size,
        name=title,
        prefix=f"{size[0]}-",
        translate=_,
        plural=ngettext,
    )
    return mark_safe(drawn)


def _part(view: SessionView, part: PartView) -> SharedPart:
    return SharedPart(
        number=part.number,
        title=part.title,
        row=part.row,
        from_min=_minutes_into(view, part.times, ends=False),
        to_min=_minutes_into(view, part.times, ends=True),
        stations=[
            _station(each, f"p{part.number}-{index}-")
            for index, each in enumerate(part.stations)
            if each.tonight is not None
        ],
    )


def _minutes_into(view: SessionView, times: PartTimes, *, ends: bool) -> float:
    """Minutes from the start of the session to a part's start or end."""
    moment = times.ends_at if ends else times.starts_at
    return (moment - view.timetable.starts_at).total_seconds() / 60


def _station(station: StationView, prefix: str) -> SharedStation:
    tonight, setup = station.tonight, station.setup
    assert tonight is not None
    assert station.drill is not None
    drawing = station_drawing(station, prefix, thumbnail=False, every=True)
    return SharedStation(
        title=station.drill.title,
        variation=station.variation_title,
        plans=drawing.grids if drawing else (),
        numbers=setup.numbers if setup else str(tonight.document.format),
        length_m=setup.length_m if setup else tonight.document.grids[0].length_m,
        width_m=setup.width_m if setup else tonight.document.grids[0].width_m,
        grids=grids_told(tonight),
        say_this=tonight.document.say_this,
        told=told(tonight),
        safety=tonight.document.safety,
        kit=sorted(tonight.kit.items()),
    )
