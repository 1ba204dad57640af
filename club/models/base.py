"""What every row that is seen from outside shares."""

import uuid

from django.db import models


class Public(models.Model):
    """A row known outside by a UUID only; the number stays inside."""

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)

    class Meta:
        abstract = True


class Editable(Public):
    """A row that several people may edit: `version` rises with each save, so a stale form is noticed."""

    version = models.PositiveIntegerField(default=1)

    class Meta:
        abstract = True
