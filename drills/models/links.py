"""Links that show one drill without an account."""

from django.db import models

from club.models.base import PublicLink
from drills.models.drill import Drill


class ShareLink(PublicLink):
    """A link that shows one drill without an account."""

    drill = models.ForeignKey(Drill, on_delete=models.CASCADE, related_name="share_links")
