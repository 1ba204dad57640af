"""Rows of the page at the pitch and its events: the staff of the age group and the director, names and all."""

from typing import Any

from tests.access.rows import ANYWHERE, COACHES, EVERYBODY, HELPERS, PLACES, PLANS, WORKS, Row
from tests.access.table_sessions import GONE, NOT_JSON, planned, station, twelve
from tests.people import Place, World


def turned(world: World, place: Place) -> dict[str, Any]:
    """A station whose turns were worked out: one bout, nobody in it."""
    from sessions.models import Station, Turns

    made = station(world, place)
    row = Station.objects.select_related("part").get(public_id=made["station_id"])
    bout = {"number": 1, "teams": [], "waiting": [], "away": [], "loans": []}
    facts = {
        **dict.fromkeys(("bout_min", "spread_min", "bound_min", "changes", "cycle"), 1),
        **dict.fromkeys(("whole_teams", "proven"), True),
        "players": [],
        "keepers": [],
    }
    Turns.objects.create(session_id=row.part.session_id, station_id=row.public_id, bouts=[bout], facts=facts)
    return made


def no_code(world: World, place: Place) -> dict[str, Any]:
    return {"secret": "no-such-code"}


ROWS = [
    Row("sessions:pitch", HELPERS, kwargs=planned, at=PLACES, reach=WORKS, names=WORKS),
    Row(
        "sessions:pitch-guests",
        HELPERS,
        kwargs=planned,
        at=PLACES,
        reach=WORKS,
        names={"director": ANYWHERE},
        of_others=True,
    ),
    Row("sessions:pitch-along", HELPERS, kwargs=planned, at=PLACES, reach=WORKS),
    Row("sessions:phone", EVERYBODY),
    Row("sessions:saved", EVERYBODY),
    Row("sessions:pitch-fit", HELPERS, kwargs=planned, at=PLACES, reach=WORKS),
    Row("sessions:pitch-setup", HELPERS, "post", kwargs=planned, at=PLACES, reach=WORKS, through=400),
    Row("sessions:pitch-set-up-all", HELPERS, "post", kwargs=planned, data=twelve, at=PLACES, reach=WORKS),
    Row("sessions:turns", HELPERS, kwargs=station, at=PLACES, reach=WORKS, names=WORKS),
    Row("sessions:turns-pdf", HELPERS, kwargs=turned, at=PLACES, reach=WORKS),
    Row("sessions:winner", HELPERS, "post", kwargs=station, at=PLACES, reach=WORKS, through=GONE),
    Row("api-station-turns", HELPERS, "post", kwargs=station, at=PLACES, reach=WORKS, through=NOT_JSON),
    Row("api-station-turns-sheet", HELPERS, kwargs=turned, at=PLACES, reach=WORKS),
    Row("api-station-winners", HELPERS, kwargs=station, at=PLACES, reach=WORKS),
    Row("api-station-winners", HELPERS, "post", kwargs=station, at=PLACES, reach=WORKS, through=NOT_JSON),
    # By the code on the sheet: what it opens to whom is asked in tests/sessions/pitch/test_helping.py.
    Row("sessions:at", EVERYBODY, kwargs=no_code, through=404),
    Row("sessions:at-number", EVERYBODY, "post", kwargs=no_code, through=404),
    Row("sessions:at-run", EVERYBODY, kwargs=no_code, through=404),
    Row("sessions:at-phone", EVERYBODY, kwargs=no_code, through=404),
    Row("sessions:at-events", EVERYBODY, "post", kwargs=no_code, through=404),
    Row("sessions:helper-number", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=GONE),
    Row("api-session-events", HELPERS, "post", kwargs=planned, at=PLACES, reach=WORKS, through=NOT_JSON),
]
