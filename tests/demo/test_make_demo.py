"""The first of the two commands, for real in a copy of the repository: `make demo-reset`, which begins anew,
then `make demo`, which keeps. Also what `make help` lists."""

import hashlib
import http.cookiejar
import os
import re
import shutil
import signal
import sqlite3
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from qrecords.evidence.derivatives import EDGES_PX, RECIPE
from qrecords.people.permissions import Role
from tests.deploy.conftest import ROOT, Done, done
from tests.services.parts import free_port, until

NEEDED = ("Makefile", "manage.py", "pyproject.toml", "requirements.txt")
ROW = re.compile(r"^\S+ \S+ {2,}(?P<sign_in>[a-z]+) {2,}(?P<role>[a-z-]+(?: [a-z]+)?) {2,}(?P<begins>\S.*)$")


@dataclass
class Checkout:
    """A copy of the repository with its environment made, and a home and port of its own."""

    root: Path
    home: Path
    port: int = field(default_factory=free_port)
    served: "subprocess.Popen[bytes] | None" = None

    @property
    def environment(self) -> dict[str, str]:
        own = ("QRECORDS_", "DJANGO_", "MAKE", "MFLAGS", "COV_")
        clean = {name: value for name, value in os.environ.items() if not name.startswith(own)}
        return clean | {"QRECORDS_HOME": str(self.home), "PORT": str(self.port)}

    @property
    def said(self) -> Path:
        return self.root / "said.log"

    def make(self, *goals: str) -> Done:
        """A goal that ends by itself."""
        return done("make", *goals, cwd=self.root, **self.environment)

    def serve(self, goal: str) -> str:
        """Start a goal that serves, in a terminal of its own; what it said until it answered."""
        with self.said.open("wb") as said:
            self.served = subprocess.Popen(  # noqa: S603 - our own Makefile
                ["make", goal],  # noqa: S607 - wherever this machine has it
                cwd=self.root,
                env=self.environment,
                stdout=said,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
        until(lambda: self.answers() or self.ended(), "make answers at /healthz", within_s=300)
        text = self.said.read_text()
        assert not self.ended(), text
        return text

    def ended(self) -> bool:
        return self.served is None or self.served.poll() is not None

    def answers(self) -> bool:
        try:
            Visitor(self.address).read("/healthz")
        except urllib.error.URLError:
            return False
        return True

    def stop(self) -> None:
        """Ctrl-C in that terminal."""
        if self.served is not None and not self.ended():
            os.killpg(self.served.pid, signal.SIGINT)
            self.served.wait(120)  # a picture being made is finished first, on however busy a machine

    @property
    def address(self) -> str:
        return f"http://localhost:{self.port}"

    def log(self) -> tuple[str, int]:
        """The first leaf of the log, which no other installation has, and how many there are."""
        ((first, count),) = self.rows(
            'SELECT hex(hash), (SELECT count(*) FROM ledger_leaf) FROM ledger_leaf WHERE "index" = 0'
        )
        return first, count

    def rows(self, question: str) -> list[tuple[Any, ...]]:
        with sqlite3.connect(f"file:{self.home}/qrecords.sqlite3?mode=ro", uri=True) as rows:
            return rows.execute(question).fetchall()


@pytest.fixture(scope="module")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Checkout]:
    folder = tmp_path_factory.mktemp("fresh")
    made = Checkout(folder / "checkout", folder / "home")
    made.root.mkdir()
    for name in NEEDED:
        shutil.copy2(ROOT / name, made.root)
    for name in ("deploy", "qrecords"):
        shutil.copytree(ROOT / name, made.root / name)
    have_environment(made.root)
    yield made
    made.stop()


def have_environment(root: Path) -> None:
    """The environment of this very run, as if deploy/environment had made it here."""
    there, here = Path(sys.prefix), root / ".venv"
    (here / "bin").mkdir(parents=True)
    shutil.copy2(there / "pyvenv.cfg", here)
    (here / "bin" / "python").symlink_to(Path(sys.executable).resolve())
    (here / "lib").symlink_to(there / "lib")
    digest = hashlib.sha256((root / "requirements.txt").read_bytes()).hexdigest()[:16]
    (here / f"installed-requirements.txt-{digest}").touch()


class Visitor:
    """Somebody with a browser: pages, forms and cookies."""

    def __init__(self, address: str) -> None:
        self.address = address
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self.opener = urllib.request.build_opener(jar)

    def read(self, path: str, form: dict[str, str] | None = None) -> str:
        data = urlencode(form).encode() if form is not None else None
        asked = urllib.request.Request(self.address + path, data, {"Referer": self.address + path})  # noqa: S310 - http
        with self.opener.open(asked, timeout=30) as answer:
            return str(answer.read().decode())

    def send(self, path: str, **form: str) -> str:
        token = re.search(r'name="csrfmiddlewaretoken" value="([^"]*)"', self.read(path))
        assert token, f"no form at {path}"
        return self.read(path, {"csrfmiddlewaretoken": token[1], **form})

    def sign_in(self, name: str, password: str) -> str:
        return self.send("/sign-in/", sign_in=name, password=password)


