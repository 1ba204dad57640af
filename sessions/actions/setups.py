"""Writing a set-up down for a station: one that is chosen here, and those that phones accepted."""

import contextlib
from collections.abc import Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from club.errors import FieldProblem, Refused
from drills import queries as drills
from drills.game.document import DrillDocument
from drills.game.evening import Evening
from drills.game.fit import serialize
from drills.game.fits import Fits, fits
from sessions import bridge
from sessions.models import DeliveryEvent, Station, TrainingSession
from sessions.planning.fold import DeliveryState, PartState
from sessions.queries.evening import station_evening, with_players
from sessions.queries.pitch import ACCEPTED
from sessions.queries.rows import expected_of


def fitted(station: Station, evening: Evening) -> Fits:
    """The set-ups that work for a station's drill on this evening, nearest first. Raises Refused with reasons for none."""
    return _fitted(station, evening)[0]


def _fitted(station: Station, evening: Evening) -> tuple[Fits, DrillDocument]:
    if station.revision_id is None:
        raise Refused(_("There is no drill at this station to fit."))
    document = drills.documents({station.revision_id})[station.revision_id].document
    found = fits(document, station.variation_key, evening)
    if not found:
        raise Refused(FieldProblem("", each.said(_)) for each in found.refusals)
    return found, document


def put_setup(
    station: Station, evening: Evening, *, numbers: str, grids: int, at_the_pitch: bool = False
) -> bool:
    """Write a fit down for a station whose session is held; False where it doesn't work (any more).

    `at_the_pitch`: while it is recorded, so that undone it is as it was before; else this is what is planned.
    """
    found, document = _fitted(station, evening)
    chosen = found.find(numbers, grids)
    if chosen is None:
        return False
    _remember(station, at_the_pitch)
    station.setup = bridge.setup_as_kept(chosen, document, station.variation_key, evening)
    station.evening = bridge.evening_as_kept(chosen, evening)
    # The rung goes along: a set-up on another rung than the planned one is what is played.
    station.save(update_fields=_WRITTEN)
    return True


def _remember(station: Station, at_the_pitch: bool) -> None:
    """What is undone at the pitch leads back to what was planned."""
    if not at_the_pitch:
        station.before = None
    elif station.before is None:
        station.before = {"setup": station.setup, "evening": station.evening}


_WRITTEN = ("setup", "evening", "before", "variation_key", "planned_key")
RUNGS = ("easier", "harder")


def keep_accepted_setups(session: TrainingSession, state: DeliveryState) -> None:
    """Write down what each part was last played as, unless its stations have it already. The caller holds the session.

    A set-up that came whole is kept as it came. Of one that came as a headline the rest is worked out here, and what does
    not work any more is left to the events, which keep what the phone said.
    """
    for part, number, station in _played(session, state):
        accepted = part.setup_of(str(station.public_id), is_first=number == 0)
        _keep(session, station, part.variation if number == 0 else None, accepted)


def take_back_setups(session: TrainingSession, state: DeliveryState) -> None:
    """Where what was accepted is undone, and nothing was accepted instead, a station is set up as before. The caller holds the
    session. One query, and one more where something was.
    """
    undone = DeliveryEvent.objects.filter(session=session, kind=ACCEPTED, event_id__in=state.undone)
    said = [(each.body["part"], each.body.get("station"), each.body["setup"]) for each in undone]
    for part, number, station in _played(session, state) if said else ():
        key = str(station.public_id)
        if part.setup_of(key, is_first=number == 0) is not None:
            continue
        mine = [
            setup for at, of, setup in said if at == part.key and (of == key or (of is None and not number))
        ]
        if any(_has(station, setup, None) for setup in mine):
            before = station.before or {}
            station.setup, station.evening = before.get("setup"), before.get("evening")
            station.before = None
            _go_to(station, station.planned_key if number or part.variation is None else part.variation)
            station.save(update_fields=_WRITTEN)


def _played(session: TrainingSession, state: DeliveryState) -> Iterator[tuple[PartState, int, Station]]:
    """Each station whose own drill is played, with its place in its part. One query."""
    stations = Station.objects.filter(part__session=session, revision__isnull=False).select_related(
        "part", "revision__drill"
    )
    by_part: dict[str, list[Station]] = {}
    for each in stations.order_by("position"):
        by_part.setdefault(str(each.part.public_id), []).append(each)
    for part in state.parts:
        if part.swap is None:
            for number, station in enumerate(by_part.get(part.key, [])):
                yield part, number, station


def _keep(
    session: TrainingSession, station: Station, rung: str | None, accepted: Mapping[str, Any] | None
) -> None:
    if accepted is None or _has(station, accepted, rung):
        return
    _go_to(station, rung)
    whole = accepted.get("kept")
    if whole is not None:
        document = drills.station_drill(station.revision).document if station.revision else None
        if document is None or not bridge.can_be_played(document, station.variation_key, whole):
            return
        _remember(station, at_the_pitch=True)
        station.setup = whole
        evening = _evening(session, station, accepted)
        station.evening = bridge.evening_as_kept(serialize.from_plain(dict(whole)).setup, evening)
        station.save(update_fields=_WRITTEN)
        return
    with contextlib.suppress(Refused, KeyError, ValueError):
        put_setup(
            station,
            _evening(session, station, accepted),
            numbers=str(accepted.get("numbers", "")),
            grids=int(accepted.get("grids", 1)),
            at_the_pitch=True,
        )


def _go_to(station: Station, rung: str | None) -> None:
    """The variation that was played; the planned one is remembered beside it."""
    if rung is None or rung == station.variation_key:
        return
    if station.planned_key is None:
        station.planned_key = station.variation_key
    station.variation_key = rung


def _has(station: Station, accepted: Mapping[str, Any], rung: str | None) -> bool:
    if rung is not None and rung != station.variation_key:
        return False
    if accepted.get("kept") is not None:
        return station.setup == accepted["kept"]
    has = bridge.setup_kept(station)
    return has is not None and (has.setup.numbers, has.setup.grids) == (
        accepted.get("numbers"),
        accepted.get("grids"),
    )


def _evening(session: TrainingSession, station: Station, accepted: Mapping[str, Any]) -> Evening:
    """Who came as the phone said; all else as it was asked before, or as the session has it."""
    evening = station_evening(session, station)
    return with_players(evening, int(accepted.get("players_total") or expected_of(session)))
