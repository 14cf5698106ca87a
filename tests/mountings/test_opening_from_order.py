"""From a work order to a mounting: what is known is taken, never made twice; another order is another one."""

import uuid
from dataclasses import replace

import pytest

from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.queries import entries_of
from qrecords.mountings.actions.opening import Order, open_from_order
from qrecords.mountings.models import Mounting
from qrecords.tracing.agreement import differences
from qrecords.workshop.actions import open_rebuild, register_journal
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Journal, Machine, Rebuild
from tests.cast import REQUIREMENT, Workshop, make_workshop

pytestmark = pytest.mark.django_db
ORDER = Order(
    machine=None, work_order="WO-7", shaft="1", position="DE", requirement=REQUIREMENT,
    machine_name="Winch 2", owner="Sallowmere quarry", serial="A",
)  # fmt: skip


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


def opened(shop: Workshop, mounting_id: uuid.UUID, order: Order = ORDER) -> Mounting:
    return open_from_order(acting=shop.acting("fitter"), site=shop.site, mounting_id=mounting_id, order=order)


def test_an_order_sent_twice_is_one_mounting_of_one_machine(shop: Workshop) -> None:
    id = new_id()
    assert opened(shop, id).id == opened(shop, id).id
    assert (Machine.objects.count(), Rebuild.objects.count(), Journal.objects.count()) == (1, 1, 1)


@pytest.mark.parametrize("change", [{"position": "NDE"}, {"serial": "B"}, {"work_order": "WO-8"}])
def test_another_order_under_the_same_id_is_refused_and_not_answered_with_the_old_one(
    shop: Workshop, change: dict[str, str]
) -> None:
    id = new_id()
    opened(shop, id)
    with pytest.raises(DifferentContentError):
        opened(shop, id, replace(ORDER, **change))


def test_the_mark_that_was_made_here_is_no_part_of_what_was_said(shop: Workshop) -> None:
    machine = opened(shop, new_id()).journal.machine
    body = entries_of(machine.id)[0].payload["body"]
    assert (body["said"]["mark"], body["seen"]["mark"]) == ("", machine.mark)
    assert list(differences()) == []


def test_a_machine_has_one_rebuild_an_order_and_one_journal_a_place(shop: Workshop) -> None:
    machine = opened(shop, new_id()).journal.machine
    with pytest.raises(RegisterFieldError, match="not yet open at this machine"):
        open_rebuild(acting=shop.acting("fitter"), rebuild_id=new_id(), machine=machine, work_order="WO-7")
    with pytest.raises(RegisterFieldError, match="not yet registered on this shaft"):
        register_journal(
            acting=shop.acting("fitter"), journal_id=new_id(), machine=machine, shaft="1", position="DE"
        )
