"""Writes docs/published-checks.md anew: `python -m tests.published`."""

import os

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bibrack.settings.testing")
os.environ.setdefault("DATABASE_URL", "postgres://nobody@localhost:1/none")
django.setup()

from tests.published.registry import TABLE, table  # noqa: E402

TABLE.write_text(table())
