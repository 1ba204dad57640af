"""The club itself: its settings, seasons, age groups, themes and guidelines."""

from datetime import date
from functools import reduce
from operator import or_

import pghistory
from django.contrib.postgres.constraints import ExclusionConstraint
from django.contrib.postgres.fields import DateRangeField, RangeOperators
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models.functions import Coalesce
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from club.ages import LEAST_UNDER, OLDEST, Ages, under_words
from club.choices import BOUNDS, MEASURED, HeatGuideline, MomentOfGame, Rule, Units
from club.limits import EMERGENCY_NUMBER, PHONE
from club.models.base import Editable, InDays, Public
from club.validators import phone, players_a_side, reference_day


@pghistory.track()
class ClubSettings(models.Model):
    """One row: a database holds one club."""

    id = models.PositiveSmallIntegerField(
        primary_key=True,
        default=1,
        error_messages={"unique": _("Somebody else has just set up the club. Look again, then save.")},
    )
    version = models.PositiveIntegerField(default=1)
    name = models.CharField(_("name of the club"), max_length=80)
    time_zone = models.CharField(_("time zone"), max_length=64, default="Europe/London")
    units = models.CharField(_("units"), max_length=2, choices=Units, default=Units.METRES)
    pace_m = models.DecimalField(_("one pace, metres"), max_digits=3, decimal_places=2, default="0.90")
    clear_minutes = models.PositiveSmallIntegerField(_("minutes to clear the pitch"), default=5)
    changeover_s = models.PositiveSmallIntegerField(_("changeover between parts, s"), default=120)
    # Who is how old on this day decides about a season's age groups; England: 31 August (The FA, read second-hand).
    ages_on_month = models.PositiveSmallIntegerField(_("month of the reference date for ages"), default=8)
    ages_on_day = models.PositiveSmallIntegerField(_("day of the reference date for ages"), default=31)
    part_order = models.JSONField(default=list, blank=True)
    # Where its pitches are, in degrees, north and east positive: to the tenth of a degree is enough for dusk. Both or neither.
    latitude = models.DecimalField(_("latitude"), max_digits=5, decimal_places=2, null=True, blank=True)
    longitude = models.DecimalField(_("longitude"), max_digits=5, decimal_places=2, null=True, blank=True)
    # 999 is the United Kingdom's emergency number; a club elsewhere types its own.
    emergency_number = models.CharField(
        _("emergency number"), max_length=EMERGENCY_NUMBER, default="999", validators=[phone]
    )
    # A number alone: whose it is nobody needs to know in an emergency.
    welfare_phone = models.CharField(
        _("welfare officer's phone"), max_length=PHONE, blank=True, validators=[phone]
    )
    heat_guideline = models.CharField(
        _("heat guideline"), max_length=20, choices=HeatGuideline, default=HeatGuideline.FIFPRO
    )
    sketches_allowed = models.BooleanField(_("photos of a board beside a drill"), default=True)
    is_demo = models.BooleanField(default=False)
    # Worked out of the pitch rows in force: players a side → m² of a match pitch for each player.
    match_areas = models.JSONField(default=dict, blank=True, editable=False)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(latitude__isnull=True, longitude__isnull=True)
                | models.Q(
                    latitude__isnull=False,
                    longitude__isnull=False,
                    latitude__range=(-90, 90),
                    longitude__range=(-180, 180),
                ),
                name="club_on_the_earth",
                violation_error_code="longitude",
                violation_error_message=_(
                    "Latitude from −90 to 90 and longitude from −180 to 180: both, or neither."
                ),
            ),
            models.CheckConstraint(condition=models.Q(id=1), name="one_club"),
            models.CheckConstraint(
                condition=models.Q(ages_on_month__range=(1, 12), ages_on_day__range=(1, 31)),
                name="ages_on_a_day",
                violation_error_code="ages_on_day",
                violation_error_message=_("This month has no such day."),
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        reference_day(self.ages_on_month, self.ages_on_day)

    @property
    def ages_on(self) -> date:
        """The reference date for ages, in a year that has no 29 February: the year says nothing."""
        return reference_day(self.ages_on_month, self.ages_on_day)


class Season(InDays, Editable):
    """A season runs for a period; no two overlap."""

    name = models.CharField(max_length=40)
    period = DateRangeField()

    class Meta:
        ordering = ("period",)
        constraints = [
            ExclusionConstraint(
                name="seasons_apart",
                expressions=[("period", RangeOperators.OVERLAPS)],
                violation_error_code="first_day",
                violation_error_message=_("These days overlap another season."),
            ),
        ]

    def __str__(self) -> str:
        return self.name


@pghistory.track()
class AgeGroup(Editable):
    """An age group in one season. The match format belongs to the season, never to the age alone."""

    season = models.ForeignKey(Season, on_delete=models.CASCADE, related_name="age_groups")
    label = models.CharField(_("name"), max_length=20)
    position = models.PositiveSmallIntegerField(default=0)
    under = models.PositiveSmallIntegerField(_("under"), null=True, blank=True)  # empty: adults
    years = models.PositiveSmallIntegerField(_("school years in it"), default=1)
    over = models.PositiveSmallIntegerField(_("adults from age"), null=True, blank=True)
    match_format = models.CharField(_("match format"), max_length=40)
    match_length_m = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)
    match_width_m = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)
    ball_size = models.PositiveSmallIntegerField(null=True, blank=True)
    session_minutes = models.PositiveSmallIntegerField(_("usual minutes of a session"), default=75)
    # The budget. Empty AU means that this age group is looked after by minutes and days, not by load.
    session_load_au = models.PositiveSmallIntegerField(_("load of a session, AU"), null=True, blank=True)
    week_load_au = models.PositiveSmallIntegerField(_("load of a week, AU"), null=True, blank=True)
    week_minutes = models.PositiveSmallIntegerField(_("minutes of a week"), null=True, blank=True)
    week_days = models.PositiveSmallIntegerField(_("days of a week"), null=True, blank=True)
    hardest_part = models.DecimalField(_("hardest part, CR10"), max_digits=3, decimal_places=1, default=8)

    class Meta:
        ordering = ("position",)
        constraints = [
            models.UniqueConstraint(
                fields=["season", "label"],
                name="age_group_label_once",
                violation_error_code="label",
                violation_error_message=_("The season has an age group with this name already."),
            ),
            models.CheckConstraint(
                condition=models.Q(under__isnull=True, years=1)
                | models.Q(
                    under__isnull=False, over__isnull=True, years__gte=1, under__gte=models.F("years")
                ),
                name="age_group_under_or_adults",
                violation_error_code="years",
                violation_error_message=_(
                    "Under a number, with the school years in it, or adults from an age."
                ),
            ),
        ]

    def __str__(self) -> str:
        return self.label

    @property
    def ages(self) -> Ages:
        return Ages(self.under, self.years, self.over)

    @property
    def ages_words(self) -> str:
        """`U12`, `U11–U12`, `18 and over`."""
        return self.ages.said(gettext)

    @property
    def a_side(self) -> int | None:
        """Players a side in its matches, as the club has chosen them; None where the format says none."""
        return players_a_side(self.match_format)


