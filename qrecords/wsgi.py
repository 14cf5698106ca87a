"""The WSGI door that gunicorn opens; it stays shut while a check of the start does not hold."""

import os

from django.core.exceptions import ImproperlyConfigured
from django.core.wsgi import get_wsgi_application

from qrecords.outbox.starting import refuse_unless_ready

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "qrecords.settings")
try:
    application = get_wsgi_application()
except ImproperlyConfigured as wrong:
    raise SystemExit(str(wrong)) from None
refuse_unless_ready()
