"""What a phone is given for times without signal: the same for everybody, whole, and named by its content."""

import json
import re
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.contrib.staticfiles import finders
from django.core.management import call_command
from django.test import Client

from club import lasting
from sessions.actions.delivery import LEAST_SKEW
from sessions.pages.pitch import offline
from tests.people import signed_in
from tests.sessions.pitch.evening import Evening

ROOT = Path(__file__).resolve().parents[3]
IMPORTS = re.compile(r"""(?:from|import\()\s*"(\.[^"]+)\"""")


def given(client: Client) -> dict[str, Any]:
    """What the worker is told."""
    text = client.get("/sw.js").content.decode()
    return json.loads(text[text.index("work(") + 5 : text.rindex(")")])


@pytest.mark.django_db
def test_shell_and_worker_are_the_same_for_everybody(evening: Evening, client: Client) -> None:
    for path in ("/sw.js", "/sessions/saved/"):
        nobody = client.get(path)
        coach = signed_in(evening.people.coach).get(path)
        assert nobody.content == coach.content
        assert b"csrf" not in nobody.content


@pytest.mark.django_db
def test_every_file_that_its_scripts_import_is_kept_once(client: Client) -> None:
    files = given(client)["files"]
    assert len(set(files)) == len(files)
    named = {each.removeprefix("/static/") for each in files}
    assert {"sessions/pitch/pitch.js", "sessions/phone/shell.js", "sessions/pitch/later.css"} <= named
    for name in [each for each in named if each.endswith(".js")]:
        folder = Path(name).parent
        for other in IMPORTS.findall(Path(str(finders.find(name))).read_text(encoding="utf-8")):
            parts: list[str] = []
            for part in (folder / other).parts:
                parts = parts[:-1] if part == ".." else [*parts, part]
            assert "/".join(parts) in named, (name, other)


@pytest.mark.django_db
def test_its_version_follows_what_it_holds(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    before = given(client)["version"]
    assert given(client)["version"] == before
    monkeypatch.setattr(offline, "_contents", lambda: "another")
    assert given(client)["version"] != before


@pytest.mark.django_db
def test_who_is_signed_in_and_a_token_that_sends(evening: Evening, client: Client) -> None:
    assert client.get("/sessions/phone/").json() == {"account": None}
    coach = evening.people.coach
    phone = Client(enforce_csrf_checks=True)
    phone.force_login(coach, backend="django.contrib.auth.backends.ModelBackend")
    told = phone.get("/sessions/phone/").json()
    assert told["account"] == str(coach.public_id)
    url = f"/api/v1/sessions/{evening.session.public_id}/events/"
    sent = {"events": [evening.event("arrived", 2, player=evening.players[0])], "since": 0}
    answers = [
        phone.post(url, sent, content_type="application/json", headers=headers)
        for headers in ({}, {"X-CSRFToken": told["token"]})
    ]
    assert [each.status_code for each in answers] == [403, 200]


def test_the_plan_is_another_when_it_was_planned_otherwise_and_not_when_it_is_played(
    evening: Evening,
) -> None:
    plan = offline.plan_tag(evening.read())
    evening.append(evening.event("harder", 3, part=evening.parts[0], to=""), evening.event("thunder", 4))
    assert offline.plan_tag(evening.read()) == plan
    evening.session.parts.filter(position=0).update(minutes=11)
    changed = offline.plan_tag(evening.read())
    assert changed != plan
    answer = signed_in(evening.people.coach).post(
        f"/api/v1/sessions/{evening.session.public_id}/events/",
        {"events": [], "since": 0},
        content_type="application/json",
    )
    assert (answer.json()["plan"], answer.json()["state"]) == (changed, "planned")


def test_phone_and_server_take_the_same_for_the_way_and_not_for_a_wrong_clock() -> None:
    source = Path(str(finders.find("sessions/phone/settled.js"))).read_text(encoding="utf-8")
    close_ms = int(re.search(r"CLOSE_MS = ([\d_]+)", source)[1])
    assert timedelta(milliseconds=close_ms) == LEAST_SKEW


def test_a_copy_says_until_when_it_stays_and_the_docs_say_the_same(evening: Evening) -> None:
    told = offline.about_any(evening.read())
    assert timedelta(milliseconds=told["until"] - told["off"]) == lasting.PHONE_COPIES
    for name in ("at-the-pitch", "security"):
        text = " ".join((ROOT / "docs" / f"{name}.md").read_text(encoding="utf-8").split())
        assert f"deleted {lasting.in_words(lasting.PHONE_COPIES)} after" in text
        assert f"until {lasting.in_words(lasting.HELPERS_NUMBER)} after the end" in text
    text = " ".join((ROOT / "docs" / "at-the-pitch.md").read_text(encoding="utf-8").split())
    assert f"may still arrive for {lasting.in_words(lasting.HELPERS_SENDING)}" in text
    text = (ROOT / "docs" / "security.md").read_text(encoding="utf-8")
    assert f"wrong numbers in {lasting.in_words(lasting.WRONG_GUESSES)}, by" in text


def test_scripts_import_each_other_by_names_that_change_with_their_content(
    tmp_path: Path, settings: Any
) -> None:
    settings.STATIC_ROOT = tmp_path
    settings.STORAGES = {
        **settings.STORAGES,
        "staticfiles": {"BACKEND": "bibrack.static_files.NamedByContent"},
    }
    call_command("collectstatic", interactive=False, verbosity=0)
    hashed = re.compile(r"\.[0-9a-f]{12}\.js$")
    pages = [path for path in (tmp_path / "sessions").rglob("*.js") if hashed.search(path.name)]
    assert len(pages) > 30
    found = [
        (path.name, each) for path in pages for each in IMPORTS.findall(path.read_text(encoding="utf-8"))
    ]
    assert len(found) > 40
    assert [each for each in found if not hashed.search(each[1])] == []
