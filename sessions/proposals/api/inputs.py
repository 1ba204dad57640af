"""What is sent about proposals: wishes, and how much each wish counts."""

from rest_framework import serializers as s

from club.api_fields import Named, Number, Several, Whole
from club.limits import NAME
from sessions.choices import HowMuch, PartKind


class WishedPartIn(s.Serializer):
    """A part in its place. `keep` names a part of the session that stays; `drill` and `rung` settle what is played."""

    kind = s.ChoiceField(choices=PartKind.choices, default=PartKind.PRACTICE)
    least = Whole(required=False, allow_null=True, help_text="Minutes; left out: as usual.")
    most = Whole(required=False, allow_null=True)
    keep = s.UUIDField(required=False, allow_null=True)
    drill = s.UUIDField(required=False, allow_null=True)
    rung = s.CharField(required=False, allow_blank=True, allow_null=True, max_length=NAME)
    keepers_apart = s.BooleanField(
        default=False,
        help_text="The keepers have a station, a drill and an adult of their own: one practice part at most.",
    )


class WishIn(s.Serializer):
    """What tonight is. With a `session` all else may be left out; without one, `age_group` and its numbers are needed."""

    session = s.UUIDField(required=False)
    age_group = s.UUIDField(required=False)
    themes = Several(
        child=s.CharField(max_length=NAME), required=False, max_length=6, help_text="Ids or keys."
    )
    minutes = Whole(required=False, help_text="Changeovers and clearing included.")
    players = Whole(required=False)
    keepers = Whole(required=False, allow_null=True)
    adults = Whole(required=False, allow_null=True, help_text="Null: as many as it takes.")
    length = Number(required=False)
    width = Number(required=False)
    load_au = Number(
        required=False, allow_null=True, help_text="Refused where nothing goes by AU: up to U10."
    )
    hardest = Number(required=False, allow_null=True, help_text="CR10 of the hardest part.")
    headers = Whole(required=False, allow_null=True)
    set_up_minutes = Whole(required=False, allow_null=True)
    kit = Named(child=Whole(min_value=0), required=False, allow_null=True)
    parts = WishedPartIn(many=True, required=False)
    banned = Several(child=s.UUIDField(), required=False, help_text="Drills that are not wanted tonight.")
    instead = s.BooleanField(
        default=False,
        help_text="Stop the one that you have open; otherwise the answer is 409 with its address.",
    )


class TakeIn(s.Serializer):
    which = Whole(default=0, help_text="0 is the best, 1 and 2 the alternatives.")


class WeightsIn(s.Serializer):
    """How much each counts: not at all, half (a little), as usual, double (a lot). What is left out stays."""

    theme = s.ChoiceField(choices=HowMuch.choices, required=False)
    playing = s.ChoiceField(choices=HowMuch.choices, required=False, help_text="Minutes in play.")
    moves = s.ChoiceField(choices=HowMuch.choices, required=False, help_text="Cones laid once.")
    last_week = s.ChoiceField(
        choices=HowMuch.choices, required=False, help_text="Last week's drill, one step harder."
    )
    rating = s.ChoiceField(choices=HowMuch.choices, required=False, help_text="Drills noted to have worked.")
    effort = s.ChoiceField(
        choices=HowMuch.choices, required=False, help_text="Effort that rises, then falls."
    )
