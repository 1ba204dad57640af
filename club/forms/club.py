"""The club's settings, seasons, age groups, themes and guidelines."""

from typing import Any

from django import forms
from django.conf import settings
from django.db.backends.postgresql.psycopg_any import DateRange
from django.utils.translation import gettext_lazy as _

from club.choices import MomentOfGame, Rule, Units
from club.forms.base import ActionForm, VersionedForm
from club.forms.typed import DayField
from club.limits import LABEL, LINE, NAME, SHORT, TITLE
from club.validators import match_format, time_zones


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
    units = forms.ChoiceField(label=_("Lengths in"), choices=Units.choices)
    pace_m = forms.DecimalField(
        label=_("One pace, metres"),
        min_value=0.4,
        max_value=1.5,
        max_digits=3,
        decimal_places=2,
        help_text=_("For everybody who has not measured their own."),
    )
    changeover_s = forms.IntegerField(label=_("Seconds between two parts"), min_value=0, max_value=900)
    clear_minutes = forms.IntegerField(
        label=_("Minutes to clear the pitch"),
        min_value=0,
        max_value=30,
        help_text=_("Before the next squad."),
    )


class SeasonForm(ActionForm):
    name = forms.CharField(label=_("Season"), max_length=NAME, help_text=_("As you say it: 2026-27."))
    first_day = day_field(_("First day"))
    last_day = day_field(_("Last day"), help_text=_("It still belongs to the season."))
    together = (("first_day", "last_day"),)


class AgeGroupFields(ActionForm):
    label = forms.CharField(label=_("Name"), max_length=SHORT, help_text=_("U12, as everybody calls it."))
    age_low = forms.IntegerField(
        label=_("Youngest, years"),
        min_value=3,
        max_value=99,
        help_text=_("Children of an under-12 group are 10 and 11."),
    )
    age_high = forms.IntegerField(label=_("Oldest, years"), min_value=3, max_value=99, required=False)
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
        help_text=_("CR10 × minutes. Empty for the youngest: they are looked after by minutes and days."),
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
        ("age_low", "age_high"),
        ("match_length_m", "match_width_m", "ball_size"),
        ("session_load_au", "week_load_au"),
        ("week_minutes", "week_days"),
    )

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        low, high = cleaned.get("age_low"), cleaned.get("age_high")
        if low is not None and high is not None and high < low:
            self.add_error("age_high", _("The oldest can't be younger than the youngest."))
        return cleaned


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
    age_low = forms.IntegerField(label=_("From under"), min_value=3, max_value=99)
    age_high = forms.IntegerField(label=_("To under"), min_value=3, max_value=99)
    jurisdiction = forms.CharField(
        label=_("Where it holds"), max_length=NAME, help_text=_("A country, a league, or the club.")
    )
    value = forms.DecimalField(
        label=_("Figure"), min_value=0, max_value=99_999, max_digits=7, decimal_places=2
    )
    source = forms.CharField(
        label=_("Source"),
        max_length=LINE,
        help_text=_("Who says so, where and when: others will look it up."),
    )
    note = forms.CharField(label=_("Note"), max_length=LINE, required=False)
    first_day = day_field(_("Holds from"))
    last_day = day_field(_("Holds until"), required=False, help_text=_("Empty: until somebody changes it."))

    together = (("age_low", "age_high"), ("first_day", "last_day"))
    ASKED_ONCE = ("rule", "age_low", "age_high", "jurisdiction")

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
        if cleaned.get("age_high", 99) < cleaned.get("age_low", 0):
            self.add_error("age_high", _("The second age is below the first."))
        return cleaned

    def values(self) -> dict[str, Any]:
        values = dict(self.cleaned_data)
        first, last = values.pop("first_day"), values.pop("last_day")
        return {**values, "valid": DateRange(first, last)}
