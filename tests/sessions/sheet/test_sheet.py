"""The sheet as values and as a PDF: nothing typed becomes markup, nothing runs over, the same values give the same bytes."""

import json
from dataclasses import asdict, replace
from typing import Any

import typst

from sessions.pages.sheet.session import labels
from sessions.sheet import (
    CoachingQuestion,
    IfTooEasyOrHard,
    Picture,
    Sheet,
    SheetPart,
    SheetStart,
    SheetStation,
    SheetTeam,
    SheetTurn,
    digest,
    pdf,
    png,
)
from sessions.sheet.render import _files

NASTY = '#read("/etc/hosts") *b* $x^2$ <label> @cite \\ #panic() [ ] ` // /* 💥'
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><rect width="10" height="10" fill="#c00"/></svg>'


def station(text: str = "Keep it moving", **changes: Any) -> SheetStation:
    given: dict[str, Any] = {
        "title": text,
        "rung": text,
        "line": text,
        "numbers": "4v4+4 on 30 × 24 m",
        "size": text,
        "condition": text,
        "say": (text, text, text),
        "points": ((text, text),),
        "asks": (CoachingQuestion(text, text, text, text), CoachingQuestion(text, text, text, text)),
        "praise": text,
        "teams": (SheetTeam("red", 4, "reds", "inside"), SheetTeam(text, 4, text, "outside", text)),
        "turns": (SheetTurn(1, "18:00–18:04", text, text, ""),),
        "safety": (text, text),
        "kit": text,
        "ladder": IfTooEasyOrHard(text, text, text),
        "pictures": (Picture(SVG, text), Picture(SVG, text, text)),
        "start": (text,),
        "rules": (text, text),
        "colours": (text,),
    }
    return SheetStation(**{**given, **changes})


def sheet(text: str = "Patience, then through", *, parts: int = 4, stations: int = 1) -> Sheet:
    made = SheetPart(1, text, "Practice", "18:00–18:18", "4 × 3:00", "CR10 5", ("18:00–18:04",), text)
    every = tuple(
        replace(made, number=number, stations=tuple(station(text) for _ in range(stations)))
        for number in range(1, parts + 1)
    )
    return Sheet(
        lang="en",
        club=text,
        title=text,
        squad=text,
        when="Wed 25 Nov 2026, 18:00–19:15",
        place=text,
        people=text,
        facts=(("Start", "18:00"), ("Players", "15")),
        start=SheetStart(
            (text, text), (text,), text, (text, text, text), text, IfTooEasyOrHard(text, text, text)
        ),
        parts=every,
        safety=((text, text), (text, "")),
        link="https://training.club.example/sessions/1/",
        stamp=1_780_000_000,
        labels={name: str(word) for name, word in labels().items()},
        section=Picture(SVG, text),
        ground=(Picture(SVG, text),),
    )


def test_what_is_typed_never_becomes_markup() -> None:
    files = _files(sheet(NASTY))
    for size in ("a4", "pocket"):
        found = typst.query({"main": files[f"{size}.typ"], **files}, "heading", field="body", one=True)
        assert json.loads(found)["child"] == {"func": "text", "text": NASTY}
        assert pdf(sheet(NASTY), size).startswith(b"%PDF-")  # type: ignore[arg-type]


def test_two_sides_at_most_however_much_there_is() -> None:
    assert len(png(sheet(), "a4", ppi=20)) == 2
    assert (
        len(png(sheet("Keep the ball and look up before it comes " * 4, parts=12, stations=3), ppi=20)) == 2
    )
    assert len(png(sheet(parts=0), ppi=20)) == 1


def test_a_pocket_page_for_the_start_and_for_each_station() -> None:
    assert len(png(sheet(parts=3, stations=2), "pocket", ppi=20)) == 7


def test_the_same_values_give_the_same_bytes() -> None:
    assert pdf(sheet()) == pdf(sheet())
    assert digest(sheet(), "a4") == digest(sheet(), "a4")
    other = replace(sheet(), people="Somebody else leads")
    assert len({digest(sheet(), "a4"), digest(sheet(), "pocket"), digest(other, "a4")}) == 3


def test_the_paper_has_no_picture_left_in_its_values() -> None:
    files = _files(sheet())
    assert b"<svg" not in files["sheet.json"]
    assert sum(name.startswith("picture") for name in files) == sum(1 for _ in _pictures(asdict(sheet())))


def _pictures(value: Any) -> Any:
    if isinstance(value, dict):
        if value.keys() == {"svg", "alt", "caption"}:
            yield value
        for each in value.values():
            yield from _pictures(each)
    elif isinstance(value, list | tuple):
        for each in value:
            yield from _pictures(each)
