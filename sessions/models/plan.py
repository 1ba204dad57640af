"""A session as planned: its slot, time, places and people, its parts with their stations and turns, and orders of parts."""

import uuid

import pghistory
from django.contrib.postgres.constraints import ExclusionConstraint
from django.contrib.postgres.fields import DateTimeRangeField, RangeOperators
from django.db import models
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from club.models.base import Editable
from sessions.choices import Kind, PartKind, StaffPart, State, Weekday, WhyCancelled


# What the events leave behind is kept by the events, so each of them does not write all of it into the history again.
@pghistory.track(
    pghistory.InsertEvent(),
    pghistory.UpdateEvent(
        condition=pghistory.AnyChange(exclude=["delivery", "last_seq", "helper_turn", "version"])
    ),
    exclude=["delivery", "last_seq", "helper_turn"],
)
class TrainingSession(Editable):
    """One training unit of one age group.

    `day`, `starts` and `ends` on the club's clock are the intent, kept over clock changes; `period` is the same in
    UTC, written by the actions.
    """

    age_group = models.ForeignKey("club.AgeGroup", on_delete=models.PROTECT, related_name="training_sessions")
    squad = models.ForeignKey("club.Squad", on_delete=models.PROTECT, related_name="training_sessions")
    slot = models.ForeignKey(
        "training.Slot", on_delete=models.SET_NULL, null=True, blank=True, related_name="training_sessions"
    )
    title = models.CharField(_("title"), max_length=80, blank=True)
    theme = models.ForeignKey("club.Theme", on_delete=models.SET_NULL, null=True, blank=True)
    slot_day = models.DateField(null=True, blank=True)  # the slot's day that it fills, also after a move
    day = models.DateField(_("day"))
    starts = models.TimeField(_("from"))
    ends = models.TimeField(_("to"))
    period = DateTimeRangeField()
    moved_from = DateTimeRangeField(null=True, blank=True)  # where it stood before it was moved
    players_expected = models.PositiveSmallIntegerField(_("players expected"), default=14)
    kind = models.CharField(max_length=10, choices=Kind, default=Kind.TRAINING)
    state = models.CharField(max_length=10, choices=State, default=State.PLANNED)
    why_cancelled = models.CharField(max_length=10, choices=WhyCancelled, blank=True)
    delivered_minutes = models.PositiveSmallIntegerField(null=True, blank=True)
    note = models.TextField(_("note"), blank=True, max_length=1000)
    # The fold of the events, rebuilt in the transaction that appends one; never edited by hand.
    delivery = models.JSONField(default=dict, blank=True)
    # Each time that its parts were fitted anew: from what, and all that became different. Never read back into a plan.
    used_again = models.JSONField(default=list, blank=True)
    last_seq = models.PositiveIntegerField(default=0)
    # Outer ids of parts and stations that were removed: what phones still send of them is set aside, not refused.
    former_places = models.JSONField(default=list, blank=True)
    # Rises when the coach asks for another number for helpers' phones; numbers and phones of before open nothing then.
    helper_turn = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ("day", "starts")
        indexes = [models.Index(fields=["age_group", "day"]), models.Index(fields=["day"])]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(ends__gt=models.F("starts")), name="session_ends_after_start"
            ),
            models.CheckConstraint(
                condition=~models.Q(state="cancelled") | ~models.Q(why_cancelled=""),
                name="cancelled_says_why",
            ),
            models.UniqueConstraint(
                fields=["slot", "slot_day"],
                condition=models.Q(slot__isnull=False) & ~models.Q(state="cancelled"),
                name="slot_filled_once_a_day",
                violation_error_code="slot",
                violation_error_message=_("This slot already has a session on that day."),
            ),
        ]

    def __str__(self) -> str:
        return self.title or f"{date_format(self.day, 'd M')} {self.starts:%H:%M}"


class Together(models.Model):
    """A session that was put together with others on purpose: those with the same key may share zones and adults."""

    session = models.OneToOneField(
        TrainingSession, on_delete=models.CASCADE, primary_key=True, related_name="together"
    )
    key = models.UUIDField(db_index=True)