class Theme(Public):
    """What the club wants taught, under a moment of the game. `key` is what a drill document names."""

    key = models.SlugField(
        max_length=40, unique=True, error_messages={"unique": _("There is a theme with this name already.")}
    )
    title = models.CharField(max_length=60)
    moment = models.CharField(max_length=20, choices=MomentOfGame)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "title")

    def __str__(self) -> str:
        return self.title


@pghistory.track()
class Guideline(Editable):
    """One published figure, with its source and the time it holds. The club may change or add rows.

    Ages are *under n*, also where the figure was published for an age in years: then its note says so.
    """

    rule = models.CharField(max_length=40, choices=Rule)
    under_low = models.PositiveSmallIntegerField()
    under_high = models.PositiveSmallIntegerField()
    a_side = models.PositiveSmallIntegerField(null=True, blank=True)  # sizes of pitches: for which format
    jurisdiction = models.CharField(max_length=40)
    value = models.DecimalField(max_digits=7, decimal_places=2)
    source = models.CharField(max_length=200)
    note = models.CharField(max_length=200, blank=True)
    valid = DateRangeField()
    own = models.BooleanField(default=False)  # changed by the club: a reload leaves it alone

    class Meta:
        ordering = ("rule", "a_side", "under_low", "valid")
        constraints = [
            models.CheckConstraint(
                name="guideline_says_something",
                condition=reduce(
                    or_,
                    (
                        models.Q(rule=str(rule), value__gte=least, value__lte=most)
                        for rule, (least, most) in BOUNDS.items()
                    ),
                ),
                violation_error_message=_("This figure says nothing: it is too small or too large."),
                violation_error_code="value",
            ),
            ExclusionConstraint(
                name="guideline_once_at_a_time",
                expressions=[
                    ("rule", RangeOperators.EQUAL),
                    ("jurisdiction", RangeOperators.EQUAL),
                    (Coalesce("a_side", models.Value(0)), RangeOperators.EQUAL),
                    (
                        models.Func("under_low", "under_high", models.Value("[]"), function="int4range"),
                        RangeOperators.OVERLAPS,
                    ),
                    ("valid", RangeOperators.OVERLAPS),
                ],
                violation_error_message=_(
                    "There is a figure for these ages at that time already. Change that one."
                ),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.rule} {self.ages_words}: {self.value}"

    def clean(self) -> None:
        """A figure that says nothing is refused beside its field: 0 children for an adult, 9 days of rest, 2.5 headers."""
        least, most = BOUNDS.get(self.rule, (0, 99_999))
        if self.value is None or not least <= self.value <= most:
            words = _("%(what)s: from %(least)s to %(most)s.")
            raise ValidationError(
                {"value": words % {"what": self.get_rule_display(), "least": least, "most": most}}
            )
        if self.rule not in MEASURED and self.value != int(self.value):
            raise ValidationError(
                {"value": _("A whole number, such as %(n)s.") % {"n": int(self.value) or 1}}
            )

    @property
    def ages_words(self) -> str:
        """`U9–U10`; with the format for sizes of pitches: `5 a side`, `11 a side, U13–U14`."""
        for_all = self.under_low <= LEAST_UNDER and self.under_high >= OLDEST
        ages = under_words(self.under_low, self.under_high, gettext)
        if self.a_side is None:
            return ages
        side = str(_("%(n)s a side") % {"n": self.a_side})
        return side if for_all else f"{side}, {ages}"
