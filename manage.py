#!/usr/bin/env python
"""Runs Garlandwright's commands: migrate, demo, estimate, runserver and the rest."""

import os
import secrets
import sys

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured

from decor.demo_environment import prepare_demo_environment


def main() -> None:
    if sys.argv[1:2] == ["demo"]:
        prepare_demo_environment()
    if sys.argv[1:2] == ["estimate"]:
        # It reads a file and prints: no session, no database, so no secret to keep.
        os.environ.setdefault("SECRET_KEY", secrets.token_urlsafe(50))
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "decor.settings")
    _refuse_without_settings()
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)


def _refuse_without_settings() -> None:
    """Say which variable is missing; Django would go on and fail later, with other words."""
    try:
        hasattr(settings, "SECRET_KEY")
    except ImproperlyConfigured as missing:
        sys.exit(str(missing))


if __name__ == "__main__":
    main()
