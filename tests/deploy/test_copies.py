"""A second copy of an installation, the trial that it can be restored, and what a trial finds."""

import hashlib
import shutil
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.deploy.conftest import Run

pytestmark = pytest.mark.service

PHOTO = b"an original as it lies in the store"
SHA256 = hashlib.sha256(PHOTO).hexdigest()
STORE_ONE = f"""
from qrecords.evidence import storage
from qrecords.evidence.models import StoredFile
storage.original({SHA256!r}).parent.mkdir(parents=True)
storage.original({SHA256!r}).write_bytes({PHOTO!r})
StoredFile.objects.create(sha256={SHA256!r}, size=1, media="image/jpeg", width_px=1, height_px=1)
"""


@dataclass
class Installed:
    """An installation with one original, and where its copies go."""

    run: Run
    database: str
    folder: Path

    @property
    def settings(self) -> dict[str, object]:
        return {"QRECORDS_HOME": self.folder / "home", "QRECORDS_DATABASE": self.database}

    def manage(self, *arguments: str) -> str:
        done = self.run(sys.executable, "manage.py", *arguments, **self.settings)
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    def back_up(self) -> Path:
        made = self.run("deploy/backup", self.folder / "copies", self.folder / "keys", **self.settings)
        assert made.returncode == 0, made.stderr
        return Path(made.stdout.strip())

    def restore(self, copy: Path, *how: str, **settings: object) -> tuple[int, str]:
        done = self.run("deploy/restore", copy, self.folder / "keys", *how, **(self.settings | settings))
        return done.returncode, done.stdout + done.stderr


@pytest.fixture
def installed(database_url: str, run: Run, tmp_path: Path) -> Installed:
    if database_url.startswith("postgresql:") and shutil.which("pg_dump") is None:
        pytest.skip("pg_dump is not installed")
    made = Installed(run, database_url, tmp_path)
    made.manage("install")
    made.manage("shell", "-v", "0", "-c", STORE_ONE)
    return made


def test_a_copy_is_tried_and_nothing_of_the_trial_stays(installed: Installed) -> None:
    copy = installed.back_up()
    code, said = installed.restore(copy)
    assert code == 0, said
    assert said.splitlines()[-3:] == [
        "The log holds.",
        "1 originals, 0 not right.",
        "The copy can be restored.",
    ]
    assert sorted(path.name for path in installed.folder.iterdir()) == ["copies", "home", "keys"]


def test_a_damaged_copy_is_found_before_anything_is_restored(installed: Installed) -> None:
    copy = installed.back_up()
    database = copy / "database"
    content = bytearray(database.read_bytes())
    content[len(content) // 2] ^= 1
    database.write_bytes(content)
    code, said = installed.restore(copy)
    assert code == 1
    assert "The copy has been damaged." in said


@pytest.mark.parametrize(("harm", "fault"), [("changed", "has changed"), ("lost", "cannot be read")])
def test_the_trial_finds_an_original_that_is_changed_or_lost(
    harm: str, fault: str, installed: Installed
) -> None:
    copy = installed.back_up()
    original = copy.parent / "originals" / SHA256[:2] / SHA256
    if harm == "lost":
        original.unlink()
    else:
        original.write_bytes(PHOTO.replace(b"lies", b"lied"))
    code, said = installed.restore(copy)
    assert code == 1
    assert f"{SHA256}: {fault}" in said
    assert "can be restored" not in said


def test_originals_are_copied_once_for_all_copies_and_keys_never_with_them(installed: Installed) -> None:
    first = installed.back_up()
    kept = first.parent / "originals" / SHA256[:2] / SHA256
    made_at = kept.stat().st_mtime_ns
    shutil.move(first, first.with_name("earlier"))
    installed.back_up()
    assert kept.stat().st_mtime_ns == made_at
    assert not [path for path in first.parent.rglob("*") if path.suffix in (".key", ".secret")]


def test_for_good_nothing_that_is_there_is_overwritten(installed: Installed) -> None:
    copy = installed.back_up()
    code, said = installed.restore(copy, "--for-good")
    assert code == 1
    assert "is not empty: nothing is overwritten." in said
    assert installed.manage("verify_originals") == "1 originals, 0 not right.\n"


def test_for_good_a_copy_becomes_the_installation_again(installed: Installed) -> None:
    if not installed.database.startswith("sqlite:"):
        pytest.skip("shown on SQLite: a second empty PostgreSQL database is what the trial makes")
    copy = installed.back_up()
    elsewhere = installed.folder / "elsewhere"
    settings = {"QRECORDS_HOME": elsewhere, "QRECORDS_DATABASE": f"sqlite:///{elsewhere}/qrecords.sqlite3"}
    code, said = installed.restore(copy, "--for-good", **settings)
    assert code == 0, said
    moved = Installed(installed.run, str(settings["QRECORDS_DATABASE"]), installed.folder)
    assert moved.run(sys.executable, "manage.py", "verify_ledger", **settings).returncode == 0
    assert (elsewhere / "evidence" / "originals" / SHA256[:2] / SHA256).read_bytes() == PHOTO
