"""Opening the log: keys, and the entry that says whose log this is."""

from pathlib import Path
from uuid import UUID

from django.conf import settings

from qrecords.ledger import keys
from qrecords.ledger.append import append, atomic
from qrecords.ledger.envelope import APP_VERSION, Envelope, RegisterObject, Versions
from qrecords.ledger.errors import KeyLostError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Head
from qrecords.ledger.queries import first_entry

KIND = "log opened"


def open_log(site: UUID | None = None) -> list[Path]:
    """Make what is missing, the key files and entry 0; return the key files made.

    Entry 0 holds the name of the log, the site of the installation and the public key. `KeyLostError` when
    the log was opened with a key that is not here: a new one would sign what nobody could tell from forgery.
    """
    first = first_entry()
    if first is not None and not keys.entry_key_path().exists():
        raise KeyLostError(f"the log was opened with a key that is not at {keys.entry_key_path()}")
    made = keys.make()
    with atomic():
        # The lock, so that two installs at once do not both find the log empty.
        if Head.objects.select_for_update().get().size == 0:
            _say_who_we_are(site or new_id())
    return made


def _say_who_we_are(site: UUID) -> None:
    append(
        Envelope(
            kind=KIND,
            id=new_id(),
            site=site,
            object=RegisterObject("site", site),
            identity=None,
            versions=Versions(app=APP_VERSION),
            seen={"log": settings.LOG_NAME, "key": keys.public_key().hex(), "algorithm": "Ed25519"},
        )
    )
