"""The site for a WSGI server."""

import os

from django.conf import settings
from django.core.wsgi import get_wsgi_application

from config.file_modes import tighten

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
application = get_wsgi_application()
tighten(settings.VAR)
