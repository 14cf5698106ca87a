"""Production for real: the programs that deploy/ starts, each doing its part of one job.

One test, because starting five programs costs more than all that is asked of them; its parts are functions
named for what they show.
"""

import hashlib
import http.client
import io
import sys
import time
import uuid
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import yaml
from django.conf import settings
from django.db import transaction
from PIL import Image
from psycopg import connect
from psycopg.errors import InsufficientPrivilege

from qrecords.demo import photos
from qrecords.evidence import actions, derivatives
from qrecords.evidence.intake import MAX_BYTES, take_in
from qrecords.ledger.identifiers import new_id
from qrecords.outbox.jobs import enqueue
from qrecords.outbox.models import Job
from qrecords.people.actions import make_token
from qrecords.people.permissions import Action
from tests.cast import make_workshop, start
from tests.services.conftest import NAME, ROOT, Production
from tests.services.parts import until

pytestmark = pytest.mark.service


def test_production_serves_buffers_and_derives_and_loses_nothing_with_redis_down(
    production: Production,
) -> None:
    static_files_come_from_nginx(production)
    plain_http_is_sent_to_https(production)
    the_container_would_be_found_healthy(production)
    a_body_over_the_bound_is_refused_by_nginx(production)
    a_long_form_of_a_page_is_refused_by_the_program_in_its_words(production)
    a_photo_goes_through_nginx_to_the_worker_and_comes_back_as_pictures(production)
    slow_uploads_do_not_hold_the_pages(production)
    a_commit_wakes_the_worker_through_redis(production)
    a_job_committed_while_redis_is_down_is_done_after_it(production)
    the_running_role_cannot_change_what_was_recorded(production)
    every_program_is_still_alive(production)


def static_files_come_from_nginx(production: Production) -> None:
    folder = Path(settings.STATICFILES_DIRS[0])
    file = next(path for path in sorted(folder.rglob("*.css")))
    status, headers, body = production.ask("GET", f"/static/{file.relative_to(folder)}")
    assert (status, body) == (200, file.read_bytes())
    assert headers["server"] == "nginx"
    assert headers["content-type"].startswith("text/css")
    assert headers["x-content-type-options"] == "nosniff"
    production.programs.stop("web")
    assert production.ask("GET", f"/static/{file.relative_to(folder)}")[0] == 200
    assert production.ask("GET", "/healthz")[0] == 502
    production.start_unit("web")
    until(production.answers, "the program answers again")


def plain_http_is_sent_to_https(production: Production) -> None:
    connection = http.client.HTTPConnection("127.0.0.1", production.http_port, timeout=5)
    connection.request("GET", "/mountings/", headers={"Host": NAME})
    answer = connection.getresponse()
    assert (answer.status, answer.getheader("Location")) == (301, f"https://{NAME}/mountings/")
    connection.close()


def the_container_would_be_found_healthy(production: Production) -> None:
    compose = yaml.safe_load((ROOT / "deploy" / "compose.yaml").read_text())
    _, _, *probe = compose["services"]["web"]["healthcheck"]["test"]
    filled = [
        part.replace("${QRECORDS_NAME:?}", NAME).replace("8001", str(production.web_port)) for part in probe
    ]
    production.do(sys.executable, *filled)


def a_body_over_the_bound_is_refused_by_nginx(production: Production) -> None:
    """A photo of the largest size passes nginx (the program then says who may send it), a larger one not."""
    body = production.ask("POST", "/healthz", b"\xff" * (MAX_BYTES + 4096))[2]
    assert b"nginx" not in body
    try:
        status = production.ask("POST", "/healthz", b"\xff" * (MAX_BYTES + 3_000_000))[0]
    except (BrokenPipeError, ConnectionResetError):  # nginx answers and hangs up without reading on
        return
    assert status == 413


def a_long_form_of_a_page_is_refused_by_the_program_in_its_words(production: Production) -> None:
    """Photos of one page come in one form without scripts: nginx lets them through to the program's bound."""
    form = {"Content-Type": "multipart/form-data; boundary=x", "Origin": f"https://{NAME}"}
    status, _, body = production.ask(
        "POST", f"/mountings/{uuid.uuid4()}/receive/", b"\xff" * 60_000_000, **form
    )
    assert (status, b"Too much at once" in body, b"nginx" in body) == (413, True, False)


