"""Asks the installation and writes down what it answered; whatever a request did is undone."""

import traceback
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from http.cookies import SimpleCookie
from typing import Any

from django.core.signals import got_request_exception
from django.db import Error, connection, transaction
from django.test import Client

CSRF = "f" * 32


class Asker:
    """One person at the installation: by cookie with the forgery token that their pages hold, or by token."""

    def __init__(self, person: Any, *, by_token: bool = False) -> None:
        self.client = Client(enforce_csrf_checks=True, raise_request_exception=False)
        self.headers: dict[str, str] = {"HTTP_X_CSRFTOKEN": CSRF}
        if by_token:
            from knox.models import AuthToken

            self.headers["HTTP_AUTHORIZATION"] = f"Token {AuthToken.objects.create(person)[1]}"
        elif person is not None:
            self.client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
        self.client.cookies["csrftoken"] = CSRF
        self.cookies = self.client.cookies.output(header="", sep=";")
        self.tried: Counter[int] = Counter()
        self.failures: dict[str, str] = {}
        self.broken: list[Any] = []

    def ask(self, method: str, address: str, body: bytes = b"", kind: str = "", **headers: str) -> Any:
        """One request, undone. What ends in a 500, or breaks a rule that waits for the commit, is a failure."""
        self.client.cookies = SimpleCookie(self.cookies)
        self.broken = []
        with undone(), self._watched():
            response = self.client.generic(method, address, body, kind, **{**self.headers, **headers})
            if response.status_code < 400:
                self._wait_for_the_commit(method, address, body)
        self.tried[response.status_code] += 1
        if response.status_code >= 500 and not address.startswith("/readyz"):
            self._failed(method, address, body, headers, self.broken)
        if address.startswith("/api/") and 400 <= response.status_code < 500:
            self._is_a_problem(method, address, body, response)
        return response

    @contextmanager
    def _watched(self) -> Iterator[None]:
        def note(**_more: Any) -> None:
            self.broken.append(traceback.format_exc())

        got_request_exception.connect(note)
        try:
            yield
        finally:
            got_request_exception.disconnect(note)

    def _wait_for_the_commit(self, method: str, address: str, body: bytes) -> None:
        try:
            connection.check_constraints()
        except Error as error:
            self._failed(method, address, body, {}, [f"at the commit: {error!r}"])

    def _failed(
        self, method: str, address: str, body: bytes, headers: dict[str, str], broken: list[str]
    ) -> None:
        said = broken[-1] if broken else "no exception was seen"
        lines = [line for line in said.splitlines() if line.strip()]
        ours = [line for line in lines if 'File "' in line and ".venv" not in line]
        cause = f"{ours[-1].strip() if ours else ''} {lines[-1][:200]}"
        self.failures.setdefault(cause, f"{method} {address[:300]} {body[:400]!r} {headers}\n{said[-2500:]}")

    def _is_a_problem(self, method: str, address: str, body: bytes, response: Any) -> None:
        kind = response.get("Content-Type", "")
        if kind != "application/problem+json" or f'"status":{response.status_code}' not in _packed(response):
            where = f"{method} {address[:200]} {body[:300]!r}: {response.status_code} {kind}"
            self.failures.setdefault(f"no problem details: {response.status_code} {kind}", where)


def _packed(response: Any) -> str:
    return str(response.content.decode(errors="replace")).replace(" ", "")


@contextmanager
def undone() -> Iterator[None]:
    with transaction.atomic():
        yield
        transaction.set_rollback(True)
