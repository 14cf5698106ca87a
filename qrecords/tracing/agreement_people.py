"""What the rows of competence and eyesight have to say: as `agreement` asks it."""

from decimal import Decimal

from qrecords.people.models import Competence, Eyesight
from qrecords.tracing.registered import Content, Pairs, Register, moment_of, said_of, site_of


def _competence(row: Competence, content: Content) -> Pairs:
    said = said_of(content)
    sizes = {name: (getattr(row, name), Decimal(said[name])) for name in ("from_mm", "to_mm")}
    words = {
        name: (str(getattr(row, name)), said[name])
        for name in ("task", "basis", "assessor", "valid_from", "valid_to")
    }
    limits = {name: (list(getattr(row, name)), said.get(name, [])) for name in ("kinds", "positions")}
    # Not kept of rows from before it was asked when they were recorded.
    recorded = {"recorded_at": (moment_of(row.recorded_at), content["at_server"])} if row.recorded_at else {}
    return (
        {"person": (str(row.person_id), said["person"]), "jobs": (row.jobs, said.get("jobs"))}
        | sizes
        | words
        | limits
        | recorded
        | site_of(row, content)
    )


def _eyesight(row: Eyesight, content: Content) -> Pairs:
    said = said_of(content)
    days = {name: (str(getattr(row, name)), said[name]) for name in ("tested_on", "valid_to")}
    return {"person": (str(row.person_id), said["person"])} | days | site_of(row, content)


PEOPLE = (
    Register("competence", "competence", Competence, _competence),
    Register("eyesight", "eyesight", Eyesight, _eyesight),
)