def a_photo_goes_through_nginx_to_the_worker_and_comes_back_as_pictures(production: Production) -> None:
    shop = make_workshop(now=datetime.now(UTC) - timedelta(hours=1))
    mounting = start(shop).mounting.id
    _, secret = make_token(
        acting=shop.acting("fitter"),
        site=shop.site,
        token_id=new_id(),
        label="tablet",
        actions=frozenset({Action.ATTACH, Action.READ}),
    )
    who = {"Authorization": f"Bearer {secret}"}
    sent = photos.micrometer("60.017", taken_at=datetime(2026, 6, 4, 10, 12, tzinfo=UTC))
    place = f"/api/v1/mountings/{mounting}/photos/{hashlib.sha256(sent).hexdigest()}/"
    sending = who | {"Content-Type": "application/octet-stream"}
    assert production.ask("PUT", place, sent, **sending)[0] == 201
    assert (
        production.ask("PUT", place, sent, **sending)[0] == 200
    )  # sent again by a client that heard nothing
    until(lambda: production.ask("GET", f"{place}320/", **who)[0] == 200, "the picture is made", 40)
    status, headers, body = production.ask("GET", f"{place}1600/", **who)
    assert (status, headers["content-type"]) == (200, "image/jpeg")
    assert Image.open(io.BytesIO(body)).size == (1600, 1200)
    status, headers, body = production.ask("GET", f"{place}original/", **who)
    assert (status, body) == (200, sent)
    assert headers["content-disposition"].startswith("attachment")
    refused = f"/api/v1/mountings/{mounting}/photos/{hashlib.sha256(b'<html>').hexdigest()}/"
    status, headers, body = production.ask("PUT", refused, b"<html>", **sending)
    assert headers["content-type"] == "application/problem+json"
    assert (400 <= status < 500, b"not-a-photo" in body) == (True, True)


def slow_uploads_do_not_hold_the_pages(production: Production) -> None:
    """More half-sent bodies than gunicorn has threads (2 × 8): nginx holds them, the pages stay free."""
    form = {  # with a token's cookie, the program must read the form to find the token in it
        "Host": NAME,
        "Origin": f"https://{NAME}",
        "Cookie": f"{settings.CSRF_COOKIE_NAME}={'t' * 32}",
        "Content-Type": "application/x-www-form-urlencoded",
        "Content-Length": "1000000",
    }
    slow = [production.connection() for _ in range(24)]
    try:
        for connection in slow:
            connection.putrequest("POST", "/sign-in/", skip_host=True)
            for name, value in form.items():
                connection.putheader(name, value)
            connection.endheaders(b"username=" + b"x" * 1000)
        for _ in range(5):
            began = time.monotonic()
            assert production.ask("GET", "/healthz")[0] == 200
            assert time.monotonic() - began < 3
    finally:
        for connection in slow:
            connection.close()


def a_commit_wakes_the_worker_through_redis(production: Production) -> None:
    derived_soon(photograph("first"), within_s=40)  # the worker may still be starting
    production.programs.stop("beat")  # now only a message can tell the worker
    derived_soon(photograph("second"), within_s=10)
    production.start_unit("beat")


def a_job_committed_while_redis_is_down_is_done_after_it(production: Production) -> None:
    production.programs.kill("broker")
    began = time.monotonic()
    sha256 = photograph("third")
    assert time.monotonic() - began < 3  # a commit does not wait for a broker that is not there
    assert not derivatives.are_made(sha256)
    assert Job.objects.filter(done_at=None, argument={"sha256": sha256}).exists()
    production.start_broker()
    derived_soon(sha256, within_s=90)


def photograph(name: str) -> str:
    """Receive a photo as the program does, asking for its derivatives in the same transaction."""
    file = io.BytesIO()
    Image.effect_noise((800, 600), 40).save(file, "JPEG", comment=name.encode())
    taken = take_in([file.getvalue()])
    with transaction.atomic():
        actions.receive(taken=taken, mounting=uuid.uuid4(), sender=uuid.uuid4(), at=datetime.now(UTC))
        enqueue("derive", sha256=taken.sha256)
    return taken.sha256


def derived_soon(sha256: str, within_s: float) -> None:
    undone = Job.objects.filter(done_at=None, argument={"sha256": sha256})
    until(lambda: derivatives.are_made(sha256) and not undone.exists(), f"{sha256} is derived", within_s)


def the_running_role_cannot_change_what_was_recorded(production: Production) -> None:
    with connect(production.database) as application:
        assert application.execute("SELECT count(*) FROM ledger_entry").fetchone() != (0,)
        with pytest.raises(InsufficientPrivilege):
            application.execute("DELETE FROM ledger_entry")


def every_program_is_still_alive(production: Production) -> None:
    for name in ("web", "worker", "beat", "broker", "nginx"):
        assert production.programs.alive(name), production.programs.log(name).read_text()[-2000:]
    assert "log holds" in production.do(production.settings["QRECORDS_PYTHON"], "manage.py", "verify_ledger")
