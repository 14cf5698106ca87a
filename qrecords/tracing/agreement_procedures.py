"""Whether the rows of procedures say what their entries say: drafts, what became of them, and versions."""

from datetime import datetime

from qrecords.steps.procedure import procedure_digest
from qrecords.tracing.registered import Content, Pairs, Register, moment_of, said_of, site_of
from qrecords.workshop.models import ProcedureAct, ProcedureDraft, ProcedureVersion
from qrecords.workshop.procedure_actions import KINDS


def _procedure(row: ProcedureVersion, content: Content) -> Pairs:
    said = dict(said_of(content))
    return {
        "document": (row.document, said),
        "digest": (row.digest, procedure_digest(said)),
        "name": (row.name, str(said["name"])),
        "revision": (row.revision, str(said["revision"])),
        "valid_from": (moment_of(row.valid_from), content["at_server"]),
    } | site_of(row, content)


def _draft(row: ProcedureDraft, content: Content) -> Pairs:
    said = said_of(content)
    document = dict(said["document"])
    wanted = row.wanted_from.isoformat() if row.wanted_from else ""
    return {
        "document": (row.document, document),
        "digest": (row.digest, procedure_digest(document)),
        "name": (row.name, str(document["name"])),
        "revision": (row.revision, str(document["revision"])),
        "contract": (row.contract, str(document.get("contract", ""))),
        "dossier": (str(row.dossier), content["object"]["id"]),
        "wanted_from": (wanted and datetime.fromisoformat(wanted), _instant_or_none(said["from"])),
        "reason": (row.reason, content["reason"]),
        "by": (str(row.by), content["author"]["person"]),
        "at": (moment_of(row.at), content["at_server"]),
    } | site_of(row, content)


def _instant_or_none(said: str) -> datetime | str:
    return datetime.fromisoformat(said) if said else ""


def _draft_act(row: ProcedureAct, content: Content) -> Pairs:
    return {
        "draft": (str(row.draft_id), said_of(content)["draft"]),
        "by": (str(row.by), content["author"]["person"]),
        "by_hash": (row.by_hash, content["author"]["hash"]),
        "at": (moment_of(row.at), content["at_server"]),
        "reason": (row.reason, content["reason"] or ""),
    } | site_of(row, content)


def _approved_procedure(row: ProcedureVersion, content: Content) -> Pairs:
    said, document = said_of(content), row.document
    return {
        "digest": (row.digest, said["digest"]),
        "document": (procedure_digest(document), said["digest"]),
        "draft": (str(row.draft_id), said["draft"]),
        "name": (row.name, str(document["name"])),
        "revision": (row.revision, str(document["revision"])),
        "contract": (row.contract, str(document.get("contract", ""))),
        "valid_from": (
            moment_of(row.valid_from),
            moment_of(datetime.fromisoformat(content["body"]["seen"]["from"])),
        ),
    } | site_of(row, content)


OF_PROCEDURES = (
    Register("procedure", "procedure", ProcedureVersion, _procedure, {"draft__isnull": True}),
    Register(
        "procedure", "procedure in force", ProcedureVersion, _approved_procedure, {"draft__isnull": False}
    ),
    Register("draft of a procedure", "procedure draft", ProcedureDraft, _draft),
    *(
        Register(f"procedure {what}", kind, ProcedureAct, _draft_act, {"what": what})
        for what, kind in KINDS.items()
    ),
)
