"""Whether the rows of what happened to equipment say what their entries say."""

from qrecords.ledger.envelope import instant
from qrecords.tracing.registered import Content, Pairs, Register, said_of
from qrecords.workshop.models import Damage, MasterCheck


def _check(row: MasterCheck, content: Content) -> Pairs:
    said, seen = said_of(content), content["body"]["seen"]
    return {
        "equipment": (str(row.equipment_id), content["object"]["id"]),
        "master": (str(row.master_id), said["master"]),
        "when": (row.when, said["when"]),
        "off": (row.off, said["off"]["value"]),
        "limit": (row.limit, seen["limit_nm"]),
    } | _by(row, content)


def _damage(row: Damage, content: Content) -> Pairs:
    said = said_of(content)
    return {
        "equipment": (str(row.equipment_id), content["object"]["id"]),
        "what": (row.what, said["what"]),
        "note": (row.note, said["note"]),
    } | _by(row, content)


def _by(row: MasterCheck | Damage, content: Content) -> Pairs:
    return {
        "by": (str(row.by), content["author"]["person"]),
        "at": (instant(row.at), content["at_device"] or content["at_server"]),
    }


OF_CARE = (
    Register("master check", "master check", MasterCheck, _check),
    Register("damage", "equipment damage", Damage, _damage),
)
