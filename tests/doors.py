"""For the test of the eight doors: random evenings as somebody might say them, and the demo club that is asked."""

import random
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any

from django.db import transaction

from drills.game.document import DrillDocument
from drills.game.evening import Evening, Piece, PlayerAges, one_year, typed_ground
from drills.game.fit import SetUp

EVENINGS = 200


@dataclass(frozen=True)
class Asked:
    """One evening as somebody might say it, and the rung that is asked about. `group` has a place in the list of groups."""

    drill: int
    rung: int
    players: int
    keepers: int | None
    adults: int | None
    group: int | None
    length: float | None
    width: float | None
    kit: bool

    @property
    def ground(self) -> tuple[Piece, ...]:
        return typed_ground(self.length, self.width)


def evenings() -> list[Asked]:
    dice, found = random.Random("eight doors"), []
    for number in range(EVENINGS):
        players, typed = dice.randint(5, 24), dice.random() < 0.8
        found.append(
            Asked(
                drill=dice.randrange(1000),
                rung=dice.randrange(1000),
                players=players,
                keepers=dice.choice([None, 0, 1, 2]),
                adults=dice.choice([None, 1, 2, 3]),
                group=dice.choice([None, dice.randrange(100)]),
                length=dice.choice([20, 26.5, 30, 40, 60]) if typed else None,
                width=dice.choice([15, 20, 30, 40]) if typed else None,
                kit=number % 2 == 0,
            )
        )
    return found


@dataclass(frozen=True)
class Installation:
    """The demo club's shelf, its groups, its kit, an evening of it, and who looks at it."""

    drills: list[Any]
    documents: list[DrillDocument]
    groups: list[Any]
    stock: dict[str, int]
    session: Any
    director: Any

    def rung(self, asked: Asked) -> tuple[Any, DrillDocument, str]:
        at = asked.drill % len(self.drills)
        document = self.documents[at]
        keys = ["", *(each.key for each in document.variations)]
        return self.drills[at], document, keys[asked.rung % len(keys)]

    def kit(self, asked: Asked) -> dict[str, int]:
        return self.stock if asked.kit else {}

    def under(self, asked: Asked) -> int | None:
        """One year group, as a drill's page takes it."""
        return None if asked.group is None else self.groups[asked.group % len(self.groups)].under

    def ages(self) -> PlayerAges:
        from sessions.queries.evening import ages_of

        return ages_of(self.session.age_group)

    @contextmanager
    def stocked(self, *, counted: bool) -> Iterator[None]:
        """The club as it is, or before it has counted anything."""
        from club.models import BibStock, KitStock

        with transaction.atomic():
            if not counted:
                KitStock.objects.all().delete()
                BibStock.objects.all().delete()
            yield
            transaction.set_rollback(True)

    def each(self, every: int = 1) -> Iterator[tuple[Asked, Any, DrillDocument, str]]:
        """One evening in so many (an odd number) with what is asked about, those with the club's kit first."""
        chosen = evenings()[::every]
        for counted in (True, False):
            with self.stocked(counted=counted):
                for asked in chosen:
                    if asked.kit == counted:
                        yield asked, *self.rung(asked)


Shape = tuple[str, int, tuple[tuple[float, float], ...], int]


def shape(setup: SetUp) -> Shape:
    return setup.numbers, setup.grids, setup.grid_sizes, setup.waiting


def shapes(setups: Sequence[SetUp]) -> list[Shape]:
    return [shape(each) for each in setups]


def on_page(installation: Installation, asked: Asked) -> Evening:
    """What a drill's page and the API take these words for."""
    under = installation.under(asked)
    ages = None if under is None else one_year(under)
    return Evening(asked.players, asked.keepers, asked.adults, ages, asked.ground, installation.kit(asked))


def in_session(installation: Installation, asked: Asked) -> Evening:
    """What a station of the session takes these words for: what nobody typed is as the session has it."""
    from sessions.queries.evening import evening_of

    evening = evening_of(installation.session, players=asked.players, kit=installation.kit(asked))
    booked = {(each.length_m, each.width_m): (each,) for each in evening.pieces}
    ground = booked.get((asked.length, asked.width), asked.ground) or evening.pieces
    return replace(evening, keepers=asked.keepers, adults=asked.adults or evening.adults, pieces=ground)


def params(installation: Installation, asked: Asked) -> dict[str, str]:
    said = {
        "players": asked.players,
        "keepers": asked.keepers,
        "adults": asked.adults,
        "length": asked.length,
        "width": asked.width,
        "age": installation.under(asked),
    }
    return {name: f"{value:g}" for name, value in said.items() if value is not None}
