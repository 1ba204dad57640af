"""What a page shows, or reads to whoever listens: the texts between its tags, and attributes that are read."""

import html
import re
from html.parser import HTMLParser

READ = {"aria-label", "title", "placeholder", "alt", "aria-description"}
# A tag that stands inside a sentence; every other one begins a text of its own.
WITHIN = {
    "a",
    "abbr",
    "b",
    "bdi",
    "dfn",
    "em",
    "i",
    "kbd",
    "mark",
    "q",
    "small",
    "span",
    "strong",
    "sub",
    "sup",
    "time",
    "tspan",
    "u",
    "var",
}
CODES = {"data-state", "data-bib", "data-for"}  # what styles and scripts go by
UNSEEN = {"script", "style", "template"}
WORDS = re.compile(r"^[^|{]*\s[^|]*$")  # in an attribute of ours: no list of names, no JSON
SPACES = re.compile(r"\s+")


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.now: list[str] = []
        self.unseen = 0

    def handle_starttag(self, tag: str, given: list[tuple[str, str | None]]) -> None:
        if tag not in WITHIN:
            self.ended()
        self.unseen += tag in UNSEEN
        attributes = {name: value or "" for name, value in given}
        read = {name for name in attributes if name in READ or name.startswith("data-")} - CODES
        if attributes.get("type") in ("submit", "button"):
            read |= {"value"} if tag == "input" else set()
        self.found += [
            attributes[name]
            for name in read
            if not name.startswith("data-") or WORDS.search(attributes[name])
        ]

    def handle_endtag(self, tag: str) -> None:
        if tag not in WITHIN:
            self.ended()
        self.unseen -= tag in UNSEEN

    def handle_data(self, data: str) -> None:
        if not self.unseen:
            self.now.append(data)

    def ended(self) -> None:
        self.found.append("".join(self.now))
        self.now = []


def visible(page: str) -> list[str]:
    """The texts of a page, each with single spaces, without repeats, in the page's order."""
    reader = _Reader()
    reader.feed(page)
    reader.close()
    reader.ended()
    plain = (SPACES.sub(" ", html.unescape(each)).strip() for each in reader.found)
    return list(dict.fromkeys(each for each in plain if each))
