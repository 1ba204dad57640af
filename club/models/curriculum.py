"""What the club means to teach when: the blocks of a season, and in each the share of every theme, by age group."""

import pghistory
from django.contrib.postgres.constraints import ExclusionConstraint
from django.contrib.postgres.fields import DateRangeField, RangeOperators
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from club.models.base import Editable, InDays
from club.models.club import AgeGroup, Season, Theme


@pghistory.track()
class Block(InDays, Editable):
    """Some weeks of a season that are planned together, often from one half-term to the next. No two overlap.

    `version` rises with its targets too: whoever saves them has seen the ones before.
    """

    season = models.ForeignKey(Season, on_delete=models.CASCADE, related_name="blocks")
    name = models.CharField(_("name"), max_length=40)
    period = DateRangeField()

    class Meta:
        ordering = ("period",)
        constraints = [
            ExclusionConstraint(
                name="blocks_apart",
                expressions=[("period", RangeOperators.OVERLAPS)],
                violation_error_code="first_day",
                violation_error_message=_("These days overlap another block."),
            ),
        ]

    def __str__(self) -> str:
        return self.name


@pghistory.track()
class ThemeTarget(models.Model):
    """Of an age group's minutes in a block, the share that is meant for a theme, in percent."""

    block = models.ForeignKey(Block, on_delete=models.CASCADE, related_name="targets")
    age_group = models.ForeignKey(AgeGroup, on_delete=models.CASCADE, related_name="theme_targets")
    theme = models.ForeignKey(Theme, on_delete=models.CASCADE, related_name="targets")
    share = models.PositiveSmallIntegerField(
        _("share, %"), validators=[MinValueValidator(1), MaxValueValidator(100)]
    )

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["block", "age_group", "theme"],
                name="theme_target_once",
                violation_error_message=_("This theme stands twice."),
            ),
            models.CheckConstraint(condition=models.Q(share__range=(1, 100)), name="theme_target_percent"),
        ]

    def __str__(self) -> str:
        return f"{self.share} %"
