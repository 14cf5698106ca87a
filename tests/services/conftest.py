"""A production installation as deploy/ describes it, its programs running: PostgreSQL with two roles, Redis,
gunicorn, Celery's worker and clock, nginx with a certificate. The commands are those of the units."""

import http.client
import os
import shutil
import ssl
import subprocess
import sys
import uuid
from collections.abc import Iterator
from configparser import RawConfigParser
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest
from pytest_django import Settings
from redis import Redis, RedisError

from tests.services.parts import Processes, certificate, free_port, nginx_binary, until

ROOT = Path(__file__).resolve().parents[2]
NAME = "records.workshop.example"


@dataclass
class Production:
    """The installation: ask it through nginx, start and kill its programs by name."""

    home: Path
    database: str
    programs: Processes
    broker_port: int = field(default_factory=free_port)
    web_port: int = field(default_factory=free_port)
    http_port: int = field(default_factory=free_port)
    https_port: int = field(default_factory=free_port)

    @property
    def broker(self) -> str:
        return f"redis://127.0.0.1:{self.broker_port}/0"

    @property
    def settings(self) -> dict[str, str]:
        """As /etc/qrecords/qrecords.env would hold them, and nothing of the test run's own."""
        own = ("QRECORDS_", "DJANGO_", "PYTEST_")
        return {name: value for name, value in os.environ.items() if not name.startswith(own)} | {
            "QRECORDS_HOME": str(self.home),
            "QRECORDS_NAME": NAME,
            "QRECORDS_HOSTS": NAME,
            "QRECORDS_HTTPS": "1",
            "QRECORDS_BEHIND_PROXY": "1",
            "QRECORDS_DATABASE": self.database,
            "QRECORDS_BROKER": self.broker,
            "QRECORDS_BIND": f"127.0.0.1:{self.web_port}",
            "QRECORDS_STATIC": str(self.home / "static"),
            "QRECORDS_CERTIFICATE": str(self.home / "certificate.pem"),
            "QRECORDS_CERTIFICATE_KEY": str(self.home / "certificate.key"),
            "QRECORDS_HTTP_PORT": str(self.http_port),
            "QRECORDS_HTTPS_PORT": str(self.https_port),
            "QRECORDS_PYTHON": sys.executable,
        }

    def start_unit(self, name: str) -> None:
        """Start what a unit starts, from this checkout instead of /opt/qrecords."""
        unit = RawConfigParser(strict=False)
        unit.read(ROOT / "deploy" / "systemd" / f"qrecords-{name}.service")
        command = unit["Service"]["ExecStart"].replace("/var/lib/qrecords", str(self.home)).split()
        command[0] = str(Path(sys.executable).with_name(Path(command[0]).name))
        self.programs.start(name, command, self.settings, ROOT)

    def start_broker(self) -> None:
        command = [shutil.which("redis-server") or "", "--bind", "127.0.0.1", "--port", str(self.broker_port)]
        self.programs.start(
            "broker", [*command, "--save", "", "--appendonly", "no"], self.settings, self.home
        )
        until(self._broker_answers, "Redis answers")

    def _broker_answers(self) -> bool:
        try:
            return bool(Redis(port=self.broker_port, socket_connect_timeout=1).ping())
        except RedisError:
            return False

    def start_nginx(self) -> None:
        certificate(self.home, NAME)
        rendered = self.do(str(ROOT / "deploy" / "render-nginx"))
        (self.home / "site.conf").write_text(rendered)
        (self.home / "nginx.conf").write_text(
            f"{'user root;' if os.geteuid() == 0 else ''}\n"
            f"daemon off; pid {self.home}/nginx.pid; error_log {self.home}/nginx.error;\n"
            "events { worker_connections 256; }\n"
            "http { include /etc/nginx/mime.types; access_log off;\n"
            f"client_body_temp_path {self.home}/body; proxy_temp_path {self.home}/proxy;\n"
            f"include {self.home}/site.conf; }}\n"
        )
        command = [nginx_binary(), "-c", str(self.home / "nginx.conf")]
        self.programs.start("nginx", command, self.settings, self.home)

    def do(self, *command: str, **more: str) -> str:
        """Run a command of the installation to its end and return what it said."""
        done = subprocess.run(  # noqa: S603 - our own scripts
            command,
            cwd=ROOT,
            env=self.settings | more,
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    def connection(self, timeout_s: float = 10) -> http.client.HTTPSConnection:
        trusted = ssl.create_default_context(cafile=self.home / "certificate.pem")
        trusted.check_hostname = False  # we ask by address
        return http.client.HTTPSConnection("127.0.0.1", self.https_port, timeout=timeout_s, context=trusted)

    def ask(
        self, method: str, path: str, body: bytes | None = None, **headers: str
    ) -> tuple[int, dict[str, str], bytes]:
        """Status, headers with lower-case names, and body of an answer through nginx."""
        connection = self.connection()
        try:
            connection.request(method, path, body, {"Host": NAME, **headers})
            answer = connection.getresponse()
            return answer.status, {k.lower(): v for k, v in answer.getheaders()}, answer.read()
        finally:
            connection.close()

    def answers(self) -> bool:
        try:
            return self.ask("GET", "/healthz")[0] == 200
        except OSError:
            return False


@pytest.fixture
def production(database_url: str, tmp_path: Path, settings: Settings) -> Iterator[Production]:
    if not database_url.startswith("postgresql:"):
        pytest.skip("production stands on PostgreSQL: this runs in the run on PostgreSQL")
    if shutil.which("redis-server") is None:
        pytest.skip("redis-server is not installed: it is killed and started again here")
    nginx_binary()
    role = f"qrecords_app_{uuid.uuid4().hex[:8]}"
    with psycopg.connect(database_url, autocommit=True) as owner:
        owner.execute(f"CREATE ROLE {role} LOGIN PASSWORD 'choose-a-password'")
    place = urlsplit(database_url)
    host = place.netloc.rsplit("@", 1)[-1]
    application = place._replace(netloc=f"{role}:choose-a-password@{host}").geturl()
    programs = Processes(tmp_path)
    made = Production(tmp_path, application, programs)
    # This process plays a part too: what it commits must wake the same worker and use the same folders.
    settings.BROKER_URL = made.broker
    settings.EVIDENCE_DIR = tmp_path / "evidence"
    settings.KEYS_DIR = tmp_path / "keys"
    try:
        made.do(
            str(ROOT / "deploy" / "setup"), QRECORDS_DATABASE=database_url, QRECORDS_APPLICATION_ROLE=role
        )
        made.start_broker()
        for name in ("web", "worker", "beat"):
            made.start_unit(name)
        made.start_nginx()
        until(made.answers, "the program answers through nginx")
        yield made
    finally:
        programs.end()
        with psycopg.connect(database_url, autocommit=True) as owner:
            owner.execute(f"DROP OWNED BY {role}")
            owner.execute(f"DROP ROLE {role}")
