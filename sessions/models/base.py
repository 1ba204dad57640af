"""What every row that is seen from outside shares: a UUID, and a version where several people edit."""

import uuid

from django.db import models


class Editable(models.Model):
    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        abstract = True
