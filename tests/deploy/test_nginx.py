"""nginx's configuration: rendered from the environment, and accepted by nginx itself."""

import shutil
from pathlib import Path

import pytest
from django.conf import settings

from tests.deploy.conftest import DEPLOY, Run, done
from tests.deploy.test_files import COMPOSE, SERVICES
from tests.services.parts import certificate, nginx_binary

VALUES = {
    "QRECORDS_NAME": "records.workshop.example",
    "QRECORDS_CERTIFICATE": "/etc/qrecords/certificate.pem",
    "QRECORDS_CERTIFICATE_KEY": "/etc/qrecords/certificate.key",
    "QRECORDS_STATIC": "/var/lib/qrecords/static",
}


def test_every_value_is_put_in_and_nginx_keeps_its_own(run: Run) -> None:
    rendered = run("deploy/render-nginx", **VALUES).stdout
    assert "QRECORDS" not in rendered
    for own in ("$host$request_uri", "$http_host", "$scheme", "$remote_addr"):
        assert own in rendered
    for value in VALUES.values():
        assert value in rendered


@pytest.mark.parametrize("missing", VALUES)
def test_a_value_that_is_not_set_is_named_and_nothing_is_written(missing: str, run: Run) -> None:
    rendered = run(
        "deploy/render-nginx", **{name: value for name, value in VALUES.items() if name != missing}
    )
    assert rendered.returncode != 0
    assert missing in rendered.stderr
    assert rendered.stdout == ""


def test_the_container_renders_the_same_as_the_script(run: Run) -> None:
    """nginx's image fills templates with envsubst, naming only the variables that are set."""
    envsubst = shutil.which("envsubst")
    if envsubst is None:
        pytest.skip("envsubst is not installed")
    given = VALUES | {
        "QRECORDS_BIND": "web:8001",
        "QRECORDS_PHOTO_FORM_MB": "210",
        "QRECORDS_HTTP_PORT": "80",
        "QRECORDS_HTTPS_PORT": "443",
    }
    assert set(given) == {name for name in SERVICES["nginx"]["environment"] if name.startswith("QRECORDS_")}
    names = " ".join(f"${{{name}}}" for name in given)
    template = (DEPLOY / "nginx.conf.template").read_text()
    filled = done(envsubst, names, stdin=template, **given)
    assert filled.stdout == run("deploy/render-nginx", **given).stdout


def test_an_upload_is_read_whole_before_a_web_thread_sees_it(run: Run) -> None:
    rendered = run("deploy/render-nginx", **VALUES).stdout
    assert "proxy_request_buffering on;" in rendered
    assert "client_max_body_size 26m;" in rendered


def test_a_form_with_photos_may_be_as_long_as_the_program_takes_it(run: Run) -> None:
    """nginx's m is 1 048 576 bytes, the program's megabyte a million: what is over it refuses itself."""
    by_default = run("deploy/render-nginx", **VALUES).stdout
    assert settings.LONGEST_PHOTO_FORM == 210_000_000
    for rendered, most in (
        (by_default, 210),
        (run("deploy/render-nginx", **VALUES, QRECORDS_PHOTO_FORM_MB="40").stdout, 40),
    ):
        of_pages = rendered[rendered.index("location /mountings/") :]
        assert f"client_max_body_size {most}m;" in of_pages
    assert COMPOSE["x-program"]["environment"]["QRECORDS_PHOTO_FORM_MB"] == "${PHOTO_FORM_MB:-210}"
    assert SERVICES["nginx"]["environment"]["QRECORDS_PHOTO_FORM_MB"] == "${PHOTO_FORM_MB:-210}"


def test_nginx_accepts_the_configuration(run: Run, tmp_path: Path) -> None:
    key, cert = certificate(tmp_path, "records.workshop.example")
    values = VALUES | {"QRECORDS_CERTIFICATE": str(cert), "QRECORDS_CERTIFICATE_KEY": str(key)}
    (tmp_path / "site.conf").write_text(run("deploy/render-nginx", **values).stdout)
    whole = tmp_path / "nginx.conf"
    whole.write_text(
        f"pid {tmp_path}/pid; error_log stderr; events {{}}\n"
        f"http {{ access_log off; client_body_temp_path {tmp_path}/body; include {tmp_path}/site.conf; }}\n"
    )
    tried = run(nginx_binary(), "-t", "-c", whole)
    assert tried.returncode == 0, tried.stderr
    assert "warn" not in tried.stderr
