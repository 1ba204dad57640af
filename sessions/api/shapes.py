"""The JSON of training: what comes in and what goes out. Names follow the model's."""

from typing import Any

from rest_framework import serializers

from club.api_fields import Named, Number, PlannedDayField, Several, Whole
from club.limits import KEY, NAME, NOTE, TITLE
from sessions.api.happened import EmergencyOut, HappenedOut, HeatOut, ReasonOut, ThunderOut, UncountedOut
from sessions.choices import Kind, PartKind, State, Weekday, WhyCancelled

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
    stays = S.BooleanField(default=False, help_text="Its group stays while the others change round.")


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
    changeover_s = Whole(default=0)
    effort = Number()
    changes_round = S.BooleanField(
        default=False, help_text="Groups go on to the next station after each bout."
    )
    stations = StationIn(many=True, required=False)


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


class RowOut(S.Serializer):
    id = S.UUIDField()
    name = S.CharField()


class StepsOut(S.Serializer):
    """Where one can go from the variation that is planned, by key; an empty one is the drill as written, null is none."""

    easier = S.CharField(allow_null=True)
    harder = S.CharField(allow_null=True)
    back = S.CharField(allow_null=True)


class StaleOut(S.Serializer):
    """Why a set-up is not one for this evening any more."""

    code = S.CharField()
    text = S.CharField()


class StationOut(S.Serializer):
    id = S.UUIDField()
    drill = S.UUIDField(allow_null=True)
    title = S.CharField()
    revision = S.IntegerField(allow_null=True)
    changed_since = S.BooleanField()
    retired = S.BooleanField(help_text="The drill is off the shelf; what is planned here stays.")
    variation_key = S.CharField()
    steps = StepsOut(allow_null=True)
    group = S.CharField()
    place = S.CharField()
    adult = S.UUIDField(allow_null=True)
    stays = S.BooleanField()
    setup = S.DictField(allow_null=True)
    played = S.DictField(allow_null=True)
    setup_input = S.DictField(allow_null=True)
    setup_is_stale = S.BooleanField(help_text="There are reasons to set it up again; never once it is done.")
    setup_stale_reasons = StaleOut(many=True)


class PartOut(S.Serializer):
    id = S.UUIDField()
    kind = S.ChoiceField(choices=PartKind.choices)
    title = S.CharField()
    minutes = S.IntegerField()
    bouts = S.IntegerField()
    bout_s = S.IntegerField()
    rest_s = S.IntegerField()
    changeover_s = S.IntegerField()
    changeover_laying_minutes = S.FloatField(
        help_text="Half minutes that laying takes in the changeover before it."
    )
    effort = S.FloatField()
    changes_round = S.BooleanField()
    starts_at = S.DateTimeField()
    ends_at = S.DateTimeField()
    load_au = S.FloatField(allow_null=True, help_text="Null up to U10, like all AU.")
    stations = StationOut(many=True)


class SessionRow(S.Serializer):
    """A session in a list."""

    id = S.UUIDField()
    version = S.IntegerField()
    age_group = S.UUIDField()
    squad = S.UUIDField()
    slot = S.UUIDField(allow_null=True)
    title = S.CharField()
    theme = S.UUIDField(allow_null=True)
    day = S.DateField()
    starts = S.TimeField(format="%H:%M")
    ends = S.TimeField(format="%H:%M")
    zones = RowOut(many=True)
    staff = RowOut(many=True)
    together = RowOut(many=True, help_text="Sessions of other teams that it was put together with, by team.")
    players_expected = S.IntegerField()
    players_tonight = S.IntegerField(
        help_text="Here by the register and taking part, as soon as somebody is; else as expected."
    )
    kind = S.ChoiceField(choices=Kind.choices)
    state = S.ChoiceField(choices=State.choices)
    why_cancelled = S.CharField()
    delivered_minutes = S.IntegerField(allow_null=True)


class UsedAgainOut(S.Serializer):
    """One time that the parts were fitted anew, and all that became different; from which session, where it is a copy."""

    title = S.CharField()
    day = S.DateField(allow_null=True)
    age_group = S.CharField()
    changes = ReasonOut(many=True)


