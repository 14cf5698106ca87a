"""What is told to be kept of rebuilds, of a sheet taken in, and of everything taken out."""

from collections.abc import Callable
from typing import Any


def of_rebuilds(acting: Callable[[str], Any]) -> None:
    """A rebuild with nothing left but its release, released; a sheet taken in and everything taken out."""
    from hashlib import sha256

    from qrecords.ledger.identifiers import new_id
    from qrecords.people.models import Person
    from qrecords.signoff.rebuild_actions import release_rebuild
    from qrecords.signoff.rebuild_queries import ready_for_release, shown_of_rebuild
    from qrecords.tracing.everything.take import take_everything
    from qrecords.workshop.actions import register_journal
    from qrecords.workshop.importing.taking_in import KINDS, take_in
    from qrecords.workshop.models import Rebuild

    rebuild = ready_for_release(Person.objects.get(sign_in="delacour"), Rebuild.objects.all())[0]
    place = register_journal(
        acting=acting("brandreth"),
        journal_id=new_id(),
        machine=rebuild.machine,
        shaft="2",
        position="intermediate",
    )
    sheet = b"designation,lot\n6212 C3,L-78\n"
    take_in(
        acting=acting("brandreth"),
        kind=KINDS["bearings"],
        site=rebuild.site,
        import_id=new_id(),
        raw=sheet,
        sha256=sha256(sheet).hexdigest(),
    )
    take_everything(acting=acting("lindqvaern"), entry_id=new_id(), site=None)
    release_rebuild(
        acting=acting("delacour"),
        rebuild=rebuild,
        entry_id=new_id(),
        shown=shown_of_rebuild(rebuild),
        left_out={place.id: "a sleeve bearing, not of this order"},
        remark="covers on, shaft free",
    )