class SessionZone(models.Model):
    """A booking of a zone. Gone when the session is cancelled or moved away.

    `together` is the key that sessions which were put together share; else the session's own outer id.
    """

    session = models.ForeignKey(TrainingSession, on_delete=models.CASCADE, related_name="bookings")
    zone = models.ForeignKey("club.Zone", on_delete=models.PROTECT, related_name="bookings")
    period = DateTimeRangeField()
    together = models.UUIDField(default=uuid.uuid4)

    class Meta:
        constraints = [
            ExclusionConstraint(
                name="zone_booked_once",
                expressions=[
                    ("zone", RangeOperators.EQUAL),
                    ("period", RangeOperators.OVERLAPS),
                    ("together", RangeOperators.NOT_EQUAL),
                ],
                violation_error_code="zones",
                violation_error_message=_("One of the spaces is taken at that time."),
            ),
            models.UniqueConstraint(
                fields=["session", "zone"],
                name="zone_once_in_a_session",
                violation_error_code="zones",
                violation_error_message=_("This part of the pitch is in the list twice."),
            ),
        ]


class SessionStaff(models.Model):
    """Somebody who is down for a session; nobody is in two places at once, unless they were put together."""

    session = models.ForeignKey(TrainingSession, on_delete=models.CASCADE, related_name="staff")
    user = models.ForeignKey("club.User", on_delete=models.PROTECT, related_name="training_sessions")
    part = models.CharField(max_length=6, choices=StaffPart, default=StaffPart.LEADS)
    period = DateTimeRangeField()
    together = models.UUIDField(default=uuid.uuid4)

    class Meta:
        constraints = [
            ExclusionConstraint(
                name="coach_in_one_place",
                expressions=[
                    ("user", RangeOperators.EQUAL),
                    ("period", RangeOperators.OVERLAPS),
                    ("together", RangeOperators.NOT_EQUAL),
                ],
                violation_error_code="staff",
                violation_error_message=_("One of the coaches is somewhere else at that time."),
            ),
            models.UniqueConstraint(
                fields=["session", "user"],
                name="coach_once_in_a_session",
                violation_error_code="staff",
                violation_error_message=_("This person is in the list twice."),
            ),
        ]


class Part(models.Model):
    """A slice of a session, as bouts of work and rest; `effort` rates the part as a whole, rests included."""

    public_id = models.UUIDField(unique=True)
    session = models.ForeignKey(TrainingSession, on_delete=models.CASCADE, related_name="parts")
    position = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=10, choices=PartKind, default=PartKind.PRACTICE)
    title = models.CharField(max_length=80, blank=True)
    minutes = models.PositiveSmallIntegerField()
    bouts = models.PositiveSmallIntegerField(default=1)
    bout_s = models.PositiveSmallIntegerField()
    rest_s = models.PositiveSmallIntegerField(default=0)
    changeover_s = models.PositiveSmallIntegerField(default=120)
    effort = models.DecimalField(max_digits=3, decimal_places=1)
    changes_round = models.BooleanField(default=False)  # groups go on to the next station after each bout

    class Meta:
        ordering = ("position",)
        constraints = [
            models.UniqueConstraint(
                fields=["session", "position"],
                name="part_position_once",
                deferrable=models.Deferrable.DEFERRED,
            ),
            models.CheckConstraint(
                condition=models.Q(minutes__range=(1, 180), bouts__range=(1, 40), bout_s__gte=10),
                name="part_in_bounds",
            ),
            models.CheckConstraint(condition=models.Q(effort__range=(0, 10)), name="part_effort_cr10"),
        ]


class Station(models.Model):
    """One drill in one variation, at one place, with one group and one adult.

    It pins a revision, so editing the drill never changes a session. An accepted set-up keeps its inputs: both or
    neither.
    """

    public_id = models.UUIDField(unique=True)
    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="stations")
    position = models.PositiveSmallIntegerField(default=0)
    revision = models.ForeignKey(
        "drills.DrillRevision", on_delete=models.PROTECT, related_name="stations", null=True, blank=True
    )
    variation_key = models.CharField(max_length=40, blank=True)
    # The variation that was planned, once another was played.
    planned_key = models.CharField(max_length=40, null=True, blank=True)
    group = models.CharField(max_length=40, blank=True)
    place = models.CharField(max_length=80, blank=True)
    adult = models.ForeignKey("club.User", on_delete=models.SET_NULL, null=True, blank=True)
    setup = models.JSONField(null=True, blank=True)
    # The evening that the set-up answers: see `drills.game.evening.as_plain`.
    evening = models.JSONField(null=True, blank=True)
    # What it was set up as before anything was accepted at the pitch, for when that is undone: `setup` and `evening`.
    before = models.JSONField(null=True, blank=True)
    # Its group keeps to it while the others change round: the keepers.
    stays = models.BooleanField(default=False)

    class Meta:
        ordering = ("position",)
        constraints = [
            models.CheckConstraint(
                condition=models.Q(setup__isnull=True, evening__isnull=True)
                | models.Q(setup__isnull=False, evening__isnull=False),
                name="setup_with_its_evening",
            )
        ]


