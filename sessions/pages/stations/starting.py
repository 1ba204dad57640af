"""What the fields for tonight's numbers begin with."""

from dataclasses import dataclass

from django.utils.translation import gettext as _

from drills.game.evening import Evening


@dataclass(frozen=True)
class Starting:
    """What was said, as a field shows it; empty where nobody said, or where several pieces of ground are meant.

    `adults_help` and `ground_help` say what an empty field means.
    """

    players: str
    keepers: str
    adults: str
    length: str
    width: str
    adults_help: str
    ground_help: str


def starting(evening: Evening) -> Starting:
    piece = evening.pieces[0] if len(evening.pieces) == 1 else None
    ground_help = _("as much as it takes")
    if evening.pieces:
        ground_help = "" if piece else _("all that is booked")
    return Starting(
        players=str(evening.players),
        keepers="" if evening.keepers is None else str(evening.keepers),
        adults="" if evening.adults is None else str(evening.adults),
        length=f"{piece.length_m:g}" if piece else "",
        width=f"{piece.width_m:g}" if piece else "",
        adults_help=_("as many as it takes") if evening.adults is None else "",
        ground_help=ground_help,
    )
