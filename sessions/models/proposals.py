"""Sessions put together by the solver: what was asked, how far it is, what came out, and how much each wish counts."""

from typing import Any

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from club.models.base import Editable
from sessions.choices import WORKING, ComputationState, HowMuch


class Computation(Editable):
    """One proposal of a session's parts. Its owner has one open at most; the same request is not worked out twice.

    `seen_at` is when the worker was last heard of; `wants_stop` asks it to end with what has been found. `used_s` is the
    worker's seconds that went into it, all tries together: whoever has used least lately has the next turn.
    """

    owner = models.ForeignKey("club.User", on_delete=models.CASCADE, related_name="computations")
    age_group = models.ForeignKey("club.AgeGroup", on_delete=models.CASCADE, related_name="computations")
    session = models.ForeignKey(
        "training.TrainingSession",
        on_delete=models.CASCADE,
        null=True,
        blank=True,
        related_name="computations",
    )
    request = models.JSONField()
    input_hash = models.CharField(max_length=64)
    state = models.CharField(max_length=10, choices=ComputationState, default=ComputationState.WAITING)
    wants_stop = models.BooleanField(default=False)
    tries = models.PositiveSmallIntegerField(default=0)
    used_s = models.FloatField(default=0)
    progress = models.JSONField(default=dict, blank=True)
    result = models.JSONField(default=dict, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)
    seen_at = models.DateTimeField(null=True, blank=True)
    done_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at",)
        indexes = [models.Index(fields=["session", "-made_at"], name="computation_latest")]
        constraints = [
            models.UniqueConstraint(
                fields=["owner"], condition=Q(state__in=WORKING), name="one_open_computation_each"
            )
        ]

    def __str__(self) -> str:
        return f"{self.public_id} {self.state}"


def _counts(label: Any, meant: Any) -> models.CharField:
    return models.CharField(label, max_length=6, choices=HowMuch, default=HowMuch.USUAL, help_text=meant)


class ProposalWeights(models.Model):
    """One row: a database holds one club. The names are those of the solver's weights."""

    id = models.PositiveSmallIntegerField(primary_key=True, default=1)
    version = models.PositiveIntegerField(default=1)
    theme = _counts(_("Tonight's theme"), _("Minutes in drills that are on the theme of the evening."))
    playing = _counts(_("Everybody in play"), _("Minutes in play for each player: few who wait."))
    moves = _counts(_("Cones laid once"), _("Parts that are played on the cones of the part before."))
    last_week = _counts(
        _("Last week's drill, one step harder"),
        _("What the team played last week, made a little harder; the same again counts half of that."),
    )
    rating = _counts(
        _("Drills that worked before"), _("What coaches noted after running them: it worked, or it did not.")
    )
    effort = _counts(
        _("Effort that rises, then falls"), _("Each part harder than the one before, up to the hardest.")
    )

    WISHES = ("theme", "playing", "moves", "last_week", "rating", "effort")

    class Meta:
        constraints = [models.CheckConstraint(condition=models.Q(id=1), name="one_row_of_proposal_weights")]

    def __str__(self) -> str:
        return ", ".join(f"{name}: {word}" for name, word in self.words.items())

    @property
    def words(self) -> dict[str, str]:
        """How much each wish counts, by its name."""
        return {name: str(getattr(self, name)) for name in self.WISHES}

    @property
    def said(self) -> list[tuple[str, str, str]]:
        """Each wish, what is meant, and how much it counts, as people say it."""
        fields = [(self._meta.get_field(name), word) for name, word in self.words.items()]
        return [
            (str(field.verbose_name), str(field.help_text), str(HowMuch(word).label))
            for field, word in fields
        ]
