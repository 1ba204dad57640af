"""What each kind of event says beside its id, kind and time.

Every field that counts names what it is about (the part that begins, the variation gone to), so the same tap
on two phones gives one result. Phones keep old forms for weeks: a body that changes gets a new form number, and
`FORMS` holds the step from each older one.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Annotated, Any, Literal

import msgspec

MOST_TEXT = 500
MOST_KEY = 64
MOST_LABEL = 40
MOST_MINUTES = 600
MOST_BOUTS = 40
MOST_TEAMS = 12
MOST_IN_TEAM = 60
MOST_WISHES = 12
MOST_TRIALISTS = 30  # that one phone offers
MOST_HEADS = 99
MOST_LINE = 200
MOST_OVER = 20  # phones at one session
MOST_TAPS = 100_000
HIGHEST_TRIALIST = 999  # phones that did not know of each other may come to more

Key = Annotated[str, msgspec.Meta(min_length=1, max_length=MOST_KEY)]
Minutes = Annotated[float, msgspec.Meta(ge=0, le=MOST_MINUTES)]
LimitName = Literal["no_contact", "no_heading", "outside_only"]
AgainAnswer = Literal["yes", "change", "no"]
CancelReason = Literal["weather", "pitch", "staff", "too_few"]


class Body(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Base of the bodies: a field that is not known is refused rather than dropped."""


class RegisterTap(Body, frozen=True, kw_only=True):
    """What a tap of the register says of one player.

    `over` names the last words of other phones about this player that this phone knew of: it is said over them. What it
    did not know of stands beside it (`register.py`).
    """

    player: Key
    over: Annotated[list[Key], msgspec.Meta(max_length=MOST_OVER)] = []


class AboutPlayer(RegisterTap, frozen=True, kw_only=True):
    """`arrived`, `absent`, `watching`; `out`: takes part nowhere until a coach of theirs lifts it, why is not kept."""


class TimedPlayer(RegisterTap, frozen=True, kw_only=True):
    """`late`, `left`: at the event's own time unless minutes after the start are given."""

    minutes: Minutes | None = None


class GuestBody(RegisterTap, frozen=True, kw_only=True):
    """`guest`: a player of another squad."""

    squad: Key | None = None


class LimitedBody(RegisterTap, frozen=True, kw_only=True):
    """`limited`: what a player leaves out tonight; nothing named is full again. No reason is kept."""

    limits: Annotated[list[LimitName], msgspec.Meta(max_length=3)] = []
    at_most_min: Annotated[int, msgspec.Meta(ge=1, le=MOST_MINUTES)] | None = None


class AboutPart(Body, frozen=True, kw_only=True):
    """`part_started`, `part_ended`, `next_part` (the part that begins), `part_skipped`, `bout_held`, `bout_resumed`."""

    part: Key


class RungBody(Body, frozen=True, kw_only=True):
    """`easier`, `harder`: the variation that is gone to, empty for the drill as written."""

    part: Key
    to: Annotated[str, msgspec.Meta(max_length=MOST_KEY)]


class FitBody(Body, frozen=True, kw_only=True):
    """`fit_accepted`: the set-up as the fit answered it: its headline, and whole under `kept` where the sender has it.

    Without a station it is the part's first; `rung` is the variation that it was answered on.
    """

    part: Key
    setup: dict[str, Any]
    station: Key | None = None
    rung: Annotated[str, msgspec.Meta(max_length=MOST_KEY)] | None = None


class SwapBody(Body, frozen=True, kw_only=True):
    """`part_swapped`: another drill is played in its place, in the revision that the phone had."""

    part: Key
    drill: Key
    revision: Annotated[int, msgspec.Meta(ge=1, le=100_000)]
    rung: Annotated[str, msgspec.Meta(max_length=MOST_KEY)] = ""


class DroppedBody(Body, frozen=True, kw_only=True):
    """`bout_dropped`: so many rounds of a part are left out."""

    part: Key
    bouts: Annotated[int, msgspec.Meta(ge=1, le=MOST_BOUTS)] = 1


class PairOfPlayers(Body, frozen=True, kw_only=True):
    """Two who are to play with each other tonight, or not."""

    first: Key
    second: Key
    together: bool


class TeamsBody(Body, frozen=True, kw_only=True):
    """`teams_set`: who plays with whom tonight, for one part or for all of them. Forgotten with the night.

    A trialist is named by the id of the event by which they joined. `seed` is what the teams were drawn with and `wishes`
    what was wished for, so that another phone draws the same; `keepers` are in goal and in no team.
    """

    teams: Annotated[
        list[Annotated[list[Key], msgspec.Meta(max_length=MOST_IN_TEAM)]], msgspec.Meta(max_length=MOST_TEAMS)
    ]
    part: Key | None = None
    keepers: Annotated[list[Key], msgspec.Meta(max_length=MOST_IN_TEAM)] = []
    seed: Annotated[int, msgspec.Meta(ge=0, le=2**31 - 1)] | None = None
    wishes: Annotated[list[PairOfPlayers], msgspec.Meta(max_length=MOST_WISHES)] = []


class TrialistBody(Body, frozen=True, kw_only=True):
    """`trialist`: somebody who tries out joins, or goes again. A number, never a name.

    Who joins gets the number that is asked for, or the lowest free one where somebody has it: two phones without signal
    that each add number 1 mean two people. `joined` is the id of the event by which the one who goes had joined, since
    the number may be another one by then; without it the number counts.
    """

    number: Annotated[int, msgspec.Meta(ge=1, le=HIGHEST_TRIALIST)]
    here: bool = True
    joined: Key | None = None


