"""How much each wish counts for the club when a session is put together."""

from typing import Any

from django.db import models
from django.utils.translation import gettext_lazy as _

from sessions.choices import HowMuch


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
        _("Last week's drill, one rung up"),
        _("What the squad played last week, made a little harder; the same again counts half of that."),
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
