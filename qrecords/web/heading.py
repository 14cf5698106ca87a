"""What stands above and below a record: its title block, and the safety wording with the machine's scheme."""

from django.utils.translation import gettext, ngettext

from qrecords.mountings.models import Mounting
from qrecords.steps.case import Case
from qrecords.steps.procedure import Procedure
from qrecords.steps.requirement import Requirement
from qrecords.steps.transitions import state_of
from qrecords.web.parts import Cell, Safety
from qrecords.wording.figures import Figures
from qrecords.workshop.models import Machine


def title_block(mounting: Mounting, case: Case, figures: Figures, *, blind: bool = False) -> tuple[Cell, ...]:
    """Which record, and where it stands. `blind` keeps the designation back until it was read off."""
    asked, procedure = case.requirement, case.procedure
    machine = mounting.journal.machine
    bearing = gettext("read it off the ring") if blind else mounting.bearing.designation
    return (
        Cell(gettext("mounting"), mounting.number, strong=True),
        Cell(gettext("machine"), f"{machine.owner} · {machine.name}"),
        Cell(gettext("place"), place(mounting), own_row=True),
        Cell(gettext("bearing"), bearing),
        seat_cell(asked, asked.journal.lower_nm, asked.journal.upper_nm, figures),
        Cell(gettext("procedure"), decision_rule(procedure, figures)),
        Cell(gettext("state"), gettext(state_of(case).value), strong=True),
    )


def seat_cell(asked: Requirement, lower_nm: int, upper_nm: int, figures: Figures) -> Cell:
    """`60 m6` with its limits stacked behind it; a certificate gives the limits its judgement stored."""
    return Cell(
        gettext("seat"),
        f"{figures.plain(asked.nominal_mm.normalize())} {asked.shaft_class}".strip(),
        upper=figures.deviation_um(upper_nm),
        lower=figures.deviation_um(lower_nm),
        unit="µm",
    )


def place(mounting: Mounting) -> str:
    """`shaft 1, DE`."""
    words = {"shaft": mounting.journal.shaft, "position": mounting.journal.position}
    return gettext("shaft %(shaft)s, %(position)s") % words


def decision_rule(procedure: Procedure, figures: Figures) -> str:
    """`HM-1 rev. A, guard 1.65 u`, or *simple acceptance*."""
    name = gettext("%(name)s rev. %(revision)s") % {"name": procedure.name, "revision": procedure.revision}
    if procedure.guard_factor == 0:
        return f"{name}, " + gettext("simple acceptance")
    return f"{name}, " + gettext("guard %(factor)s u") % {"factor": figures.plain(procedure.guard_factor)}


def safety_of(mounting: Mounting, *, worked_out: bool = True) -> Safety:
    """The safety wording with the machine's statutory scheme."""
    return Safety(scheme=scheme_words(mounting.journal.machine), worked_out=worked_out)


def scheme_words(machine: Machine) -> str:
    """The statutory scheme and who has to release the machine under it; '' where it is under none."""
    if machine.scheme == "none":
        return ""
    facts = {"scheme": gettext(machine.scheme), "who": machine.released_by}
    if machine.released_by:
        return gettext("Machine scheme: %(scheme)s. Under it %(who)s releases the machine.") % facts
    return gettext("Machine scheme: %(scheme)s. Whoever it names releases the machine.") % facts


def unread_line(case: Case) -> str:
    """Entries that this installation cannot read yet are said, never dropped in silence."""
    count = len(case.unread)
    if not count:
        return ""
    words = ngettext(
        "{n} entry of a newer form is not shown here.",
        "{n} entries of a newer form are not shown here.",
        count,
    )
    return words.format(n=count)
