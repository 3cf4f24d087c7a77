"""The site for a WSGI server."""

import gc
import os

from django.conf import settings
from django.core.wsgi import get_wsgi_application

from config.file_modes import tighten

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
application = get_wsgi_application()
tighten(settings.VAR)
# What was imported stays for good: looking through it for garbage took a third of a job's page.
gc.collect()
gc.freeze()
