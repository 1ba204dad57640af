"""What a slot's team did in it last, and whether anything of it can be played one step harder."""

from datetime import date
from typing import Any

from django.db.models import OuterRef, Subquery
from django.db.models.functions import JSONObject

from club import reading
from club.queries.ready_made import ReadyArray
from drills.game.document.choices import Rung
from drills.game.steps import ordered, steps_in
from drills.queries import rungs_of
from sessions.choices import TOOK_PLACE, PartKind
from sessions.models import Station, TrainingSession

LAST_WEEK_DAYS = 13  # from any day of a week to any day of the week before
# The parts that are worth a step: the game first, then practices; nobody makes an arrival or a cool-down harder.
STEPPED = (PartKind.GAME, PartKind.PRACTICE)


def last_stations() -> ReadyArray:
    """For each slot of a query the drills of the last session that took place in it, in the order of its parts."""
    last = TrainingSession.objects.filter(slot=OuterRef(OuterRef("pk")), state__in=TOOK_PLACE)
    stations = Station.objects.filter(
        part__session=Subquery(last.order_by("-day", "-starts").values("pk")[:1]), revision__isnull=False
    )
    row = JSONObject(
        session="part__session__public_id",
        day="part__session__day",
        kind="part__kind",
        key="variation_key",
        rungs=ReadyArray(rungs_of(OuterRef("revision__drill"))),
    )
    return ReadyArray(stations.order_by("part__position", "position").values(row=row))


def is_last_weeks(slot: Any, day: date) -> bool:
    """Whether that session is the one of the week before this day, so that the empty slot offers it: not weeks ahead."""
    last = next((reading.day(each["day"]) for each in slot.last_stations), None)
    return last is not None and (day - last).days <= LAST_WEEK_DAYS


def last_done(slot: Any) -> str | None:
    """The outer id of the last session that took place in a slot and had a drill in it."""
    return next((each["session"] for each in slot.last_stations), None)


def can_be_harder(slot: Any) -> bool:
    """Whether a game or a practice of that session has a step up in the library; it may not run all the same."""
    return any(
        steps_in(ordered((key, Rung(way)) for key, way in each["rungs"] if key), each["key"]).harder
        is not None
        for each in slot.last_stations
        if each["kind"] in STEPPED
    )
