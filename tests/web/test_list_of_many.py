"""My mountings hold their number of queries however many were handed over."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.handing import hand_over
from tests.cast import Workshop, make_workshop, start
from tests.web.fitter_hand import signed_in

pytestmark = pytest.mark.django_db


def _queries(shop: Workshop) -> int:
    client = signed_in(shop, "second_fitter")
    client.get("/mountings/")
    with CaptureQueriesContext(connection) as asked:
        page = client.get("/mountings/").content.decode()
    assert "hands it over to Second_Fitter Person" in page
    return len(asked)


def test_one_hand_over_or_ten_ask_the_same_number_of_queries() -> None:
    shop = make_workshop()

    def handed(position: str) -> None:
        job = start(shop, position=position)
        hand_over(
            acting=shop.acting("fitter"), mounting=job.mounting, entry_id=new_id(),
            to=shop.people["second_fitter"], note="C still to measure",
        )  # fmt: skip

    handed("DE")
    one = _queries(shop)
    for number in range(9):
        handed(f"P{number}")
    assert _queries(shop) == one
