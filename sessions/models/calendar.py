"""What goes out as a calendar and what comes in from one: secret addresses, how often an entry changed, matches, closed days."""

import pghistory
from django.contrib.postgres.constraints import ExclusionConstraint
from django.contrib.postgres.fields import ArrayField, DateRangeField, RangeOperators
from django.db import models
from django.db.models.functions import Coalesce
from django.utils.translation import gettext_lazy as _

from club.models.base import InDays, Public, PublicLink
from sessions.choices import Kind, Reach
from sessions.models.plan import TrainingSession


class CalendarLink(PublicLink):
    """A secret address under which a calendar program reads: one person's, one team's, one pitch's or the club's days.

    Place and coach stay out unless whoever made it switched them on, since strangers may read it.
    """

    reach = models.CharField(max_length=6, choices=Reach)
    user = models.ForeignKey(
        "club.User", on_delete=models.CASCADE, null=True, blank=True, related_name="calendar_links"
    )
    squad = models.ForeignKey(
        "club.Squad", on_delete=models.CASCADE, null=True, blank=True, related_name="calendar_links"
    )
    pitch = models.ForeignKey(
        "club.Pitch", on_delete=models.CASCADE, null=True, blank=True, related_name="calendar_links"
    )
    with_place = models.BooleanField(default=False)
    with_coach = models.BooleanField(default=False)
    last_read_on = models.DateField(null=True, blank=True)
    # What was answered last, and since when it is that: what a program asks before it reads all of it again.
    answer_sha256 = models.CharField(max_length=64, blank=True)
    answer_since = models.DateTimeField(null=True, blank=True)

    class Meta(PublicLink.Meta):
        constraints = [
            models.CheckConstraint(
                condition=models.Q(reach="person", user__isnull=False, squad__isnull=True, pitch__isnull=True)
                | models.Q(reach="team", user__isnull=True, squad__isnull=False, pitch__isnull=True)
                | models.Q(reach="pitch", user__isnull=True, squad__isnull=True, pitch__isnull=False)
                | models.Q(reach="club", user__isnull=True, squad__isnull=True, pitch__isnull=True),
                name="calendar_of_one_thing",
            )
        ]


class CalendarMark(models.Model):
    """How often what calendars show of a session has changed, and when last: an entry's SEQUENCE and LAST-MODIFIED.

    `facts` are those that count. `zones` and `people` stay what they were when a session is cancelled, which gives up both:
    whoever had it in the calendar reads there that it is off.
    """

    session = models.OneToOneField(
        TrainingSession, on_delete=models.CASCADE, primary_key=True, related_name="calendar_mark"
    )
    sequence = models.PositiveIntegerField(default=0)
    facts = models.JSONField()
    zones = ArrayField(models.BigIntegerField(), default=list, blank=True)
    people = ArrayField(models.BigIntegerField(), default=list, blank=True)  # the leader first
    changed_at = models.DateTimeField()


@pghistory.track()
class Fixture(Public):
    """A match or tournament of a team on a day ahead, as it was pasted or read from a file. Never deleted: called off.

    Without times it is on that day. `source_uid` is what the file called it, so that the same file may be read again.
    """

    squad = models.ForeignKey("club.Squad", on_delete=models.CASCADE, related_name="fixtures")
    kind = models.CharField(max_length=10, choices=Kind, default=Kind.MATCH)
    title = models.CharField(_("title"), max_length=80)
    place = models.CharField(max_length=80, blank=True)
    day = models.DateField()
    starts = models.TimeField(null=True, blank=True)
    ends = models.TimeField(null=True, blank=True)
    is_off = models.BooleanField(default=False)
    source_uid = models.CharField(max_length=200)
    sequence = models.PositiveIntegerField(default=0)
    changed_at = models.DateTimeField()

    class Meta:
        ordering = ("day", "starts", "pk")
        indexes = [models.Index(fields=["squad", "day"])]
        constraints = [
            models.UniqueConstraint(
                fields=["squad", "source_uid"],
                name="fixture_read_once",
                violation_error_message=_("Somebody has just saved this match."),
            ),
            models.CheckConstraint(
                condition=models.Q(starts__isnull=True, ends__isnull=True)
                | models.Q(starts__isnull=False, ends__isnull=False),
                name="fixture_from_and_to",
            ),
        ]

    def __str__(self) -> str:
        return self.title


@pghistory.track()
class ClosedDays(InDays, Public):
    """Days on which nobody trains: holidays, or one pitch that is shut."""

    title = models.CharField(_("title"), max_length=80)
    period = DateRangeField()
    pitch = models.ForeignKey(
        "club.Pitch", on_delete=models.CASCADE, null=True, blank=True, related_name="closed_days"
    )
    changed_at = models.DateTimeField()

    class Meta:
        ordering = ("period", "pk")
        constraints = [
            ExclusionConstraint(
                name="closed_once",
                expressions=[
                    (Coalesce("pitch", models.Value(0)), RangeOperators.EQUAL),
                    ("period", RangeOperators.OVERLAPS),
                ],
                violation_error_code="days",
                violation_error_message=_("These days overlap others that are closed already."),
            ),
        ]

    def __str__(self) -> str:
        return self.title
