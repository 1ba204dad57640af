"""What a coach wishes for, as it is typed, kept with the computation and handed to the solver."""

from typing import Any

import msgspec
from django.utils.translation import gettext as _

from club.errors import FieldProblem
from drills.game.evening import Evening, Piece, PlayerAges, typed_ground
from drills.game.space import LONGEST_M
from sessions.choices import PartKind
from sessions.validators import LONGEST_MINUTES, MOST_PART_MINUTES, MOST_PARTS, MOST_PLAYERS

MOST_BANNED = 200


class KeptPart(msgspec.Struct, frozen=True, kw_only=True):
    """A part of the session that stays as it is; what it takes is read from the session."""

    part: str  # its outer id


class WishedPart(msgspec.Struct, frozen=True, kw_only=True):
    """One part: its place in the order, and what is settled of it already. No minutes: shared out as usual."""

    kind: str = PartKind.PRACTICE.value
    least: int | None = None
    most: int | None = None
    kept: KeptPart | None = None
    drill: str | None = None
    rung: str | None = None
    keepers_apart: bool = False  # they have a station and an adult of their own in it


class Wish(msgspec.Struct, frozen=True, kw_only=True):
    """Tonight. Lengths in metres, load in expected AU, effort in CR10; None is "no limit"."""

    age_group_id: int
    minutes: int
    players: int
    length: float | None  # a solver needs ground: None is for a form that asks for it
    width: float | None
    piece: Piece | None = None  # what is booked: it is meant as long as the lengths are its own
    parts: tuple[WishedPart, ...]
    session: str | None = None
    keepers: int | None = None
    adults: int | None = None
    ages: PlayerAges | None = None
    themes: tuple[str, ...] = ()
    load_au: float | None = None
    by_load: bool = True  # False: nothing is asked, limited or said in AU
    k: float = 1.0
    hardest: float | None = None
    headers: int | None = None
    set_up_minutes: int | None = None
    clear_minutes: int = 5
    changeover_minutes: int = 2
    kit: dict[str, int] | None = None
    banned: tuple[str, ...] = ()
    weights: dict[str, str] = {}  # the club's words; what is left out counts as usual

    @property
    def ground_m(self) -> tuple[float, float]:
        """Length and width; call after `problems` has found none."""
        assert self.length is not None
        assert self.width is not None
        return self.length, self.width

    @property
    def evening(self) -> Evening:
        """What Fit is asked. Lengths that are not those of the booked piece are typed, so edges are open; only drills for
        these ages are on offer.
        """
        return Evening(
            self.players,
            self.keepers,
            self.adults,
            self.ages,
            self._ground,
            self.kit or {},
            chosen=True,
        )

    @property
    def _ground(self) -> tuple[Piece, ...]:
        piece = self.piece
        if piece is not None and (piece.length_m, piece.width_m) == (self.length, self.width):
            return (piece,)
        return typed_ground(self.length, self.width)

    @property
    def apart(self) -> WishedPart | None:
        """The part in which the keepers are apart."""
        return next((part for part in self.parts if part.keepers_apart), None)

    def problems(self) -> list[FieldProblem]:
        """What can't be asked, beside its field. What can't be *done* is the solver's to say."""
        metres = f"More than 0 and at most {LONGEST_M} m."
        checks = (
            (0 <= self.minutes <= LONGEST_MINUTES, "minutes", f"From 0 to {LONGEST_MINUTES} minutes."),
            (1 <= self.players <= MOST_PLAYERS, "players", f"From 1 to {MOST_PLAYERS} players."),
            (self.length is not None, "length", _("Say how long the free space is.")),
            (self.width is not None, "width", _("Say how wide the free space is.")),
            (self.length is None or 0 < self.length <= LONGEST_M, "length", metres),
            (self.width is None or 0 < self.width <= LONGEST_M, "width", metres),
            (
                self.keepers is None or 0 <= self.keepers <= self.players,
                "keepers",
                "Not more than the players.",
            ),
            (self.adults is None or 0 <= self.adults <= 20, "adults", "From 0 to 20 adults."),
            (1 <= len(self.parts) <= MOST_PARTS, "parts", f"From 1 to {MOST_PARTS} parts."),
            (self.load_au is None or self.load_au >= 0, "load_au", "Not less than 0."),
            (
                self.load_au is None or self.by_load,
                "load_au",
                _(
                    "This age group is looked after by minutes and days, not by load: limit the hardest part instead."
                ),
            ),
            (self.hardest is None or 0 <= self.hardest <= 10, "hardest", "Effort goes from 0 to 10."),
            (self.headers is None or self.headers >= 0, "headers", "Not less than 0."),
            (self.set_up_minutes is None or self.set_up_minutes >= 0, "set_up_minutes", "Not less than 0."),
            (len(self.banned) <= MOST_BANNED, "banned", f"At most {MOST_BANNED} drills."),
            (all(count >= 0 for count in (self.kit or {}).values()), "kit", "Not less than 0."),
        )
        found = [FieldProblem(field, text) for fine, field, text in checks if not fine]
        found += _apart_problems(self)
        for index, part in enumerate(self.parts):
            found += _part_problems(part, f"parts[{index}]")
        return found


def _apart_problems(wish: Wish) -> list[FieldProblem]:
    """What a part with the keepers apart needs to be asked for."""
    part = wish.apart
    if part is None:
        return []
    keepers = wish.keepers or 0
    checks = (
        (sum(each.keepers_apart for each in wish.parts) == 1, "keepers_apart", _("In one part at most.")),
        (
            part.kind == PartKind.PRACTICE and part.kept is None,
            "keepers_apart",
            _("Choose a practice part to suggest again."),
        ),
        (keepers >= 1, "keepers", _("Keepers separate: say how many keepers there are.")),
        (keepers < wish.players, "keepers", _("Keepers separate: somebody has to be left to play.")),
        (
            wish.adults is None or wish.adults >= 2,
            "adults",
            _("Separate keepers need two adults, one at each station."),
        ),
    )
    return [FieldProblem(field, text) for fine, field, text in checks if not fine]


def _part_problems(part: WishedPart, field: str) -> list[FieldProblem]:
    least, most = part.least or 1, part.most or MOST_PART_MINUTES
    checks = (
        (part.kind in PartKind.values, "kind", f"One of {', '.join(PartKind.values)}."),
        (
            1 <= least <= most <= MOST_PART_MINUTES,
            "least",
            f"From 1 to {MOST_PART_MINUTES}, the fewest first.",
        ),
        (part.rung is None or part.drill is not None, "rung", "A variation stays together with its drill."),
    )
    return [FieldProblem(f"{field}.{name}", text) for fine, name, text in checks if not fine]


def as_plain(wish: Wish) -> dict[str, Any]:
    """A wish as plain data."""
    plain: dict[str, Any] = msgspec.to_builtins(wish)
    return plain


def wish_from(plain: dict[str, Any]) -> Wish:
    """The wish that `as_plain` kept."""
    return msgspec.convert(plain, Wish)
