"""Machines of the register: one plate, one mark."""

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.workshop.actions import register_machine
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Machine
from tests.cast import make_workshop, start

pytestmark = pytest.mark.django_db


def test_a_mark_that_another_machine_bears_is_said_and_not_given_again() -> None:
    shop = make_workshop()
    mark = start(shop).mounting.journal.machine.mark
    with pytest.raises(RegisterFieldError, match="a mark that no other machine bears"):
        register_machine(
            acting=shop.acting("fitter"), site=shop.site, machine_id=new_id(), name="Pump 4", owner="Quarry",
            mark=mark.lower(),
        )  # fmt: skip
    assert Machine.objects.filter(mark=mark).count() == 1
