"""The installation's own addresses: health, the screen's scheme, the manifest, the pages for errors."""

import gzip
from pathlib import Path
from typing import Any

import pytest
from django.contrib.staticfiles import finders
from django.db import OperationalError, connection
from django.test import Client

from tests.factories import ClubSettingsFactory
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db


def test_alive_says_which_version(settings: Any) -> None:
    response = Client().get("/healthz")
    assert response.json() == {"status": "ok", "version": settings.VERSION}


@pytest.mark.parametrize("address", ["/healthz", "/readyz"])
def test_without_the_database_it_is_not_alive(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def away() -> None:
        raise OperationalError("connection refused")

    monkeypatch.setattr(connection, "cursor", away)
    response = Client().get(address)
    assert (response.status_code, response["Content-Type"]) == (503, "application/problem+json")
    assert response.json()["detail"] == "The database is away."


def test_not_ready_without_a_worker_and_ready_with_one() -> None:
    without = Client().get("/readyz")
    with connection.cursor() as cursor:
        cursor.execute("INSERT INTO procrastinate_workers (last_heartbeat) VALUES (now())")
    ready = Client().get("/readyz")
    assert (without.status_code, without.json()["status"]) == (503, "not ready")
    assert (ready.status_code, ready.json()["status"]) == (200, "ok")
    assert ready.json()["migrations_waiting"] == 0


@pytest.mark.parametrize("scheme", ["light", "dark", "sun", "auto"])
def test_a_chosen_scheme_is_kept_and_served(scheme: str) -> None:
    client = Client()
    back = "http://testserver/accounts/login/"
    response = client.post("/scheme", {"scheme": scheme}, headers={"Referer": back})
    assert (response.status_code, response.url) == (302, back)
    assert f'data-scheme="{scheme}"' in client.get("/accounts/login/").content.decode()


def test_an_unknown_scheme_is_not_kept_and_nobody_is_sent_elsewhere() -> None:
    response = Client().post("/scheme", {"scheme": "neon"}, headers={"Referer": "https://elsewhere.example/"})
    assert (response.url, "scheme" in response.cookies) == ("/", False)
    assert Client().get("/scheme").status_code == 405


def test_the_manifest_names_the_club_and_icons_that_exist() -> None:
    """W3C, Web Application Manifest: name, start_url, display, icons with sizes and purpose."""
    ClubSettingsFactory(name="Ashmere Rovers")
    response = Client().get("/manifest.webmanifest")
    manifest = response.json()
    assert response["Content-Type"] == "application/manifest+json"
    assert (manifest["name"], manifest["start_url"], manifest["display"]) == (
        "Ashmere Rovers · Bibrack",
        "/",
        "standalone",
    )
    for icon in manifest["icons"]:
        found = finders.find(icon["src"].removeprefix("/static/"))
        assert found is not None
        width = int.from_bytes(Path(found).read_bytes()[16:20], "big")  # PNG, IHDR
        assert icon["sizes"] == f"{width}x{width}"


def test_components_are_shown_to_builders_only(settings: Any) -> None:
    assert Client().get("/styleguide").status_code == 200
    settings.SHOW_STYLEGUIDE = False
    assert Client().get("/styleguide").status_code == 404


def test_errors_of_the_api_are_problems_and_errors_of_pages_are_pages(world: World) -> None:
    client = signed_in(world.people.reader)
    page, problem = client.get("/nowhere/"), client.get("/api/v1/nowhere/")
    assert (page.status_code, page["Content-Type"]) == (404, "text/html; charset=utf-8")
    assert (problem.status_code, problem["Content-Type"]) == (404, "application/problem+json")
    assert problem.json()["status"] == 404


def test_pages_are_made_small_for_the_wire_and_what_has_a_tag_keeps_it(world: World) -> None:
    small = {"Accept-Encoding": "gzip"}
    client = signed_in(world.people.director)
    page = client.get("/club/", headers=small)
    assert (page["Content-Encoding"], page["Vary"].count("Accept-Encoding")) == ("gzip", 1)
    assert b"<h1" in gzip.decompress(page.content)
    assert "Content-Encoding" not in client.get("/club/")
    tagged = client.get(f"/api/v1/age-groups/{world.own.age_group.public_id}/", headers=small)
    assert ("Content-Encoding" in tagged, tagged["ETag"]) == (False, '"v1"')
