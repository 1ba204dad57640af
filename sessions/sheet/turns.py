"""Who plays when, on one side of A4: by bout and by player. It holds players' names, so it never has a code or an address."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass

from sessions.sheet.render import as_files, digest_of, set_as_pdf, set_as_png

_TEMPLATES = ("page.typ", "turns.typ")


@dataclass(frozen=True, slots=True)
class Hand:
    """Who wears a bib in one bout; `place` is a word that is printed where it isn't the usual one."""

    bib: str
    place: str
    names: str


@dataclass(frozen=True, slots=True)
class BoutOnPaper:
    """One bout by the clock; `notes` are loans and who is not there."""

    number: int
    clock: str
    hands: tuple[Hand, ...]
    waiting: str = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlayerOnPaper:
    """One player's way through the bouts; `waits` says for each whether it is a turn of waiting. `minutes` are texts."""

    name: str
    shirt: str
    cells: tuple[str, ...]
    waits: tuple[bool, ...]
    minutes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TurnsSheet:
    """The turns of one station on paper, in the reader's language already."""

    lang: str
    club: str
    title: str
    squad: str
    when: str
    part: str
    even: str
    minutes: tuple[str, ...]  # the heads of the minutes in `PlayerOnPaper`
    bouts: tuple[BoutOnPaper, ...]
    players: tuple[PlayerOnPaper, ...]
    note: str
    stamp: int  # seconds since 1970, of the session's start: the same content gives the same bytes
    labels: Mapping[str, str]


def turns_digest(sheet: TurnsSheet) -> str:
    """A hash of everything that the bytes depend on."""
    return digest_of(_files(sheet))


def turns_pdf(sheet: TurnsSheet) -> bytes:
    """One side of A4 as PDF/UA-1; the more there are, the smaller they are set, never over the edge. Raises NotTypeset."""
    return set_as_pdf("turns.typ", _files(sheet), sheet.stamp)


def turns_png(sheet: TurnsSheet, *, ppi: float = 110) -> list[bytes]:
    """The same as PNG, to be looked at, with `ppi` pixels an inch. Raises NotTypeset."""
    return set_as_png("turns.typ", _files(sheet), ppi)


def _files(sheet: TurnsSheet) -> dict[str, bytes]:
    return as_files(asdict(sheet), _TEMPLATES)
