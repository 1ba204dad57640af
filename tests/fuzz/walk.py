"""The walk: every address with odd values in its path, its query string, its forms, its body and its headers."""

from collections import Counter
from dataclasses import dataclass, field
from random import Random
from typing import Any

from tests.fuzz.addresses import Address, addresses
from tests.fuzz.asking import Asker
from tests.fuzz.bodies import Described, oddly
from tests.fuzz.odd import BODIES, HEADERS, KINDS, PARTS, TEXTS
from tests.fuzz.pages import Form, forms_in, sent, unique, with_odd

FORM = "application/x-www-form-urlencoded"
JSON = "application/json"


@dataclass
class Walk:
    """`much` is how often each thing is tried; 1 is for the suite."""

    by_cookie: Asker
    by_token: Asker
    nobody: Asker
    described: Described
    things: dict[str, Any]
    much: int = 1
    seed: int = 9
    forms: list[Form] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.chance = Random(self.seed)
        self.every = addresses(self.things)
        self.for_nobody = {each.path for each in self.every if each.for_nobody}
        self.asked = self.described.asked() | {
            "page",
            "from",
            "show",
            "week",
            "first",
            "second",
            "step",
            "turn",
        }

    def pages(self) -> None:
        """Look at each address as it is, and keep the forms that are found there."""
        found: list[Form] = []
        for each in self.every:
            asker = self.by_token if each.is_api else self.nobody if each.for_nobody else self.by_cookie
            response = asker.ask("GET", each.path)
            if response.get("Content-Type", "").startswith("text/html"):
                forms, asked = forms_in(response.content.decode(errors="replace"), each.path)
                found += forms
                self.asked |= asked
        self.forms = list(unique(found))
        self.asked |= {name for form in self.forms if form.method == "get" for name in form.names}

    def paths(self) -> None:
        for each in self.every:
            if "<" in each.pattern:
                for part in self.chance.sample(PARTS, min(len(PARTS), self.much)):
                    for method in ("GET", "POST"):
                        self._asker(each).ask(method, each.oddly(part))

    def queries(self) -> None:
        """Odd values for names that the address may know, names repeated and empty, and a tail that is no text."""
        for each in self.every:
            for _ in range(self.much):
                names = self.chance.choices(sorted(self.asked), k=8)
                pairs = [(name, self.chance.choice(TEXTS)) for name in names]
                tail = self.chance.choice((b"", b"&=&&=x", b"&%00=%00", b"&x=%FF%FE", b"&q[]=1&q=2&q="))
                asked = sent(pairs) + tail
                self._asker(each).ask("GET", f"{each.path}?{asked.decode()}")

    def typed(self) -> None:
        """The forms as a browser sends them, with odd values one at a time and a few together."""
        for form in self.forms:
            for many in (1, 2) * self.much:
                self._send(form, min(many, len(form.names)))

    def _send(self, form: Form, many: int) -> None:
        names = self.chance.sample(form.names, many)
        odd = {name: self.chance.choice(TEXTS) for name in names}
        button = self.chance.choice(form.buttons) if form.buttons else None
        body = sent(with_odd(form, odd, button))
        asker = self.nobody if form.action in self.for_nobody else self.by_cookie
        if form.method == "get":
            asker.ask("GET", f"{form.action}?{body.decode()}")
        else:
            asker.ask("POST", form.action, body, FORM)

    def bodies(self) -> None:
        """What the API describes, with odd values in it; and bodies that are none."""
        for method, path, schema in self.described.operations():
            address = self.filled(path)
            headers = self.headers(address)
            if schema is None and method == "GET":
                continue
            usual = self.described.usual(schema or {"type": "object"})
            for many in (1, 1, 3) * self.much:
                asker = self.chance.choice((self.by_token, self.by_cookie))
                asker.ask(method, address, oddly(usual, self.chance, many), JSON, **headers)
            for _ in range(self.much):
                asker = self.chance.choice((self.by_token, self.by_cookie))
                asker.ask(
                    method, address, self.chance.choice(BODIES), self.chance.choice((JSON, *KINDS)), **headers
                )

    def nobody_knows(self) -> None:
        """Whole bodies that are odd, at every page: scripts send JSON there, and others send anything."""
        for each in self.every:
            for _ in range(self.much):
                body, kind = self.chance.choice(BODIES), self.chance.choice(KINDS)
                self._asker(each).ask("POST", each.path, body, kind)

    def headed(self) -> None:
        for each in self.every:
            for headers in self.chance.sample(HEADERS, min(len(HEADERS), self.much)):
                method = self.chance.choice(
                    ("GET", "POST", "PUT", "PATCH", "DELETE") if each.is_api else ("GET",)
                )
                self.by_cookie.ask(method, each.path, b"{}" if method != "GET" else b"", JSON, **headers)

    @property
    def askers(self) -> tuple[Asker, ...]:
        return self.by_cookie, self.by_token, self.nobody

    @property
    def tried(self) -> Counter[int]:
        """How many answers there were of each status."""
        return sum((each.tried for each in self.askers), Counter())

    @property
    def failures(self) -> dict[str, str]:
        """One request for each cause of a failure."""
        return {cause: where for each in self.askers for cause, where in each.failures.items()}

    def all(self) -> None:
        """Every way; `pages` goes first."""
        for step in (self.paths, self.queries, self.typed, self.bodies, self.nobody_knows, self.headed):
            step()

    def _asker(self, address: Address) -> Asker:
        if address.is_api:
            return self.chance.choice((self.by_token, self.by_cookie))
        return self.nobody if address.for_nobody else self.by_cookie

    def filled(self, path: str) -> str:
        known = {each.described(): each.path for each in self.every if each.is_api}
        return known[_shape(path)]

    def headers(self, address: str) -> dict[str, str]:
        """The tag of the thing itself, or of the thing that this belongs to."""
        whole = "/".join(address.split("/")[:5]) + "/"
        tags = (self.by_token.ask("GET", each).get("ETag", "") for each in (address, whole))
        return {"HTTP_IF_MATCH": next((each for each in tags if each.startswith('"v')), '"v1"')}


def _shape(path: str) -> str:
    return "/".join("*" if part.startswith("{") else part for part in path.split("/"))
