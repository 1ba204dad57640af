"""The plan of a station as a picture: the one that the session's page shows, with tonight's set-up, without a name."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db


def test_it_is_the_plan_of_the_page(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[str] = []
    monkeypatch.setattr("sessions.views.station_plan.png", lambda svg: drawn.append(svg) or b"png")
    parts = [part_input(drill=shared_drill(owner=world.people.coach)), part_input()]
    session = planned_session(place=world.own, by=world.people.director, parts=parts)
    station = session.parts.all()[0].stations.all()[0]
    client = signed_in(world.people.coach)
    html = client.get(reverse("sessions:session", args=[session.public_id])).content.decode()
    address = reverse("sessions:station-plan", args=[session.public_id, station.public_id])
    assert html.count(f'href="{address}" download="') == 1
    answer = client.get(address)
    assert (answer.content, answer["Content-Type"]) == (b"png", "image/png")
    shown = re.search(r'<div class="pic"><svg class="plan plan-small".*?</svg>', html)
    assert shown is not None
    small, large = places(shown[0]), places(drawn[0])
    assert small.keys() == large.keys() != set()
    for key, spot in small.items():
        assert spot == pytest.approx(large[key], abs=0.03)
    assert client.get(address, headers={"if-none-match": answer["ETag"]}).status_code == 304
    assert len(drawn) == 1


def test_a_station_that_there_is_not_or_that_has_no_drill(world: World) -> None:
    session = planned_session(place=world.own, by=world.people.director, parts=[part_input()])
    client = signed_in(world.people.coach)
    for station in (uuid4(), *(each.public_id for each in session.parts.all()[0].stations.all())):
        assert (
            client.get(reverse("sessions:station-plan", args=[session.public_id, station])).status_code == 404
        )


def places(svg: str) -> dict[str, tuple[float, float]]:
    """Who stands where between the outermost of them, whatever the size of the plan: 0 to 1, along and across."""
    figures = re.findall(
        r'class="(player [^"]*)" transform="translate\(([^ ]+) ([^)]+)\)" data-key="([^"]*)"', svg
    )
    spots = {f"{key} {look}": (float(x), float(y)) for look, x, y, key in figures}
    low, high = ([side(each[way] for each in spots.values()) for way in (0, 1)] for side in (min, max))
    return {
        key: ((x - low[0]) / (high[0] - low[0]), (y - low[1]) / (high[1] - low[1]))
        for key, (x, y) in spots.items()
    }
