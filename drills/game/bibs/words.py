"""Where a text speaks of players by the colour of their bibs, and the same text in other colours.

A colour stands for players as a plural ("reds", "the blues' goal"), with a possessive ("red's first touch"), and behind a
word that picks somebody out ("a yellow", "the nearest green", "the white keeper"). It never does in quotation marks (what
is called out), nor before something that has a colour of its own ("the red cone", "your green light").
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass

# In the order in which they are offered; the drawing has a paint for each.
COLOURS = (
    "red",
    "blue",
    "yellow",
    "green",
    "orange",
    "white",
    "black",
    "pink",
    "purple",
    "grey",
    "light blue",
)
_DETERMINERS = (
    "a|an|the|each|every|either|neither|any|no|one|another|other|same|that|this|which|both|nearest|furthest|closest|"
    "first|second|third|last|next|middle|wide|outside|inside|free|spare"
)
# Things that have a colour of their own, or are no players at all. "The whites' goal" is the whites'.
_THINGS = "cone|goal|line|ball|card|gate|grass|light|disc|marker|pole|hoop|flag|post|net|paint|tape|square|circle|dot|spot"
_QUOTED = re.compile(r"\"[^\"]*+\"|“[^”]*+”|‘[^’]*+’(?!\w)|«[^»]*+»|„[^“]*+“")
_COLOUR = "|".join(re.escape(each) for each in sorted(COLOURS, key=len, reverse=True))
_SPOKEN = re.compile(
    rf"""
    (?P<before>\b(?:{_DETERMINERS})\s++)?
    \b(?P<colour>{_COLOUR})
    (?P<form>s\b(?:['’])?|['’]s\b|(?=\W|$))
    (?P<thing>(?=\s++(?:{_THINGS})s?\b))?
    (?P<goal>(?=\s++goal\b))?
    """,
    re.IGNORECASE | re.VERBOSE,
)
_ARTICLE = re.compile(r"\ban?(\s++)$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Spoken:
    """A colour word in a text, from `start` to `end`. `players`: it stands for players, so it follows their bibs."""

    start: int
    end: int
    colour: str
    players: bool


def colours_in(text: str, *, name: bool = False, goals: Container[str] = ()) -> Iterator[Spoken]:
    """Every colour word of a text that may be a bib's, in order.

    `name`: the text names a group, a zone or a role, where any colour is that of players ("wide yellow"). `goals`: colours
    that a goal of the drill is called by, so that "the white goal" is the whites'.
    """
    quoted = [found.span() for found in _QUOTED.finditer(text)]
    for found in _SPOKEN.finditer(text):
        start, end = found.span("colour")
        colour = found["colour"].lower()
        owned = found["goal"] is not None and colour in goals
        thing = found["thing"] is not None and not found["form"]  # "the whites' goal" is the whites'
        if any(first <= start < last for first, last in quoted) or (thing and not owned):
            continue
        yield Spoken(start, end, colour, name or owned or bool(found["form"] or found["before"]))


def recoloured(text: str, wear: Mapping[str, str], *, name: bool = False, goals: Container[str] = ()) -> str:
    """The text with the colours of players as they are worn: `wear` says written colour → colour tonight.

    Capitals stay, and the article before a colour goes with it: "an orange" is "a blue". `name`, `goals` as in `colours_in`.
    """
    made, done = "", 0
    for each in colours_in(text, name=name, goals=goals):
        tonight = wear.get(each.colour, each.colour)
        if not each.players or tonight == each.colour:
            continue
        made += _with_article(text[done : each.start], tonight) + _like(text[each.start : each.end], tonight)
        done = each.end
    return made + text[done:]


def colours_of_goals(keys: Iterable[str]) -> frozenset[str]:
    """The colours that goals are called by: "white-goal" is the whites'."""
    words = (key.replace("_", "-").split("-") for key in keys)
    return frozenset(colour for each in words for colour in each if colour in COLOURS and "goal" in each)


def _with_article(before: str, colour: str) -> str:
    """The words up to a colour, whose article, if they end with one, is that of the colour."""
    found = _ARTICLE.search(before)
    if found is None:
        return before
    article = "an" if colour[0] in "aeio" else "a"
    capital = before[found.start()].isupper()
    return before[: found.start()] + (article.capitalize() if capital else article) + found[1]


def _like(written: str, colour: str) -> str:
    return colour.capitalize() if written[0].isupper() else colour
