"""The club's settings, seasons, age groups, themes and guidelines."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.conf import settings
from django.core.exceptions import ValidationError
from django.db.backends.postgresql.psycopg_any import DateRange
from django.utils.dates import MONTHS
from django.utils.translation import gettext_lazy as _

from club import reading
from club.ages import LEAST_UNDER, OLDEST, Ages
from club.choices import OF_A_PITCH, HeatGuideline, MomentOfGame, Rule, Units
from club.forms.base import ActionForm, VersionedForm
from club.forms.typed import DayField
from club.limits import EMERGENCY_NUMBER, LABEL, LINE, NAME, PHONE, SHORT, TITLE
from club.validators import match_format, phone, reference_day, time_zones


def time_zone_field() -> forms.ChoiceField:
    return forms.ChoiceField(
        label=_("Time zone"),
        initial=settings.TIME_ZONE,
        choices=lambda: [(name, name.replace("_", " ")) for name in time_zones()],
        help_text=_("Sessions keep their time on this clock when it changes in spring and autumn."),
    )


def day_field(label: Any, **more: Any) -> DayField:
    """A day, typed or picked as the device likes."""
    return DayField(label=label, **more)


class SeasonFields(ActionForm):
    season_name = forms.CharField(label=_("Season"), max_length=NAME, help_text=_("As you say it: 2026-27."))
    first_day = day_field(_("First day of the season"))
    last_day = day_field(_("Last day of the season"))


class SettingsForm(VersionedForm):
    name = forms.CharField(label=_("Name of the club"), max_length=TITLE)
    time_zone = time_zone_field()
    units = forms.ChoiceField(label=_("Units"), choices=Units.choices)
    pace_m = forms.DecimalField(
        label=_("One pace, m"),
        min_value=0.4,
        max_value=1.5,
        max_digits=3,
        decimal_places=2,
        help_text=_("For everybody who has not measured their own."),
    )
    changeover_s = forms.IntegerField(label=_("Changeover between parts, s"), min_value=0, max_value=900)
    clear_minutes = forms.IntegerField(
        label=_("Clearing the pitch, min"),
        min_value=0,
        max_value=30,
        help_text=_("Before the next team comes on."),
    )
    emergency_number = forms.CharField(
        label=_("Emergency number"),
        max_length=EMERGENCY_NUMBER,
        validators=[phone],
        help_text=_(
            "The number to ring for an ambulance. 999 is the United Kingdom's, so change it anywhere else."
        ),
    )
    welfare_phone = forms.CharField(
        label=_("Welfare officer's phone"),
        max_length=PHONE,
        required=False,
        validators=[phone],
        help_text=_("The number alone, no name. It is on every session's phone page and sheet."),
    )
    heat_guideline = forms.ChoiceField(
        label=_("Heat guideline"),
        choices=HeatGuideline.choices,
        help_text=_(
            "Temperature and humidity typed in at the pitch are held against it. Cooler regions: category 1 or 2, which "
            "start lower. Your association's own rules come first."
        ),
    )
    sketches_allowed = forms.BooleanField(
        label=_("Photos of a board beside a drill"),
        required=False,
        help_text=_("Coaches add them, the director approves each. Off, none is shown."),
    )
    ages_on_day = forms.IntegerField(
        label=_("Reference date for ages: day"),
        min_value=1,
        max_value=31,
        help_text=_("Your association's: an under-12 player is under 12 at midnight on it."),
    )
    ages_on_month = forms.TypedChoiceField(label=_("Month"), choices=list(MONTHS.items()), coerce=int)
    latitude = forms.DecimalField(
        label=_("Latitude of your pitches"),
        required=False,
        min_value=-90,
        max_value=90,
        max_digits=5,
        decimal_places=2,
        help_text=_(
            "In degrees, as a map shows them: 52.41; south with a minus. Used to say who plays in the dark without lights."
        ),
    )
    longitude = forms.DecimalField(
        label=_("Longitude"),
        required=False,
        min_value=-180,
        max_value=180,
        max_digits=5,
        decimal_places=2,
        help_text=_("West with a minus: -1.52. Leave both empty for no warning of dusk."),
    )

    headings: Mapping[str, Any] = {
        "changeover_s": _("Sessions"),
        "emergency_number": _("Emergency and weather"),
        "sketches_allowed": _("Library"),
        "ages_on_day": _("Ages"),
        "latitude": _("Where you play"),
    }
    together = (
        ("units", "pace_m"),
        ("changeover_s", "clear_minutes"),
        ("emergency_number", "welfare_phone"),
        ("ages_on_day", "ages_on_month"),
        ("latitude", "longitude"),
    )

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if "ages_on_day" in cleaned and "ages_on_month" in cleaned:
            try:
                reference_day(cleaned["ages_on_month"], cleaned["ages_on_day"])
            except ValidationError as error:
                self.add_error(None, error)
        return cleaned


class SeasonForm(ActionForm):
    name = forms.CharField(label=_("Season"), max_length=NAME, help_text=_("As you say it: 2026-27."))
    first_day = day_field(_("First day"))
    last_day = day_field(_("Last day"), help_text=_("It still belongs to the season."))
    together = (("first_day", "last_day"),)


class AgeGroupFields(ActionForm):
    label = forms.CharField(label=_("Name"), max_length=SHORT, help_text=_("U12, as everybody calls it."))
    under = forms.IntegerField(
        label=_("Under"),
        min_value=LEAST_UNDER,
        max_value=OLDEST,
        required=False,
        help_text=_("12 for U12, empty for adults."),
    )
    years = forms.IntegerField(
        label=_("How many school years"),
        min_value=1,
        max_value=OLDEST,
        required=False,
        initial=1,
        help_text=_("2 where U11 train with U12."),
    )
    over = forms.IntegerField(
        label=_("Adults, from age"), min_value=15, max_value=OLDEST, required=False,
        help_text=_("18 for seniors, 35 for veterans."),
    )  # fmt: skip
    match_format = forms.CharField(
        label=_("Match format this season"),
        max_length=NAME,
        validators=[match_format],
        help_text=_("As coaches write it: 9v9."),
    )
    match_length_m = forms.DecimalField(
        label=_("Match pitch, length in metres"),
        required=False,
        min_value=10,
        max_value=120,
        decimal_places=2,
    )
    match_width_m = forms.DecimalField(
        label=_("Match pitch, width in metres"), required=False, min_value=8, max_value=90, decimal_places=2
    )
    ball_size = forms.IntegerField(label=_("Ball, size"), required=False, min_value=1, max_value=5)
    session_minutes = forms.IntegerField(label=_("Minutes of a usual session"), min_value=15, max_value=180)
    session_load_au = forms.IntegerField(
        label=_("Budget: load of a session, AU"), required=False, min_value=10, max_value=2000,
        help_text=_("Effort (CR10) × minutes. Not used up to U10: they are looked after by minutes and days."),
    )  # fmt: skip
    week_load_au = forms.IntegerField(
        label=_("Budget: load of a week, AU"), required=False, min_value=10, max_value=6000
    )
    week_minutes = forms.IntegerField(
        label=_("Budget: minutes of a week"), required=False, min_value=15, max_value=1500
    )
    week_days = forms.IntegerField(
        label=_("Budget: days of a week"), required=False, min_value=1, max_value=7
    )
    hardest_part = forms.DecimalField(
        label=_("Hardest part, CR10"), min_value=1, max_value=10, max_digits=3, decimal_places=1, initial=8
    )

    together = (
        ("under", "years", "over"),
        ("match_length_m", "match_width_m", "ball_size"),
        ("session_load_au", "week_load_au"),
        ("week_minutes", "week_days"),
    )

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        cleaned["years"] = cleaned.get("years") or 1
        under, over = cleaned.get("under"), cleaned.get("over")
        if self.errors.keys() & {"under", "years", "over"}:
            return cleaned
        if under is None and over is None:
            self.add_error("under", _("Say under what age they are, or from what age adults play."))
        elif under is not None and over is not None:
            self.add_error("over", _("Leave this empty: they are under %(n)s.") % {"n": under})
        elif under is None and cleaned["years"] != 1:
            self.add_error("years", _("Adults have no school years: leave this at 1."))
        elif under is not None and cleaned["years"] > under:
            self.add_error("years", _("Under %(n)s there are not so many years.") % {"n": under})
        return cleaned

    def ages(self) -> Ages | None:
        """The ages that the form says as it stands, right or wrong elsewhere; None where it says none."""
        under, years, over = (
            reading.whole(self._said(name), 1, OLDEST) for name in ("under", "years", "over")
        )
        try:
            return None if under is None and over is None else Ages(under, years or 1, over)
        except ValueError:
            return None

    def format(self) -> str:
        """The match format as the form says it."""
        return self._said("match_format")

    def _said(self, name: str) -> str:
        value = self[name].value()
        return "" if value is None else str(value)


class AgeGroupForm(AgeGroupFields, VersionedForm):
    """An age group, new or changed; a new one has no version yet."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if "version" not in self.initial:
            del self.fields["version"]


