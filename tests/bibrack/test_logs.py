"""No secret reaches the log: every address with one, through every way a request can end badly."""

import io
import logging
from collections.abc import Iterator
from typing import Any

import pytest
import structlog
from django.core.handlers.base import BaseHandler
from django.http import HttpRequest, HttpResponse
from django.test import Client
from django.urls import reverse

from bibrack.blot import BLOT, SECRET_PATHS, blot
from bibrack.logs import formatter
from tests.access.walker import parameters
from tests.people import World

SECRET_NAMES = {"secret", "key"}
# Not as long as a real one, and with nothing drawn at random in it: only the address gives it away.
SECRET = "let-me-in"


class Written:
    """Everything that two handlers wrote: ours, and one that knows nothing of us, as a server's own."""

    def __init__(self) -> None:
        self.ours, self.plain = io.StringIO(), io.StringIO()

    def lines(self) -> str:
        return self.ours.getvalue() + self.plain.getvalue()


@pytest.fixture
def written() -> Iterator[Written]:
    found, root = Written(), logging.getLogger()
    handlers = [logging.StreamHandler(found.ours), logging.StreamHandler(found.plain)]
    handlers[0].setFormatter(formatter())
    level, root.handlers = root.level, [*root.handlers, *handlers]
    root.setLevel(logging.DEBUG)
    yield found
    root.setLevel(level)
    root.handlers = [each for each in root.handlers if each not in handlers]


def secret_routes() -> dict[str, dict[str, str]]:
    """Every route with a secret in its address, and what to put there."""
    return {
        name: {each: SECRET if each in SECRET_NAMES else "1" for each in found}
        for name, found in parameters().items()
        if found & SECRET_NAMES
    }


def test_there_are_routes_with_secrets_and_each_is_blotted() -> None:
    found = secret_routes()
    assert found.keys() >= {"club:enter", "club:invited", "club:set-up", "drills:shared", "sessions:shared"}
    for name, kwargs in found.items():
        address = reverse(name, kwargs=kwargs)
        assert SECRET not in blot(f"Not Found: {address}"), name


@pytest.mark.django_db
@pytest.mark.parametrize("name", sorted(secret_routes()))
def test_no_way_to_fail_logs_a_secret(name: str, written: Written, monkeypatch: pytest.MonkeyPatch) -> None:
    address = reverse(name, kwargs=secret_routes()[name])
    told = {"Referer": f"https://elsewhere.example{address}", "Authorization": f"Token {SECRET}1234"}
    found = {Client(enforce_csrf_checks=True).post(address, headers=told).status_code}
    found |= {Client().get(address + ending, headers=told).status_code for ending in ("", "more/", "?x")}
    found.add(Client().put(address, headers=told).status_code)
    for status in (400, 403, 404, 405, 410, 429, 500, 503):
        monkeypatch.setattr(BaseHandler, "resolve_request", always(HttpResponse(status=status)))
        found.add(Client().get(address, headers=told).status_code)
    monkeypatch.setattr(BaseHandler, "resolve_request", fails)
    found.add(Client(raise_request_exception=False).get(address, headers=told).status_code)
    assert found >= {400, 403, 404, 405, 410, 429, 500, 503}
    assert written.ours.getvalue().count(BLOT) > 8
    assert written.plain.getvalue().count(BLOT) > 8
    assert SECRET not in written.lines()


def always(response: HttpResponse) -> Any:
    return lambda handler, request: (lambda request: response, (), {})


def fails(handler: Any, request: HttpRequest) -> Any:
    raise RuntimeError(f"broke over {request.get_full_path()} of {request!r} {request.headers}")


@pytest.mark.parametrize(
    "told",
    [
        "postgres://bibrack:{}@db.example/bibrack",
        "smtp://club%40club.example:{}@mail.example:587/?tls",
        "{{'Authorization': 'Token {}'}}",
        "authorization: bearer {}",
        "Cookie: bibrack_session={}; scheme=dark",
        "password={}",
        "SECRET_KEY={}",
        "/calendar/{}.ics",
    ],
)
def test_secrets_elsewhere_than_in_addresses(told: str, written: Written) -> None:
    message = told.format(SECRET * 2)
    logging.getLogger("anybody.s").error("%s", message)
    structlog.get_logger("ours").error("tried", facts=[{"told": message}])
    try:
        raise RuntimeError(message)
    except RuntimeError:
        logging.getLogger("anybody.s").exception("broke")
        structlog.get_logger("ours").exception("broke")
    assert (BLOT in written.ours.getvalue(), BLOT in written.plain.getvalue()) == (True, True)
    assert SECRET not in written.lines()


def test_what_is_drawn_at_random_is_blotted_wherever_it_stands_and_nothing_else() -> None:
    from secrets import token_hex, token_urlsafe
    from uuid import uuid4

    assert blot(f"made {token_hex(32)} now") == f"made {BLOT} now"
    drawn = [f"made {token_urlsafe(32)}aA1 now" for _ in range(50)]
    assert {blot(each) for each in drawn} == {f"made {BLOT} now"}
    for kept in (
        f"/sessions/{uuid4()}/pitch/",
        "club_playersquad_player_id_3f2a4b5c_fk_club_player_id",
        "/accounts/password/reset/key/1-set-password/",
        "2026-11-29T18:00:00.000000Z",
        '{"event": "request", "route": "enter/<str:secret>/", "status": 200}',
    ):
        assert blot(kept) in (kept, kept.replace("<str:secret>", BLOT))


def test_blotting_takes_time_in_proportion_to_the_text() -> None:
    """Whoever is refused chooses what is logged: no pattern may go back and forth over it."""
    from time import process_time

    def taken(text: str) -> float:
        began = process_time()
        for _ in range(3):
            blot(text)
        return process_time() - began

    for piece in ("/enter/", "://a:", "Token ", "aA1-", "password=", "0"):
        short, long = taken(piece * 5_000), taken(piece * 50_000)
        assert long < 60 * max(short, 0.001), piece


def test_the_history_keeps_no_secret(world: World) -> None:
    from pghistory.models import Context

    from club import actions
    from club.choices import Role

    path = actions.invite(email="new@ashmere.example", role=Role.READER, age_group=None, made_by_id=None)
    typed = {"name": "Nell New", "password": "plain words in a row", "again": "plain words in a row"}
    assert Client().post(path, typed).status_code == 302
    kept = [row.metadata["url"] for row in Context.objects.all() if "url" in row.metadata]
    assert kept == [f"/invited/{BLOT}/"]


def test_the_words_that_hide_a_secret_are_each_used() -> None:
    addresses = [reverse(name, kwargs=kwargs) for name, kwargs in secret_routes().items()]
    unused = [word for word in SECRET_PATHS if not any(f"/{word}/" in each for each in addresses)]
    assert unused == []
