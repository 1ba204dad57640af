"""Links that show one session's parts without an account."""

from django.db import models

from club.models.base import PublicLink
from sessions.models.plan import TrainingSession


class SessionLink(PublicLink):
    """A link that shows one session's parts without an account."""

    session = models.ForeignKey(TrainingSession, on_delete=models.CASCADE, related_name="share_links")
