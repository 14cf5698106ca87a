"""What `manage.py install` makes, and that it does it once."""

import stat
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from pytest_django import Settings

from qrecords.ledger import keys
from qrecords.ledger.append import append
from qrecords.ledger.errors import KeyLostError, KeyMissingError
from qrecords.ledger.models import Head
from qrecords.ledger.opening import open_log
from qrecords.ledger.queries import first_entry, home_site
from tests.ledger.conftest import SITE, Stating

pytestmark = pytest.mark.django_db


@pytest.fixture
def keys_dir(settings: Settings, tmp_path: Path) -> Path:
    settings.KEYS_DIR = tmp_path / "keys"
    return tmp_path / "keys"


def test_install_makes_keys_that_only_their_owner_reads(keys_dir: Path) -> None:
    call_command("install", verbosity=0, stdout=StringIO())
    for name in ("entry.key", "session.secret"):
        assert stat.S_IMODE((keys_dir / name).stat().st_mode) == 0o600
    assert len((keys_dir / "session.secret").read_text().strip()) >= 50


def test_the_first_entry_says_whose_log_it_is(keys_dir: Path, settings: Settings) -> None:
    settings.LOG_NAME = "press-shop.example/log"
    open_log(SITE)
    first = first_entry()
    assert first is not None
    assert (first.kind, first.index, home_site()) == ("log opened", 0, SITE)
    assert first.payload["body"]["seen"] == {
        "log": "press-shop.example/log",
        "key": keys.public_key().hex(),
        "algorithm": "Ed25519",
    }


def test_installing_again_changes_nothing(keys_dir: Path) -> None:
    assert [path.name for path in open_log()] == ["entry.key", "session.secret"]
    before = keys.public_key()
    assert open_log() == []
    assert keys.public_key() == before
    assert Head.objects.get().size == 1


def test_a_lost_key_is_not_replaced_in_silence(keys_dir: Path) -> None:
    open_log()
    (keys_dir / "entry.key").unlink()
    with pytest.raises(KeyLostError):
        open_log()
    with pytest.raises(CommandError, match=r"^Put the key back; .*entry\.key\.$"):
        call_command("install")


def test_nothing_is_filed_without_a_key(keys_dir: Path, statement: Stating) -> None:
    with pytest.raises(KeyMissingError):
        append(statement())
    assert Head.objects.get().size == 0
