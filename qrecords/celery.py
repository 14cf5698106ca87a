"""Wiring of Celery: `celery -A qrecords worker` and `celery -A qrecords beat`. Used only with a broker.

The broker carries wake-ups; the jobs themselves are rows, so that losing all it holds loses nothing.
"""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "qrecords.settings")

from django.conf import settings

SWEEP_EVERY_S = 30

app = Celery("qrecords")
app.conf.update(
    broker_url=settings.BROKER_URL or "memory://",
    broker_connection_retry_on_startup=True,
    # A broker that takes the connection and never answers must not hold a sender for long.
    broker_transport_options={"socket_connect_timeout": 0.5, "socket_timeout": 5},
    imports=["qrecords.outbox.tasks"],
    task_ignore_result=True,
    task_soft_time_limit=10 * 60,
    worker_max_tasks_per_child=500,
    beat_schedule={
        # One that waited for longer than a sweep says nothing new.
        "sweep": {"task": "outbox.drain", "schedule": SWEEP_EVERY_S, "options": {"expires": SWEEP_EVERY_S}}
    },
)
