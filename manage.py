#!/usr/bin/env python
"""Studbay's command line."""

import os
import sys

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line

if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    try:
        settings.DEBUG  # noqa: B018  reads the settings, so that a fault in them is said plainly
    except ImproperlyConfigured as fault:
        sys.stderr.write(f"{fault}\n")
        sys.exit(2)
    execute_from_command_line(sys.argv)