class LaidAt(S.Serializer):
    """What is laid at one time: before the start, while a part is played (during), or in a changeover."""

    when = S.ChoiceField(choices=["before", "during", "changeover"])
    starts_at = S.DateTimeField()
    part = S.IntegerField(help_text="The part that it is for, from 1.")
    kit = S.CharField()
    adults = S.IntegerField()
    minutes = S.FloatField()


class SessionOut(SessionRow):
    note = S.CharField()
    parts = PartOut(many=True)
    planned_au = S.FloatField(allow_null=True)
    expected_au = S.FloatField(
        allow_null=True, help_text="What the plan will probably come to for this team."
    )
    counts_au = S.FloatField(
        allow_null=True, help_text="What its week counts: as it was recorded, else as expected."
    )
    budget_au = S.FloatField(allow_null=True)
    set_up_from = S.DateTimeField()
    set_up_minutes = S.IntegerField()
    laying = LaidAt(many=True)
    clear_from = S.DateTimeField()
    clear_by = S.DateTimeField()
    kit = S.DictField(child=S.IntegerField())
    adults_needed = S.IntegerField()
    adults_counted = S.IntegerField(help_text="18 or over, with vetting that holds on the day.")
    adults_not_counted = UncountedOut(many=True)
    players_without_out = S.IntegerField(
        help_text="Players expected, without who is out until lifted: what everything is worked out for."
    )
    emergency = EmergencyOut()
    reasons = ReasonOut(many=True)
    used_again = UsedAgainOut(many=True, help_text="The last time first.")
    happened = HappenedOut(allow_null=True, help_text="Once it is done.")
    heat = HeatOut(allow_null=True, help_text="The last `heat` event.")
    thunder = ThunderOut(allow_null=True, help_text="The clock of the last `thunder` event.")


class TogetherIn(S.Serializer):
    """Another session at the same time. Adults and space are counted over both."""

    other = S.UUIDField()
    share_place = S.BooleanField(default=False, help_text="Each gets the zones of both.")
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


class SetUpLineOut(S.Serializer):
    """One station with a drill. `holds`: its set-up can be played as it is; `nothing_fits`: it keeps what it had, and
    `reasons` say why; `begun`: its part is under way or over, and stays as it is. `stale_reasons`: why it doesn't hold.
    """

    part = S.UUIDField()
    station = S.UUIDField()
    title = S.CharField()
    players = S.IntegerField()
    standing = S.ChoiceField(choices=("holds", "fits", "nothing_fits", "begun"))
    changed = S.BooleanField()
    set_up = S.CharField(help_text="Numbers and size; empty where the drill is played as written.")
    stale_reasons = S.ListField(child=S.CharField())
    reasons = S.ListField(child=S.CharField())


class AllSetUpOut(S.Serializer):
    players = S.IntegerField()
    version = S.IntegerField()
    stations = SetUpLineOut(many=True)


class SlotIn(S.Serializer):
    squad = S.UUIDField(required=False, help_text="Needed for a new slot.")
    weekday = S.ChoiceField(choices=Weekday.choices)
    starts = S.TimeField()
    ends = S.TimeField()
    first_day = PlannedDayField()
    last_day = PlannedDayField()
    zones = Several(child=S.UUIDField(), max_length=20)
    coaches = Several(child=S.UUIDField(), required=False, max_length=20)


class SlotOut(S.Serializer):
    id = S.UUIDField()
    version = S.IntegerField()
    squad = S.UUIDField()
    weekday = S.IntegerField()
    starts = S.TimeField(format="%H:%M")
    ends = S.TimeField(format="%H:%M")
    first_day = S.DateField()
    last_day = S.DateField()
    zones = RowOut(many=True)
    coaches = RowOut(many=True)


class LineOut(S.Serializer):
    day = S.DateField()
    kind = S.CharField()
    title = S.CharField()
    minutes = S.FloatField()
    load_au = S.FloatField(allow_null=True)
    is_estimated = S.BooleanField()
    is_to_come = S.BooleanField()
    session = S.UUIDField(allow_null=True)


class DayOut(S.Serializer):
    day = S.DateField()
    minutes = S.FloatField()
    load_au = S.FloatField(allow_null=True)


