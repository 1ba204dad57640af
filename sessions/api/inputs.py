"""The JSON that comes in about training. Names follow the model's."""

from typing import Any

from rest_framework import serializers

from club.api_fields import Named, Number, PlannedDayField, Several, Whole
from club.limits import KEY, NAME, NOTE, TITLE
from sessions.choices import PartKind, Weekday, WhyCancelled

S = serializers


class StationIn(S.Serializer):
    """One drill in one variation at one place, with one group and one adult."""

    id = S.UUIDField(required=False, allow_null=True, help_text="Keep it to keep an accepted set-up.")
    drill = S.UUIDField(required=False, allow_null=True)
    variation_key = S.CharField(required=False, allow_blank=True, max_length=NAME, default="")
    group = S.CharField(required=False, allow_blank=True, max_length=NAME, default="")
    place = S.CharField(required=False, allow_blank=True, max_length=TITLE, default="")
    adult = S.UUIDField(required=False, allow_null=True)
    keep_revision = S.BooleanField(default=True, help_text="false: play the drill as the library has it now.")
    stays = S.BooleanField(default=False, help_text="Its group stays while the others move round.")


class PartIn(S.Serializer):
    """Minutes as bouts of `bout_s` seconds with `rest_s` between; `effort` is CR10, rests included."""

    id = S.UUIDField(required=False, allow_null=True)
    kind = S.ChoiceField(choices=PartKind.choices, default=PartKind.PRACTICE)
    title = S.CharField(required=False, allow_blank=True, max_length=TITLE, default="")
    minutes = Whole()
    bouts = Whole(default=1)
    bout_s = Whole(
        required=False,
        help_text="Left out: the minutes shared out around the rests, rounded down to half minutes.",
    )
    rest_s = Whole(default=0)
    changeover_s = Whole(
        required=False,
        help_text="Before this part. Left out: none before the first part, else as long as the club says.",
    )
    effort = Number()
    changes_round = S.BooleanField(
        default=False, help_text="Groups go on to the next station after each round."
    )
    stations = StationIn(many=True, required=False)


class MovePartIn(S.Serializer):
    """Where a part goes: its place counts from 0. Changeovers stay between the places, and a game stays a game: the other
    kinds keep their order among themselves."""

    to = Whole()


class SessionIn(S.Serializer):
    """A session. `starts` and `ends` are on the club's clock; the first of `staff` leads."""

    squad = S.UUIDField()
    slot = S.UUIDField(required=False, allow_null=True)
    title = S.CharField(required=False, allow_blank=True, max_length=TITLE)
    theme = S.UUIDField(required=False, allow_null=True)
    day = PlannedDayField()
    starts = S.TimeField()
    ends = S.TimeField()
    zones = Several(child=S.UUIDField(), required=False, max_length=20)
    staff = Several(child=S.UUIDField(), required=False, max_length=20)
    players_expected = Whole(required=False)
    note = S.CharField(required=False, allow_blank=True, max_length=NOTE)
    confirm = S.CharField(
        required=False,
        allow_blank=True,
        max_length=NOTE,
        help_text="The yes to taking another team's weekly slot: the `confirm` of the 409 that asked.",
    )
    parts = PartIn(many=True, required=False)


class SessionPatch(SessionIn):
    """Some of a session. Parts that are sent are sent whole, so their own rules hold as ever."""

    def get_fields(self) -> dict[str, Any]:
        found: dict[str, Any] = super().get_fields()
        for each in found.values():
            each.required = False
        return found


class TogetherIn(S.Serializer):
    """Another session at the same time. Adults and space are counted over both."""

    other = S.UUIDField()
    share_place = S.BooleanField(default=False, help_text="Each gets the spaces of both.")
    share_people = S.BooleanField(default=False, help_text="Everybody is down for both.")


class CancelIn(S.Serializer):
    why = S.ChoiceField(choices=WhyCancelled.choices)


class TurnOutIn(S.Serializer):
    """Who came and what is free; `numbers` and `grids` name the answer of Fit that is to be played.

    Adults and lengths that are left out are as the session has them; where it has none, as much as it takes.
    """

    players = Whole()
    keepers = Whole(required=False, allow_null=True)
    adults = Whole(required=False, allow_null=True)
    length = Number(required=False, allow_null=True)
    width = Number(required=False, allow_null=True)
    numbers = S.CharField(max_length=TITLE)
    grids = Whole()


class EverybodyIn(S.Serializer):
    """For how many players all parts are set up; left out: who is there by the register, else who is expected.

    `anew`: also where a part is set up for as many already.
    """

    players = Whole(required=False, allow_null=True)
    anew = S.BooleanField(required=False, default=False)


class SlotIn(S.Serializer):
    squad = S.UUIDField(required=False, help_text="Needed for a new slot.")
    weekday = S.ChoiceField(choices=Weekday.choices)
    starts = S.TimeField()
    ends = S.TimeField()
    first_day = PlannedDayField()
    last_day = PlannedDayField()
    zones = Several(child=S.UUIDField(), max_length=20)
    coaches = Several(child=S.UUIDField(), required=False, max_length=20)


class RotationIn(S.Serializer):
    """Either `teams` with `inside`, or `players` with `slots` (role → places)."""

    teams = S.JSONField(required=False, help_text="How many, or their bibs.")
    inside = Whole(required=False)
    outside = Whole(required=False)
    grids = Whole(required=False)
    players = S.JSONField(required=False, help_text="How many, or their names; names are not saved.")
    slots = Named(child=Whole(), required=False)
    bouts = Whole()
    bout_minutes = Number(
        required=False, min_value=0, max_value=120, help_text="For spread and bound in minutes."
    )
    pinned = Named(child=S.CharField(max_length=KEY), required=False)
    only = Named(child=Several(child=S.CharField(max_length=KEY)), required=False)
    presence = Named(child=Several(child=Whole(), min_length=2, max_length=2), required=False)


class NextGameIn(S.Serializer):
    """Winner stays on: who has just played, who waits in which order, who won (nobody: a draw)."""

    playing = Several(child=S.CharField(max_length=NAME), min_length=2, max_length=2)
    waiting = Several(child=S.CharField(max_length=NAME), max_length=12)
    winner = S.CharField(required=False, allow_null=True, max_length=NAME)
    stayed = Whole(default=1, help_text="Games running that the stayer has played, this one among them.")
    cap = Whole(default=3, help_text="After so many games running both go off.")
