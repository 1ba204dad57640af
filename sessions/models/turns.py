"""Who is in which bib in which bout of a station, kept so that four weeks can be shared out fairly."""

from django.db import models


class Turns(models.Model):
    """A station's rotation of single players, by their outer ids; names are read when it is shown, never kept here."""

    session = models.ForeignKey("training.TrainingSession", on_delete=models.CASCADE, related_name="turns")
    station_id = models.UUIDField(unique=True)  # the outer id, which outlives a save of the parts
    bouts = models.JSONField()
    facts = models.JSONField()  # spread, bound and proof as they were worked out, and who was in goal
    made_at = models.DateTimeField(auto_now=True)

    class Meta:
        indexes = [models.Index(fields=["session"])]