class HeadsBody(Body, frozen=True, kw_only=True):
    """`heads`: so many players were counted, without a name. Counted again, the later number stands; a register that has
    somebody who takes part leads."""

    count: Annotated[int, msgspec.Meta(ge=1, le=MOST_HEADS)]


class HeatBody(Body, frozen=True, kw_only=True):
    """`heat`: air temperature in °C and relative humidity in %, as they were read."""

    temperature_c: Annotated[float, msgspec.Meta(ge=-30, le=60)]
    humidity_pct: Annotated[float, msgspec.Meta(ge=0, le=100)]


class UndoneBody(Body, frozen=True, kw_only=True):
    """`undone`: another event of this session did not happen."""

    event: Key


class MinuteBody(Body, frozen=True, kw_only=True):
    """`minute_more`."""

    part: Key
    minutes: Annotated[int, msgspec.Meta(ge=1, le=30)] = 1


class EffortBody(Body, frozen=True, kw_only=True):
    """`effort`: CR10 of the group for a part, or for the whole session."""

    cr10: Annotated[float, msgspec.Meta(ge=0, le=10)]
    part: Key | None = None
    player: Key | None = None
    scale: Literal["CR10"] = "CR10"


class NoteBody(Body, frozen=True, kw_only=True):
    """`note`: no names, no health."""

    text: Annotated[str, msgspec.Meta(min_length=1, max_length=MOST_TEXT)]
    part: Key | None = None


class DeliveredBody(Body, frozen=True, kw_only=True):
    """`delivered`: all of it, or so many minutes."""

    minutes: Minutes | None = None


class ShortenedBody(Body, frozen=True, kw_only=True):
    """`shortened`."""

    minutes: Minutes


class CancelledBody(Body, frozen=True, kw_only=True):
    """`cancelled`."""

    reason: CancelReason


class MovedBody(Body, frozen=True, kw_only=True):
    """`moved`: to another time or place."""

    to: Annotated[str, msgspec.Meta(max_length=MOST_LABEL)] = ""


class EmptyBody(Body, frozen=True, kw_only=True):
    """`as_planned` takes back delivered, shortened, cancelled or moved; `thunder` was heard or lightning
    seen; `collected`: the last child has gone home."""


class ConfirmedBody(Body, frozen=True, kw_only=True):
    """`confirmed`: the register was read through. `taps` is how many of its taps the reader had before them: where others
    come in that were made before, the register that was read is not the one that counts, and it is not confirmed.
    """

    taps: Annotated[int, msgspec.Meta(ge=0, le=MOST_TAPS)] | None = None


class AgainBody(Body, frozen=True, kw_only=True):
    """`again`: whether a part that ran is worth running again: as it is, changed, or not."""

    part: Key
    answer: AgainAnswer


class NextTimeBody(Body, frozen=True, kw_only=True):
    """`next_time`: one line for the team's next session; a later one stands for it. No names, no health."""

    text: Annotated[str, msgspec.Meta(min_length=1, max_length=MOST_LINE)]


KINDS: Mapping[str, type[Body]] = {
    "arrived": AboutPlayer,
    "late": TimedPlayer,
    "left": TimedPlayer,
    "guest": GuestBody,
    "limited": LimitedBody,
    "watching": AboutPlayer,
    "absent": AboutPlayer,
    "part_started": AboutPart,
    "part_ended": AboutPart,
    "next_part": AboutPart,
    "bout_held": AboutPart,
    "bout_resumed": AboutPart,
    "easier": RungBody,
    "harder": RungBody,
    "fit_accepted": FitBody,
    "minute_more": MinuteBody,
    "effort": EffortBody,
    "note": NoteBody,
    "delivered": DeliveredBody,
    "shortened": ShortenedBody,
    "cancelled": CancelledBody,
    "moved": MovedBody,
    "as_planned": EmptyBody,
    "undone": UndoneBody,
    "part_skipped": AboutPart,
    "part_swapped": SwapBody,
    "bout_dropped": DroppedBody,
    "teams_set": TeamsBody,
    "trialist": TrialistBody,
    "heat": HeatBody,
    "thunder": EmptyBody,
    "out": AboutPlayer,
    "collected": EmptyBody,
    "confirmed": ConfirmedBody,
    "again": AgainBody,
    "next_time": NextTimeBody,
    "heads": HeadsBody,
}

# What a tap of the register is: about one player, by one phone.
REGISTER_KINDS = frozenset(kind for kind, body in KINDS.items() if issubclass(body, RegisterTap))

Step = Callable[[dict[str, Any]], dict[str, Any]]
# Kind → the steps from form 1 to form 2, from 2 to 3 and so on; a kind that is not listed is in its first form.
FORMS: Mapping[str, tuple[Step, ...]] = {}


def decoded(kind: str, form: int, body: Mapping[str, Any]) -> Body | None:
    """A body by its kind, brought up from an older form; None for a kind or a form that is not known here.

    Raises msgspec.ValidationError where the body is not what its kind says.
    """
    known, steps = KINDS.get(kind), FORMS.get(kind, ())
    if known is None or not 1 <= form <= len(steps) + 1:
        return None
    plain = dict(body)
    for step in steps[form - 1 :]:
        plain = step(plain)
    return msgspec.convert(plain, known)