class WeekDetailOut(S.Serializer):
    """Null where undefined: seven equal days have no spread. The last two are loads a day, of 7 and of 28 days."""

    monotony = S.FloatField(allow_null=True)
    strain = S.FloatField(allow_null=True)
    short_au = S.FloatField()
    long_au = S.FloatField()


class ChangeOut(S.Serializer):
    text = S.CharField()
    kind = S.ChoiceField(choices=("bouts", "rung", "shorter", "part", "session"))
    size = S.IntegerField(help_text="Rounds, rungs, minutes, parts or sessions, by kind.")
    session = S.UUIDField()
    part = S.UUIDField(allow_null=True)
    saving_au = S.FloatField()


class WayOut(S.Serializer):
    """One way to bring the week under: the least changes, or the least with a session left out."""

    saving_au = S.FloatField()
    left_over_au = S.FloatField(help_text="0 where it is enough.")
    changes = ChangeOut(many=True)


class SquadWeekOut(S.Serializer):
    squad = S.UUIDField()
    name = S.CharField()
    total_au = S.FloatField(allow_null=True)
    budget_au = S.FloatField(allow_null=True)
    over_au = S.FloatField(allow_null=True)
    minutes = S.FloatField()
    budget_minutes = S.IntegerField(allow_null=True)
    hours = S.FloatField()
    hours_most = S.FloatField(
        allow_null=True, help_text="Organised hours a week at most, by the figure in force."
    )
    football_days = S.IntegerField()
    rest_days = S.IntegerField()
    told = S.CharField(help_text="Heavy, usual or light for this team, in words.")
    word = S.CharField(allow_null=True)
    heading_left = S.ListField(child=S.CharField(), help_text="All that is done and planned counted.")
    detail = WeekDetailOut(allow_null=True, help_text="For the director alone, from day 28 on.")
    lighter = WayOut(many=True, help_text="Empty where the week is not over its load.")
    days = DayOut(many=True)
    lines = LineOut(many=True)
    reasons = ReasonOut(many=True)


class AgeGroupWeekOut(S.Serializer):
    age_group = S.UUIDField()
    label = S.CharField()  # type: ignore[assignment]  # the field's name, not the class's own attribute
    week = S.CharField()
    monday = S.DateField()
    squads = SquadWeekOut(many=True)


class RotationIn(S.Serializer):
    """Either `teams` with `inside`, or `players` with `slots` (role → places)."""

    teams = S.JSONField(required=False, help_text="How many, or their bibs.")
    inside = Whole(required=False)
    outside = Whole(required=False)
    grids = Whole(required=False)
    players = S.JSONField(required=False, help_text="How many, or their names; names are not kept.")
    slots = Named(child=Whole(), required=False)
    bouts = Whole()
    bout_minutes = Number(
        required=False, min_value=0, max_value=120, help_text="For spread and bound in minutes."
    )
    pinned = Named(child=S.CharField(max_length=KEY), required=False)
    only = Named(child=Several(child=S.CharField(max_length=KEY)), required=False)
    presence = Named(child=Several(child=Whole(), min_length=2, max_length=2), required=False)


class RotationOut(S.Serializer):
    bouts = S.ListField(child=S.DictField())
    spread = S.FloatField()
    bound = S.FloatField()
    spread_min = S.FloatField(allow_null=True)
    bound_min = S.FloatField(allow_null=True)
    proven = S.BooleanField()
    cycle = S.IntegerField()
    reasons = ReasonOut(many=True)


class NextGameIn(S.Serializer):
    """Winner stays on: who has just played, who waits in which order, who won (nobody: a draw)."""

    playing = Several(child=S.CharField(max_length=NAME), min_length=2, max_length=2)
    waiting = Several(child=S.CharField(max_length=NAME), max_length=12)
    winner = S.CharField(required=False, allow_null=True, max_length=NAME)
    stayed = Whole(default=1, help_text="Games running that the stayer has played, this one among them.")
    cap = Whole(default=3, help_text="After so many games running both go off.")


class NextGameOut(S.Serializer):
    playing = S.ListField(child=S.CharField())
    waiting = S.ListField(child=S.CharField())
    stayed = S.IntegerField()
