"""Texts of a hundred thousand characters against a thousand, in every field: what a text costs grows with its length at most."""

import json
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Any

from tests.fuzz.asking import Asker
from tests.fuzz.bodies import places, put
from tests.fuzz.pages import Form, sent, with_odd
from tests.fuzz.walk import FORM, JSON, Walk

SHORT, LONG = 1_000, 100_000
# What made patterns go back and forth: blanks between letters, digits, brackets, words, lines, and all of the like.
SHAPES = ("a{}b", "1{}x", "{}", "7v{}")
FILLINGS = (" ", "1", "(", "a, ", "\n", "1.", "7 Ada\n", "-")
AT_ONCE = 7  # long texts in one form: together below what the server takes
LARGE = 60  # fields of a form
# CPU milliseconds of this thread: less than this is noise, and a hundred times the text may cost a hundred times as much.
FLOOR_MS, MOST = 20.0, LONG / SHORT


@dataclass(frozen=True)
class Slow:
    """A request that cost too much, in milliseconds of CPU with the short and the long texts."""

    where: str
    short_ms: float
    long_ms: float


def text(number: int, length: int) -> str:
    """One of the shapes, filled to a length."""
    filling, shape = FILLINGS[number % len(FILLINGS)], SHAPES[number // len(FILLINGS) % len(SHAPES)]
    return shape.format(filling * (length // len(filling)))[:length]


class Measure:
    """Sends every field short texts at once, then long ones to a few at a time, and keeps what cost too much more."""

    def __init__(self, walk: Walk) -> None:
        self.walk, self.slow, self.tried, self.worst = walk, list[Slow](), 0, 0.0

    def forms(self) -> None:
        of_large_ones: set[str] = set()
        for form in self.walk.forms:
            names = [name for name in of_first_rows(form.names) if name not in of_large_ones]
            if len(names) > LARGE:  # the forms of a drill have the same fields: each is looked at once
                of_large_ones.update(names)
            self._form(form, names)

    def _form(self, form: Form, names: list[str]) -> None:
        asker = self.walk.nobody if form.action in self.walk.for_nobody else self.walk.by_cookie

        def ask(some: list[str], length: int) -> float:
            body = sent(with_odd(form, {name: text(names.index(name), length) for name in some}, None))
            if (
                form.method == "get"
            ):  # no server takes a longer address; what it takes is looked at all the same
                return cost(asker, "GET", f"{form.action}?{body.decode()[:60_000]}", b"", "")
            return cost(asker, "POST", form.action, body, FORM)

        self._compare(form.action, names, ask)

    def bodies(self) -> None:
        seen = set()
        for method, path, schema in self.walk.described.operations():
            usual = self.walk.described.usual(schema) if schema else None
            if usual is None or str(usual) in seen:
                continue
            seen.add(str(usual))
            self._body(method, path, usual)

    def _body(self, method: str, path: str, usual: Any) -> None:
        address = self.walk.filled(path)
        headers = self.walk.headers(address)
        ways = [way for way in places(usual) if way and isinstance(value_at(usual, way), str)]

        def ask(some: list[Any], length: int) -> float:
            body = usual
            for way in some:
                body = put(body, way, text(ways.index(way), length))
            return cost(self.walk.by_token, method, address, json.dumps(body).encode(), JSON, **headers)

        self._compare(f"{method} {path}", of_one_kind(ways), ask)

    def _compare(self, where: str, fields: list[Any], ask: Callable[[list[Any], int], float]) -> None:
        short = max(FLOOR_MS, ask(fields, SHORT))
        for some in batches(fields, AT_ONCE):
            long = ask(some, LONG)
            self.worst = max(self.worst, long / short)
            self.tried += 1
            if long > MOST * short:
                self.slow.append(Slow(f"{where} {some}", short, long))


def of_one_kind(ways: list[Any]) -> list[Any]:
    """Items of one list are all alike, so one way to each of their values is enough."""
    return list({tuple("*" if isinstance(key, int) else key for key in way): way for way in ways}.values())


def cost(asker: Asker, method: str, address: str, body: bytes, kind: str, **headers: str) -> float:
    """CPU milliseconds of one request, the database's not among them."""
    began = time.thread_time()
    asker.ask(method, address, body, kind, **headers)
    return (time.thread_time() - began) * 1000


def of_first_rows(names: list[str]) -> list[str]:
    """Repeated rows are all alike, so the first of each is enough."""
    return [name for name in names if not any(part.isdigit() and part != "0" for part in name.split("-"))]


def batches(every: list[Any], size: int) -> Iterator[list[Any]]:
    rest = iter(every)
    while some := list(islice(rest, size)):
        yield some


def value_at(data: Any, way: tuple[Any, ...]) -> Any:
    for key in way:
        data = data[key]
    return data
