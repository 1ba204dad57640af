#!/usr/bin/env python
"""Django's command line for Bibrack."""

import os
import sys

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line

if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bibrack.settings.live")
    try:
        _ = settings.SITE_URL  # loads them all
    except (ImproperlyConfigured, ValueError) as error:  # what environs says is a ValueError
        sys.exit(str(error))
    execute_from_command_line(sys.argv)