@pghistory.track()
class Slot(Editable):
    """Weekly, from–to on the club's clock, on some zones, with its coaches, until a date. A session fills it."""

    squad = models.ForeignKey("club.Squad", on_delete=models.CASCADE, related_name="slots")
    weekday = models.PositiveSmallIntegerField(choices=Weekday)
    starts = models.TimeField()
    ends = models.TimeField()
    first_day = models.DateField()
    last_day = models.DateField()
    zones = models.ManyToManyField("club.Zone", related_name="slots")
    coaches = models.ManyToManyField("club.User", related_name="slots", blank=True)

    class Meta:
        ordering = ("weekday", "starts")
        constraints = [
            models.CheckConstraint(
                condition=models.Q(ends__gt=models.F("starts")), name="slot_ends_after_start"
            ),
            models.CheckConstraint(
                condition=models.Q(last_day__gte=models.F("first_day")), name="slot_days_in_order"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_weekday_display()} {self.starts:%H:%M}"


class Turns(models.Model):
    """A station's rotation of single players, by their outer ids; names are read when it is shown, never kept here."""

    session = models.ForeignKey("training.TrainingSession", on_delete=models.CASCADE, related_name="turns")
    station_id = models.UUIDField(unique=True)  # the outer id, which outlives a save of the parts
    bouts = models.JSONField()
    facts = models.JSONField()  # spread, bound and proof as they were worked out, and who was in goal
    made_at = models.DateTimeField(auto_now=True)
    version = models.PositiveIntegerField(default=0)  # how often they were worked out

    class Meta:
        indexes = [models.Index(fields=["session"])]


class PartOrder(models.Model):
    """A session template: each part's kind and minutes, which are shares where a session is longer or shorter.

    With drills it is a ready session: `minutes` are then those of the whole session that it was written for, changeovers
    and clearing among them, and each part has its rounds. `minutes` None: without drills.
    """

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    name = models.CharField(
        _("name"), max_length=60, unique=True, error_messages={"unique": _("This name is taken already.")}
    )
    # [{"kind": …, "title": …, "minutes": …, "cr10": …}], with drills also "bouts", "bout_s", "rest_s", "changeover_s"
    # and "changes_round".
    parts = models.JSONField()
    kept_by = models.ForeignKey("club.User", on_delete=models.SET_NULL, null=True, blank=True)
    theme = models.ForeignKey("club.Theme", on_delete=models.SET_NULL, null=True, blank=True)
    about = models.CharField(max_length=200, blank=True)  # why this order, in one sentence
    minutes = models.PositiveSmallIntegerField(null=True, blank=True)
    under_from = models.PositiveSmallIntegerField(null=True, blank=True)
    under_to = models.PositiveSmallIntegerField(null=True, blank=True)
    players_from = models.PositiveSmallIntegerField(null=True, blank=True)
    players_to = models.PositiveSmallIntegerField(null=True, blank=True)

    class Meta:
        ordering = ("name",)
        constraints = [
            models.CheckConstraint(
                condition=models.Q(under_from__lte=models.F("under_to"))
                & models.Q(players_from__lte=models.F("players_to"))
                | models.Q(minutes__isnull=True),
                name="ready_session_says_for_whom",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class PartOrderDrill(models.Model):
    """A drill of a template's part, in one variation. `title` names it where it is in the library no more."""

    order = models.ForeignKey(PartOrder, on_delete=models.CASCADE, related_name="drills")
    part = models.PositiveSmallIntegerField()  # which of the template's parts, from 0
    position = models.PositiveSmallIntegerField(default=0)  # stations beside one another, from 0
    drill = models.ForeignKey(
        "drills.Drill", on_delete=models.SET_NULL, null=True, related_name="session_templates"
    )
    variation_key = models.CharField(max_length=40, blank=True)
    title = models.CharField(max_length=80)
    stays = models.BooleanField(default=False)

    class Meta:
        ordering = ("part", "position")
        constraints = [
            models.UniqueConstraint(fields=["order", "part", "position"], name="template_station_once"),
        ]

    def __str__(self) -> str:
        return self.title