def people_in(said: str) -> dict[str, str]:
    """The sign-in name of one person of each role, as printed."""
    rows = [row for line in said.splitlines() if (row := ROW.match(line)) and row["sign_in"] != "role"]
    return {row["role"]: row["sign_in"] for row in rows}


@pytest.fixture(scope="module")
def loaded(checkout: Checkout) -> str:
    """What `make demo-reset` said over the leavings of an older demonstration. It goes on as `make demo` does
    in an empty folder, so that one loading shows both. It is served."""
    (checkout.home / "evidence").mkdir(parents=True)
    for leaving in ("DEMO", "qrecords.sqlite3", "evidence/older"):
        (checkout.home / leaving).write_text("of an older demonstration")
    return checkout.serve("demo-reset")


def test_a_demonstration_begun_anew_holds_nothing_of_the_older_one(checkout: Checkout, loaded: str) -> None:
    assert not (checkout.home / "evidence" / "older").exists()
    assert checkout.log()[1] > 100, "the stories are told"
    assert {"DEMO", "qrecords.sqlite3", "keys"} <= {path.name for path in checkout.home.iterdir()}


def test_every_role_is_printed_with_a_sign_in_that_opens_its_pages(checkout: Checkout, loaded: str) -> None:
    assert f"Serving at {checkout.address}/" in loaded
    password = loaded.split("signs in with the password ", 1)[1].split()[0]
    assert set(people_in(loaded)) == {role.value for role in Role}
    for role, sign_in in people_in(loaded).items():
        page = Visitor(checkout.address).sign_in(sign_in, password)
        assert "/sign-out/" in page, role


def test_every_photo_is_another_one_and_its_pictures_are_made(checkout: Checkout, loaded: str) -> None:
    evidence = checkout.home / "evidence"
    originals = {path.name for path in evidence.glob("originals/*/*")}
    received = checkout.rows("SELECT id FROM ledger_entry WHERE kind = 'file received'")
    assert len(originals) == len(received)
    files = checkout.rows("SELECT sha256 FROM evidence_storedfile WHERE width_px > 0")
    photos = {sha256 for (sha256,) in files}
    assert len(photos) > 100 and photos <= originals
    pictures = {path.name for path in evidence.glob(f"derived/{RECIPE}/*/*")}
    assert pictures == {f"{sha256}-{edge_px}.jpg" for sha256 in photos for edge_px in EDGES_PX}


def test_a_page_brings_its_own_look(checkout: Checkout, loaded: str) -> None:
    page = Visitor(checkout.address).read("/sign-in/")
    sheets = re.findall(r'<link rel="stylesheet" href="([^"]+)"', page)
    assert sheets
    assert all("{" in Visitor(checkout.address).read(sheet) for sheet in sheets)


def test_nothing_is_thrown_away_while_it_is_served(checkout: Checkout, loaded: str) -> None:
    before = checkout.log()
    tried = checkout.make("demo-reset")
    assert tried.returncode != 0
    assert "The demonstration is being served from here; stop it first." in tried.stderr
    assert checkout.answers() and checkout.log() == before


def test_made_again_it_keeps_what_was_done_and_prints_the_sign_ins(checkout: Checkout, loaded: str) -> None:
    password = loaded.split("signs in with the password ", 1)[1].split()[0]
    fitter = Visitor(checkout.address)
    fitter.sign_in(people_in(loaded)["fitter"], password)
    first, count = checkout.log()
    assert "bench gauge 2" in fitter.send("/tokens/", label="bench gauge 2", actions="read")
    checkout.stop()
    assert not checkout.answers()
    assert people_in(checkout.serve("demo")) == people_in(loaded)
    assert checkout.log() == (first, count + 1)
    assert "bench gauge 2" in fitter.read("/tokens/"), "the same sign-in still holds"


def test_help_lists_every_goal_with_what_it_does(checkout: Checkout) -> None:
    goals = set(re.findall(r"^([a-z-]+):", (checkout.root / "Makefile").read_text(), re.M))
    listed = dict(line.split(maxsplit=1) for line in checkout.make("help").stdout.splitlines())
    assert {"demo", "demo-reset", "test", "lint", "bench", "help"} <= goals
    assert set(listed) == goals and all(listed.values())
    assert checkout.make().stdout == checkout.make("help").stdout
