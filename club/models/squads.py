"""Squads and players. Of a player the club keeps a name for the list and a shirt number, nothing else."""

import pghistory
from django.contrib.postgres.constraints import ExclusionConstraint
from django.contrib.postgres.fields import DateRangeField, RangeOperators
from django.db import models
from django.db.models.functions import JSONObject
from django.utils.translation import gettext_lazy as _

from club.ages import Ages
from club.models.base import Editable, Public


class SquadQuerySet(models.QuerySet["Squad"]):
    def with_age_group(self) -> "SquadQuerySet":
        """Add `age_group_id`, `age_group_label` and what `ages` is of. Filter by season first, so each squad stands once."""
        return self.annotate(
            age_group_id=models.F("seasons__age_group_id"),
            age_group_label=models.F("seasons__age_group__label"),
            age_group_ages=JSONObject(
                **{each: f"seasons__age_group__{each}" for each in ("under", "years", "over")}
            ),
        )


class PlayerQuerySet(models.QuerySet["Player"]):
    def with_squad(self) -> "PlayerQuerySet":
        """Add `squad_id`. Filter by day first, so that each player stands once in a squad."""
        return self.annotate(squad_id=models.F("squads__squad_id"))


@pghistory.track()
class Squad(Editable):
    name = models.CharField(
        _("name of the team"),
        max_length=40,
        unique=True,
        error_messages={"unique": _("There is a team with this name already.")},
    )
    retired_at = models.DateTimeField(null=True, blank=True)
    age_group_ages: dict[str, int | None]  # of `with_age_group`

    objects = SquadQuerySet.as_manager()

    class Meta:
        ordering = ("name",)

    def __str__(self) -> str:
        return self.name

    @property
    def ages(self) -> Ages:
        """Of its age group in the season; for a squad that was found `with_age_group`."""
        return Ages(
            self.age_group_ages["under"], self.age_group_ages["years"] or 1, self.age_group_ages["over"]
        )


class SquadSeason(models.Model):
    """The age group that a squad is in for a season."""

    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="seasons")
    age_group = models.ForeignKey("club.AgeGroup", on_delete=models.PROTECT, related_name="squad_seasons")
    season = models.ForeignKey("club.Season", on_delete=models.CASCADE)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["squad", "season"],
                name="squad_once_a_season",
                violation_error_code="age_group",
                violation_error_message=_("This team has its age group in that season already."),
            )
        ]


@pghistory.track()
class Player(Editable):
    display_name = models.CharField(_("name on the list"), max_length=40)
    shirt = models.PositiveSmallIntegerField(_("shirt number"), null=True, blank=True)
    is_keeper = models.BooleanField(_("keeper"), default=False)
    erased_at = models.DateTimeField(null=True, blank=True)

    objects = PlayerQuerySet.as_manager()

    class Meta:
        ordering = ("display_name",)
        constraints = [
            models.CheckConstraint(
                condition=models.Q(shirt__isnull=True) | models.Q(shirt__range=(1, 99)), name="shirt_1_to_99"
            )
        ]

    def __str__(self) -> str:
        return self.display_name


class PlayerSquad(models.Model):
    """A player's time in a squad. `shirt` is the number worn there: the player's own, for as long as it lasts."""

    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="squads")
    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="players")
    period = DateRangeField()
    shirt = models.PositiveSmallIntegerField(null=True, blank=True)

    class Meta:
        constraints = [
            ExclusionConstraint(
                name="player_once_in_a_squad",
                expressions=[
                    ("player", RangeOperators.EQUAL),
                    ("squad", RangeOperators.EQUAL),
                    ("period", RangeOperators.OVERLAPS),
                ],
                violation_error_code="to",
                violation_error_message=_("This player is in that team already."),
            ),
            ExclusionConstraint(
                name="shirt_once_in_a_squad",
                expressions=[
                    ("squad", RangeOperators.EQUAL),
                    ("shirt", RangeOperators.EQUAL),
                    ("period", RangeOperators.OVERLAPS),
                ],
                violation_error_code="shirt",
                violation_error_message=_("Somebody in this team wears that number already."),
            ),
        ]


class PlayerOut(Public):
    """A player who takes part nowhere until a coach of theirs lifts it. Why is asked nowhere and kept nowhere."""

    player = models.ForeignKey(Player, on_delete=models.CASCADE, related_name="outs")
    since = models.DateTimeField()
    set_by = models.ForeignKey(
        "club.User", on_delete=models.SET_NULL, null=True, blank=True, related_name="outs_set"
    )
    lifted_at = models.DateTimeField(null=True, blank=True)
    lifted_by = models.ForeignKey(
        "club.User", on_delete=models.SET_NULL, null=True, blank=True, related_name="outs_lifted"
    )

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["player"],
                condition=models.Q(lifted_at__isnull=True),
                name="player_out_once",
                violation_error_message=_("This player is out already."),
            ),
        ]
