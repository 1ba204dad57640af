"""Texts of a hundred thousand characters against a thousand, in every field: what a text costs grows with its length at most."""

import time
from collections.abc import Iterator
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
    """Sends each thing twice, and keeps what grew too much."""

    def __init__(self, walk: Walk) -> None:
        self.walk, self.slow, self.tried, self.worst = walk, list[Slow](), 0, 0.0

    def forms(self) -> None:
        of_large_ones: set[str] = set()
        for number, form in enumerate(self.walk.forms):
            names = [name for name in of_first_rows(form.names) if name not in of_large_ones]
            if len(names) > LARGE:  # the forms of a drill have the same fields: each is looked at once
                of_large_ones.update(names)
            for some in batches(names, AT_ONCE):
                self._form(form, some, number)

    def _form(self, form: Form, names: list[str], number: int) -> None:
        asker = self.walk.nobody if form.action in self.walk.for_nobody else self.walk.by_cookie
        bodies = [
            sent(with_odd(form, {name: text(number + at, length) for at, name in enumerate(names)}, None))
            for length in (SHORT, LONG)
        ]
        if form.method == "get":  # no server takes a longer address; what it takes is looked at all the same
            addresses = [f"{form.action}?{body.decode()[:60_000]}" for body in bodies]
            self._both(asker, "GET", addresses, [b"", b""], "", f"{form.action} {names}")
        else:
            self._both(asker, "POST", [form.action] * 2, bodies, FORM, f"{form.action} {names}")

    def bodies(self) -> None:
        for number, (method, path, schema) in enumerate(self.walk.described.operations()):
            if schema is None:
                continue
            address, headers = self.walk.filled(path), {}
            headers = self.walk.headers(address)
            usual = self.walk.described.usual(schema)
            ways = [way for way in places(usual) if way and isinstance(value_at(usual, way), str)]
            for some in batches(ways, AT_ONCE):
                sizes = [json_of(usual, some, number, length) for length in (SHORT, LONG)]
                where = f"{method} {path} {some}"
                self._both(self.walk.by_token, method, [address] * 2, sizes, JSON, where, **headers)

    def _both(
        self,
        asker: Asker,
        method: str,
        at: list[str],
        bodies: list[bytes],
        kind: str,
        where: str,
        **headers: str,
    ) -> None:
        short, long = (cost(asker, method, at[n], bodies[n], kind, **headers) for n in (0, 1))
        self.tried += 2
        self.worst = max(self.worst, long / max(short, FLOOR_MS))
        if long > MOST * max(short, FLOOR_MS):
            self.slow.append(Slow(where, short, long))


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


def json_of(usual: Any, ways: list[Any], number: int, length: int) -> bytes:
    import json

    for at, way in enumerate(ways):
        usual = put(usual, way, text(number + at, length))
    return json.dumps(usual).encode()
