"""Heat and thunder of a session: the club's guideline, the clock, and the same over the API."""

from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from club import queries as club
from club.choices import HeatGuideline
from club.models import ClubSettings
from sessions.actions import append_events
from sessions.pages.weather import heat_of, thunder_of, weather_data
from sessions.planning.weather import BANDS
from sessions.queries.set_up import players_tonight
from tests.people import signed_in
from tests.sessions.pitch.evening import Evening


def test_the_club_may_choose_every_guideline_that_there_is() -> None:
    assert set(HeatGuideline.values) == set(BANDS)


@pytest.mark.parametrize(
    ("chosen", "band", "source"),
    [
        # 30 °C and 50 % are 29.259 °C by the published formula; FIFPRO: breaks from 28 to 32 °C; US Soccer
        # category 3: green below 82.2 °F (27.9 °C), yellow below 87.1 °F (30.6 °C).
        ("fifpro", "breaks", "FIFPRO heat guideline"),
        ("us_soccer_3", "yellow", "US Soccer heat guideline, category 3"),
    ],
)
def test_heat_is_held_against_the_guideline_that_the_club_chose(
    evening: Evening, chosen: str, band: str, source: str
) -> None:
    settings = club.club_settings()
    ClubSettings.objects.filter(pk=settings.pk).update(heat_guideline=chosen)
    assert heat_of(evening.read()) is None
    evening.append(evening.event("heat", 5, temperature_c=30, humidity_pct=50))
    found = heat_of(evening.read())
    assert found is not None
    assert (found.wbgt_c, found.band, found.based_on) == (29.3, band, source)
    assert "strong sun" in found.caution
    assert "local rules and licensed practice" in found.deferring
    assert (weather_data()["source"], len(weather_data()["bands"])) == (source, len(BANDS[chosen][1]))  # type: ignore[index]


def test_a_setting_is_saved_by_the_form_and_shown(evening: Evening) -> None:
    client = signed_in(evening.people.director)
    page = client.get("/club/settings/").content.decode()
    assert 'name="heat_guideline"' in page
    ClubSettings.objects.update(heat_guideline="us_soccer_3")
    assert "US Soccer category 3" in client.get("/club/").content.decode()


def test_thunder_clears_the_pitch_for_half_an_hour_and_each_new_one_starts_anew(evening: Evening) -> None:
    first, again = evening.event("thunder", 5), evening.event("thunder", 20)
    evening.append(first)
    at = evening.starts + timedelta(minutes=34, seconds=59)
    assert thunder_of(evening.read(), at).wait is True  # type: ignore[union-attr]
    assert thunder_of(evening.read(), at + timedelta(seconds=1)).wait is False  # type: ignore[union-attr]
    evening.append(again)
    found = thunder_of(evening.read(), at)
    assert found is not None
    assert found.resume_at == evening.starts + timedelta(minutes=50)
    assert found.text.startswith("Thunder at 18:20: off the pitch until 18:50 at the earliest")
    evening.append(evening.event("undone", 21, event=again["id"]))
    assert thunder_of(evening.read(), at).resume_at == evening.starts + timedelta(minutes=35)  # type: ignore[union-attr]
    evening.append(evening.event("undone", 22, event=first["id"]))
    assert thunder_of(evening.read(), at) is None


def test_nobody_is_let_back_early_by_a_wristwatch(evening: Evening) -> None:
    evening.append(evening.event("thunder", 5.5))
    found = thunder_of(evening.read(), evening.starts)
    assert found is not None
    assert "Thunder at 18:05" in found.text
    assert "until 18:36" in found.text


def answer(evening: Evening) -> Any:
    return signed_in(evening.people.helper).get(f"/api/v1/sessions/{evening.session.public_id}/").json()


def test_the_api_takes_and_tells_both(evening: Evening) -> None:
    assert (answer(evening)["heat"], answer(evening)["thunder"]) == (None, None)
    now = timezone.now()
    client, url = signed_in(evening.people.helper), f"/api/v1/sessions/{evening.session.public_id}/events/"
    events = [
        {**evening.event("heat", temperature_c=30, humidity_pct=50), "at": now.isoformat()},
        {**evening.event("thunder"), "at": now.isoformat()},
    ]
    taken = client.post(url, {"events": events, "since": 0}, content_type="application/json").json()
    assert [each["outcome"] for each in taken["results"]] == ["taken", "taken"]
    told = answer(evening)
    assert (told["heat"]["wbgt_c"], told["heat"]["band"]) == (29.3, "breaks")
    assert told["thunder"]["wait"] is True
    other = client.post(url, {"events": [], "since": 0}, content_type="application/json").json()
    assert {each["kind"] for each in other["events"]} == {"heat", "thunder"}


@pytest.mark.parametrize(("temperature", "humidity"), [(61, 50), (30, 101), (30, -1), ("hot", 50)])
def test_what_is_no_air_is_refused(evening: Evening, temperature: Any, humidity: Any) -> None:
    actor = club.actor_of(evening.people.coach)
    event = evening.event("heat", 5, temperature_c=temperature, humidity_pct=humidity)
    outcome = append_events(actor=actor, session=evening.session, device="test", events=[event])[0]
    assert outcome.outcome == "refused"
    assert heat_of(evening.read()) is None


def test_tonights_number_counts_trialists(evening: Evening) -> None:
    assert players_tonight(evening.read()) == 12  # expected
    evening.append(
        evening.event("arrived", 1, player=evening.players[0]),
        evening.event("trialist", 2, number=1),
        evening.event("trialist", 3, number=2),
        evening.event("trialist", 4, number=1, here=False),
    )
    assert players_tonight(evening.read()) == 2
