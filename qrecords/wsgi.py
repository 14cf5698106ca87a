"""The WSGI door that gunicorn opens; it stays shut while a check of the start does not hold."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "qrecords.settings")
application = get_wsgi_application()

from qrecords.outbox.starting import refuse_unless_ready  # noqa: E402 - Django has to be set up first

refuse_unless_ready()
