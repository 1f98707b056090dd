"""`python -m stillroom.web makemigrations`: Django's own commands, for who works on the pages."""

from __future__ import annotations

import os
import sys

from django.core.management import execute_from_command_line

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "stillroom.web.settings")
execute_from_command_line(["python -m stillroom.web", *sys.argv[1:]])
