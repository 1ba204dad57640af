"""The forms and links of a page, as a browser finds them."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from html.parser import HTMLParser
from urllib.parse import parse_qsl, quote_from_bytes, urlsplit

from tests.fuzz.odd import encoded

Fields = list[tuple[str, str]]


LIKELY = {
    "email": "somebody@ashmere.example",
    "name": "Somebody",
    "season_name": "2027-28",
    "title": "A title",
    "lines": "98 Ada\nBea 97",
    "first_day": "2027-08-01",
    "last_day": "2028-06-30",
    "starts": "18:00",
    "ends": "19:00",
    "length_m": "30",
    "width_m": "20",
    "under": "10",
    "label": "U10",
    "match_format": "7v7",
    "session_minutes": "60",
    "kind": "hoops",
    "count": "4",
    "text": "Went well.",
    "value": "3",
    "source": "A book",
    "jurisdiction": "the club",
    "minutes": "60",
    "effort": "5",
    "format": "4v2",
    "players_expected": "12",
    "weeks": "2",
    "day": (date.today() + timedelta(days=2)).isoformat(),
    "players": "12",
    "password": "grass cones lights",
    "again": "grass cones lights",
    "club_name": "Ashmere",
    "days": "30",
    "under_low": "9",
    "under_high": "10",
}


@dataclass
class Form:
    """What a form would send as it stands; `buttons` are those with a name."""

    method: str
    action: str
    fields: Fields = field(default_factory=list)
    buttons: Fields = field(default_factory=list)

    @property
    def names(self) -> list[str]:
        """Each name once, in the page's order, those of buttons last. The forgery token is left alone."""
        every = [name for name, _ in [*self.fields, *self.buttons] if name != "csrfmiddlewaretoken"]
        return list(dict.fromkeys(every))


class _Reader(HTMLParser):
    def __init__(self, path: str) -> None:
        super().__init__()
        self.path = path
        self.forms: list[Form] = []
        self.open: Form | None = None
        self.by_id: dict[str, Form] = {}
        self.later: list[tuple[str, str, str, str]] = []
        self.asked: set[str] = set()
        self.area: tuple[str, list[str]] | None = None
        self.select: tuple[str, list[str]] | None = None

    def handle_starttag(self, tag: str, given: list[tuple[str, str | None]]) -> None:
        attrs = {name: value or "" for name, value in given}
        if tag == "form":
            self.open = Form(attrs.get("method", "get").lower(), attrs.get("action") or self.path)
            self.forms.append(self.open)
            self.by_id[attrs.get("id", "")] = self.open
        elif tag == "a" and "?" in attrs.get("href", ""):
            self.asked |= {name for name, _ in parse_qsl(urlsplit(attrs["href"]).query)}
        name = attrs.get("name", "")
        if tag == "option" and self.select is not None:
            self.select[1].insert(0 if "selected" in attrs else len(self.select[1]), attrs.get("value", ""))
        if not name:
            return
        if tag == "select":
            self.select = (name, [])
        elif tag == "textarea":
            self.area = (name, [])
        elif tag in ("input", "button"):
            kind = attrs.get("type", "submit" if tag == "button" else "text")
            if kind in ("checkbox", "radio") and "checked" not in attrs:
                kind = "unchecked"
            self.later.append((attrs.get("form", ""), kind, name, attrs.get("value", "")))
            self._put(*self.later.pop())

    def _put(self, form: str, kind: str, name: str, value: str) -> None:
        owner = self.by_id.get(form, self.open) if form else self.open
        if owner is not None:
            (owner.buttons if kind in ("submit", "unchecked") else owner.fields).append((name, value))

    def handle_data(self, data: str) -> None:
        if self.area is not None:
            self.area[1].append(data)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self.open = None
        if tag == "textarea" and self.area is not None:
            self._put("", "text", self.area[0], "".join(self.area[1]).removeprefix("\n"))
            self.area = None
        if tag == "select" and self.select is not None:
            self._put("", "text", self.select[0], next(iter(self.select[1]), ""))
            self.select = None


def forms_in(html: str, path: str) -> tuple[list[Form], set[str]]:
    """The forms of a page, and the names that its links ask with."""
    reader = _Reader(path)
    reader.feed(html)
    for form in reader.forms:
        form.action = urlsplit(form.action).path or path
    return reader.forms, reader.asked


def sent(fields: Fields) -> bytes:
    """The fields as a browser sends them, whatever they hold."""
    return b"&".join(_pair(*each) for each in fields)


def _pair(name: str, value: str) -> bytes:
    return f"{_quoted(name)}={_quoted(value)}".encode()


def _quoted(text: str) -> str:
    return quote_from_bytes(encoded(text), safe="/,(.-: ").replace(" ", "+")


def with_odd(form: Form, odd: dict[str, str], button: tuple[str, str] | None) -> Fields:
    """The form as it stands, empty fields filled in as somebody may, with these values in place of its own."""
    whole = form.action.endswith("/change/")  # what is there already is whole
    own = [(name, value or ("" if whole else likely(name))) for name, value in form.fields if name not in odd]
    pressed = [button] if button and button[0] not in odd else []
    return [*own, *pressed, *odd.items()]


def likely(name: str) -> str:
    """What somebody may type in a field of this name, so that an odd value beside it gets beyond the form."""
    return next((value for end, value in LIKELY.items() if name.rpartition("-")[2] == end), "")


def unique(forms: list[Form]) -> Iterator[Form]:
    """Each form once: a page has the same one beside each row."""
    seen = set()
    for form in forms:
        known = (
            form.method,
            tuple(sorted(set(form.names))),
            form.action.count("/"),
            form.action.rstrip("/").rpartition("/")[2],
        )
        if known not in seen:
            seen.add(known)
            yield form
