"""`manage.py serve` as a real process: it checks, serves, works, and gets up again."""

import socket
import subprocess
import urllib.error
import urllib.request
from pathlib import Path

import pytest
from django.db import connection

from qrecords.outbox.jobs import enqueue
from qrecords.outbox.models import Job
from qrecords.outbox.starting import REFUSAL
from tests.outbox.conftest import Starting, until


def free_port() -> str:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return str(probe.getsockname()[1])


def answers(port: str) -> bool:
    try:
        urllib.request.urlopen(f"http://127.0.0.1:{port}/healthz", timeout=2).close()
    except urllib.error.HTTPError:
        return True
    except OSError:
        return False
    return True


def test_it_serves_at_port_and_does_the_jobs(start: Starting, notes: Path) -> None:
    port = free_port()
    start("manage.py", "serve", PORT=port)
    assert until(lambda: answers(port), 30)
    enqueue("note", path=str(notes), text="done by the thread")
    assert until(notes.exists)


def test_it_gets_up_again_when_a_job_takes_it_down_and_does_the_others(start: Starting, notes: Path) -> None:
    port = free_port()
    start("manage.py", "serve", PORT=port)
    assert until(lambda: answers(port), 30)
    enqueue("die_once", path=str(notes))
    assert until(notes.exists)
    enqueue("note", path=str(notes), text="after")
    assert until(lambda: "after" in notes.read_text(), 30)
    assert until(lambda: answers(port), 30)  # the first page of a new process reads every view in
    died = Job.objects.get(kind="die_once")
    assert (died.tries, died.done_at) == (1, None)


def test_with_a_broker_it_starts_no_worker(start: Starting, notes: Path) -> None:
    port = free_port()
    start("manage.py", "serve", PORT=port, QRECORDS_BROKER="redis://127.0.0.1:1/0")
    assert until(lambda: answers(port), 30)
    enqueue("note", path=str(notes), text="x")
    assert not until(notes.exists, 2.5)


def refusal(process: "subprocess.Popen[str]", tmp_path: Path) -> str:
    assert process.wait(30) != 0
    return (tmp_path / "output-0").read_text()


def test_gunicorn_does_not_start_either_and_says_the_same_once(start: Starting, tmp_path: Path) -> None:
    """However many processes it would have: each that finds the fault for itself would repeat it, or take
    gunicorn down in the middle of stopping for the first."""
    gunicorn = ("-m", "gunicorn", "--config", "deploy/gunicorn.conf.py", "qrecords.wsgi")
    bind = f"127.0.0.1:{free_port()}"
    without_keys = {"QRECORDS_KEYS": str(tmp_path / "none"), "QRECORDS_WEB_PROCESSES": "6"}
    said = refusal(start(*gunicorn, QRECORDS_BIND=bind, **without_keys), tmp_path)
    assert "There is no key at" in said and "Traceback" not in said
    assert said.count(REFUSAL) == 1


def test_gunicorn_starts_when_all_holds(start: Starting) -> None:
    port = free_port()
    gunicorn = ("-m", "gunicorn", "--config", "deploy/gunicorn.conf.py", "qrecords.wsgi")
    start(*gunicorn, QRECORDS_BIND=f"127.0.0.1:{port}", QRECORDS_WEB_PROCESSES="1")
    assert until(lambda: answers(port), 30)


def test_it_does_not_start_without_keys(start: Starting, tmp_path: Path) -> None:
    process = start("manage.py", "serve", PORT=free_port(), QRECORDS_KEYS=str(tmp_path / "none"))
    assert "There is no key at" in refusal(process, tmp_path)


def test_it_does_not_start_with_a_trigger_missing(start: Starting, tmp_path: Path) -> None:
    table = "" if connection.vendor == "sqlite" else " ON ledger_leaf"
    with connection.cursor() as cursor:
        cursor.execute("DROP TRIGGER ledger_leaf_next" + table)
    process = start("manage.py", "serve", PORT=free_port())
    assert "ledger_leaf_next is missing" in refusal(process, tmp_path)


@pytest.mark.parametrize("port", ["0", "80a", "70000"])
def test_a_port_that_is_none_stops_the_start(start: Starting, tmp_path: Path, port: str) -> None:
    process = start("manage.py", "serve", PORT=port)
    assert "it must be a number from 1 to 65535" in refusal(process, tmp_path)