class ThemeForm(ActionForm):
    title = forms.CharField(
        label=_("Theme"), max_length=LABEL, help_text=_("What is taught: Switch the play.")
    )
    moment = forms.ChoiceField(label=_("Moment of the game"), choices=MomentOfGame.choices)


class GuidelineForm(VersionedForm):
    """A published figure, or the club's own. A new one says its rule and ages too."""

    rule = forms.ChoiceField(label=_("What it is about"), choices=Rule.choices)
    under_low = forms.IntegerField(label=_("From under"), min_value=LEAST_UNDER, max_value=OLDEST)
    under_high = forms.IntegerField(label=_("To under"), min_value=LEAST_UNDER, max_value=OLDEST)
    a_side = forms.IntegerField(
        label=_("Players a side"),
        min_value=1,
        max_value=11,
        required=False,
        help_text=_("For sizes of pitches alone: they belong to a match format."),
    )
    jurisdiction = forms.CharField(
        label=_("Where it holds"), max_length=NAME, help_text=_("A country, a league, or the club.")
    )
    value = forms.DecimalField(
        label=_("Figure"),
        min_value=0,
        max_value=99_999,
        max_digits=7,
        decimal_places=2,
        error_messages={"min_value": _("A figure is not below 0.")},
    )
    source = forms.CharField(
        label=_("Source"),
        max_length=LINE,
        help_text=_("Who says so, where and when: others will look it up."),
    )
    note = forms.CharField(label=_("Note"), max_length=LINE, required=False)
    first_day = day_field(_("Holds from"))
    last_day = day_field(_("Holds until"), required=False, help_text=_("Empty: until somebody changes it."))

    together = (("under_low", "under_high"), ("first_day", "last_day"))
    ASKED_ONCE = ("rule", "under_low", "under_high", "a_side", "jurisdiction")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in self.ASKED_ONCE if "version" in self.initial else ("version",):
            del self.fields[name]

    @classmethod
    def read(cls, row: Any) -> dict[str, Any]:
        days = {"first_day": row.valid.lower, "last_day": row.valid.upper}
        return {name: getattr(row, name) for name in ("value", "source", "note")} | days

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        first, last = cleaned.get("first_day"), cleaned.get("last_day")
        if first and last and last <= first:
            self.add_error("last_day", _("It ends before it begins."))
        if cleaned.get("under_high", OLDEST) < cleaned.get("under_low", 0):
            self.add_error("under_high", _("The second age is below the first."))
        of_a_pitch = cleaned.get("rule") in OF_A_PITCH
        if "a_side" in cleaned and of_a_pitch != (cleaned["a_side"] is not None):
            wrong = _("For how many a side is it?") if of_a_pitch else _("Only sizes of pitches say this.")
            self.add_error("a_side", wrong)
        return cleaned

    def values(self) -> dict[str, Any]:
        values = dict(self.cleaned_data)
        first, last = values.pop("first_day"), values.pop("last_day")
        return {**values, "valid": DateRange(first, last)}
