"""gunicorn behind nginx: threads, because a slow client may hold one, and few processes for two cores."""

import os

bind = os.environ.get("QRECORDS_BIND", "127.0.0.1:8001")
# Read in once, before any process is forked: what forbids the start is said once and stops the whole of it.
preload_app = True
worker_class = "gthread"
workers = int(os.environ.get("QRECORDS_WEB_PROCESSES", "2"))
threads = 8
timeout = 60
graceful_timeout = 30
max_requests = 5000
max_requests_jitter = 500
worker_tmp_dir = "/dev/shm"  # noqa: S108 - memory, so that a busy disk does not make a worker look dead
accesslog = None  # nginx writes it
control_socket_disable = True  # nobody steers it but its unit; the socket would land in somebody's home
