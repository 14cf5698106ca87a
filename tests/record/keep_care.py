"""What the demonstration does not tell of look-backs and of the care of gauges."""

from collections.abc import Callable
from typing import Any

Acts = Callable[[str], Any]
"""An act of somebody of the demonstration, by sign-in."""


def of_look_backs(acting: Acts) -> None:
    """The rest of the look-back on MIC-114 answered, and its end."""
    from qrecords.ledger.identifiers import new_id
    from qrecords.mountings.actions.looking_back import answer, end_look_back
    from qrecords.workshop.models import LookBack

    look_back = LookBack.objects.get()
    for action in look_back.actions.filter(answer__isnull=True):
        how = "measured again on the shaft: inside"
        answer(acting=acting("hollin"), action=action, answer_id=new_id(), how=how)
    end_look_back(
        acting=acting("tremaine"), look_back=look_back, entry_id=new_id(), reason="all five are answered"
    )


def of_care(acting: Acts) -> None:
    """A micrometer read on its master, its certificate sent, and dropped."""
    from qrecords.evidence.intake import take_in_paper
    from qrecords.ledger.identifiers import new_id
    from qrecords.workshop import care_actions as care
    from qrecords.workshop.models import Equipment
    from tests.papers import pdf

    gauge, master = (Equipment.objects.get(mark=mark) for mark in ("MIC-118", "SM-31"))
    fitter, off = acting("brandreth"), care.OFF.parse("-1", "um", sure=True)
    care.check_on_master(
        acting=fitter, check_id=new_id(), equipment=gauge, master=master, when="after", off=off
    )
    taken = take_in_paper([pdf("TH-CAL 2026/MIC-118")])
    care.receive_certificate(acting=acting("tremaine"), equipment=gauge, taken=taken)
    care.report_damage(
        acting=fitter, damage_id=new_id(), equipment=gauge, what="dropped", note="off the bench"
    )
