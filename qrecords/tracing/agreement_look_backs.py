"""Whether the rows of look-backs say what their entries say: what was opened, given, answered and ended."""

from datetime import datetime

from qrecords.steps.new_look_back import PERSON, PIECE
from qrecords.tracing.registered import Content, Pairs, Register, moment_of, said_of, same_names, site_of
from qrecords.workshop.models import LookBack, LookBackAction, LookBackAnswer, LookBackEnd


def _look_back(row: LookBack, content: Content) -> Pairs:
    said = dict(said_of(content))
    return {
        "document": (row.document, said),
        "subject": (row.subject, said["subject"]),
        "of": (row.of, said["of"]),
        "equipment": (str(row.equipment_id or ""), said["of"] if said["subject"] == PIECE else ""),
        "person": (str(row.person or ""), said["of"] if said["subject"] == PERSON else ""),
        "since": (row.since, datetime.fromisoformat(said["since"])),
        "until": (row.until, datetime.fromisoformat(said["until"])),
        "why": (row.why, content["reason"]),
        "opened_by": (str(row.opened_by), content["author"]["person"]),
        "opened_at": (moment_of(row.opened_at), content["at_server"]),
    } | site_of(row, content)


def _action(row: LookBackAction, content: Content) -> Pairs:
    names = same_names("mounting", "owner", "due", "what")
    return names(row, content) | _of_look_back(row, content) | _by(row, content)


def _answer(row: LookBackAnswer, content: Content) -> Pairs:
    said = said_of(content)
    told = {"action": (str(row.action_id), said["action"]), "how": (row.how, said["how"])}
    return told | _by(row, content)


def _end(row: LookBackEnd, content: Content) -> Pairs:
    return {"reason": (row.reason, content["reason"])} | _of_look_back(row, content) | _by(row, content)


def _of_look_back(row: LookBackAction | LookBackEnd, content: Content) -> Pairs:
    return {"look_back": (str(row.look_back_id), content["object"]["id"])}


def _by(row: LookBackAction | LookBackAnswer | LookBackEnd, content: Content) -> Pairs:
    return {
        "by": (str(row.by), content["author"]["person"]),
        "at": (moment_of(row.at), content["at_server"]),
    }


OF_LOOK_BACKS = (
    Register("look-back", "look-back", LookBack, _look_back),
    Register("look-back action", "look-back action", LookBackAction, _action),
    Register("look-back answer", "look-back answer", LookBackAnswer, _answer),
    Register("look-back end", "look-back end", LookBackEnd, _end),
)
