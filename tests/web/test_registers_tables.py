"""The pages of the tables: what is in force, where a row is from, proposing one and deciding about it."""

import html
import re
from typing import Any

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.engineering.tables import BUILT_IN
from qrecords.ledger.identifiers import new_id
from qrecords.workshop.models import TableRow
from qrecords.workshop.tables import acts_of, standing_of
from tests.cast import PASSWORD, Workshop, make_workshop, start
from tests.web.desk import main
from tests.workshop.own_copy import CLEARANCE, approve, propose

pytestmark = pytest.mark.django_db
TABLE = "radial_internal_clearance"
PLACE = {"key": CLEARANCE["key"], "over": "50", "upto": "65"}
TYPED = {
    "key-kind": "deep_groove_ball_cyl_bore", "key-group": "3", "over_mm": "50", "upto_mm": "65",
    "value-least": "24", "value-most": "44", "standard": "ISO 5753-1", "edition": "2009",
    "place": "table 2, page 7", "copy": "copy 3, order PO-4471", "reason": "compared with our copy",
}  # fmt: skip


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


def client_of(shop: Workshop, who: str) -> Client:
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def words(answer: HttpResponse) -> str:
    text = html.unescape(main(answer.content.decode()))
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


def read(shop: Workshop, name: str, *args: object, who: str = "engineer", **query: Any) -> str:
    answer = client_of(shop, who).get(reverse(name, args=args), query)
    assert answer.status_code == 200
    return words(answer)


def send(shop: Workshop, name: str, *args: object, who: str = "engineer", **typed: Any) -> HttpResponse:
    given = {"entry_id": str(new_id()), **typed}
    return client_of(shop, who).post(reverse(name, args=args), given)  # type: ignore[return-value]


def stands(row: TableRow) -> str:
    return standing_of(row, acts_of(row.site))


def test_the_list_counts_how_the_rows_of_each_table_stand(shop: Workshop) -> None:
    assert "Radial internal clearance ISO 5753-1:2009 536 0 536 0" in read(shop, "tables")
    approve(shop, propose(shop))
    page = read(shop, "tables", who="fitter")
    assert "Radial internal clearance ISO 5753-1:2009 536 0 535 1" in page
    assert "in force Engineer Person 2 Mar 2026" in page


def test_a_tables_rows_are_filtered_by_word_and_by_how_they_stand_sorted_and_exported(shop: Workshop) -> None:
    approve(shop, propose(shop))
    own = read(shop, "table", TABLE, stands="own")
    assert "Radial internal clearance 1 " in own
    assert "deep groove ball bearing, group C3 50…65 mm 24 µm 44 µm ISO 5753-1:2009 own copy" in own
    assert "Radial internal clearance 111 " in read(shop, "table", TABLE, q="deep groove")
    most = max(row.values[1] for row in BUILT_IN.rows if row.table == TABLE)
    first = re.findall(r"(\d+) µm ISO 5753-1", read(shop, "table", TABLE, sort="-value1"))[0]
    assert first == f"{most}"
    answer = client_of(shop, "auditor").get(reverse("table", args=[TABLE]), {"as": "csv", "stands": "own"})
    lines = b"".join(answer.streaming_content).decode().splitlines()  # type: ignore[attr-defined]
    assert len(lines) == 2


def test_a_rows_page_says_where_it_is_from_and_what_was_proposed_for_its_place(shop: Workshop) -> None:
    page = read(shop, "table-row", TABLE, **PLACE)
    assert "unconfirmed: compare with your copy of the standard: radial clearance" in page
    assert "Proposed for this place Nothing yet." in page
    approve(shop, propose(shop))
    page = read(shop, "table-row", TABLE, who="fitter", **PLACE)
    assert "from this site's own copy of ISO 5753-1:2009, table 2, page 7" in page
    assert "2 Mar 2026 : in force" in page
    assert "propose what our own copy says" not in page


def test_a_row_is_proposed_seen_by_another_person_beside_the_one_that_stands_and_approved(
    shop: Workshop,
) -> None:
    start(shop)
    assert send(shop, "table-row-propose", TABLE, **TYPED).status_code == 302
    row = TableRow.objects.get()
    mine = read(shop, "proposed-row", row.id)
    assert "Another person decides about it" in mine
    assert "approve: put it in force" not in mine
    theirs = read(shop, "proposed-row", row.id, who="quality")
    assert "least 23 µm 24 µm most 43 µm 44 µm" in theirs
    assert "clearance before 23…43 µm 24…44 µm 26-0001" in theirs
    wrong = send(shop, "proposed-row-decide", row.id, who="quality", way="approve", password="guessed")
    assert (wrong.status_code, "This is not your password." in words(wrong)) == (422, True)
    send(shop, "proposed-row-decide", row.id, who="quality", way="approve", password=PASSWORD)
    assert stands(row) == "in force"


def test_a_decision_that_is_neither_of_the_two_decides_nothing(shop: Workshop) -> None:
    start(shop)
    row = propose(shop)
    given = {"way": "withdraw", "password": PASSWORD, "reason": "a slip of a program"}
    assert send(shop, "proposed-row-decide", row.id, who="quality", **given).status_code == 422
    assert stands(row) == "proposed"


def test_refusing_takes_a_reason_and_withdrawing_gives_the_old_row_back(shop: Workshop) -> None:
    refused, kept = propose(shop), propose(shop)
    given = {"way": "refuse", "password": PASSWORD}
    assert send(shop, "proposed-row-decide", refused.id, who="quality", **given).status_code == 422
    send(shop, "proposed-row-decide", refused.id, who="quality", reason="another edition", **given)
    assert stands(refused) == "refused"
    approve(shop, kept)
    send(shop, "proposed-row-withdraw", kept.id, who="quality", reason="a misprint", password=PASSWORD)
    assert stands(kept) == "withdrawn"
    assert re.search(r"withdrawn Quality Person, .{10,12}: a misprint", read(shop, "proposed-row", kept.id))


@pytest.mark.parametrize(
    ("changed", "field", "says"),
    [
        ({"value-most": "fifty"}, "value-most", "“fifty” is not possible. Allowed: 0…50000 µm"),
        ({"upto_mm": "60"}, "over_mm", "over 50 to 65 mm, the row that is there"),
        ({"place": ""}, "place", "Not entered. Allowed: 1 to 80 characters"),
        ({"reason": ""}, "reason", "Not entered. Allowed: 1 to 400 characters"),
        ({"key-group": "9"}, "key-group", "“9” is not possible. Allowed: 2, N, 3, 4, 5"),
    ],
)
def test_what_is_wrong_is_said_at_its_field_and_what_was_typed_stays(
    shop: Workshop, changed: dict[str, str], field: str, says: str
) -> None:
    answer = send(shop, "table-row-propose", TABLE, **{**TYPED, **changed})
    page = html.unescape(answer.content.decode())
    assert answer.status_code == 422
    assert says in page.split(f'id="a-{field}"', 1)[1][:300]
    assert 'value="copy 3, order PO-4471"' in page
    assert not TableRow.objects.exists()


def test_what_lies_far_is_asked_once_and_then_recorded(shop: Workshop) -> None:
    far = {**TYPED, "value-most": "55"}
    asked = send(shop, "table-row-propose", TABLE, **far)
    assert "Expected 35…51 µm, near 43 µm, which stands now." in words(asked)
    send(shop, "table-row-propose", TABLE, **far, **{"sure-asked": "yes", "sure": "yes"})
    assert TableRow.objects.get().document["values"] == ["24", "55"]


def test_every_table_has_a_form_that_begins_with_the_row_that_stands(shop: Workshop) -> None:
    client = client_of(shop, "quality")
    for table in re.findall(r'/registers/tables/(\w+)/"', client.get(reverse("tables")).content.decode()):
        page = client.get(reverse("table", args=[table])).content.decode()
        first = html.unescape(re.findall(rf'href="(/registers/tables/{table}/row/[^"]+)"', page)[0])
        form = client.get(first.replace("/row/", "/propose/"))
        fields = dict(re.findall(r'name="([\w -]+)" type="text" value="([^"]*)"', form.content.decode()))
        assert form.status_code == 200
        assert fields["standard"].startswith("ISO")
        values = {
            name: fields[name] for name in fields if name.startswith("value-") and name != "value-chamfer"
        }
        assert values
        confirmed = "unconfirmed" not in client.get(first).content.decode()
        assert {bool(value) for value in values.values()} == {confirmed}, (
            "what nobody confirmed is typed anew"
        )


def test_the_pages_ask_the_database_a_fixed_number_of_questions(shop: Workshop) -> None:
    def asked(name: str, *args: object, **query: Any) -> int:
        with CaptureQueriesContext(connection) as found:
            read(shop, name, *args, who="quality", **query)
        return len(found)

    start(shop)
    first = propose(shop)

    def all_pages() -> list[int]:
        return [
            asked("tables"),
            asked("table", TABLE),
            asked("table-row", TABLE, **PLACE),
            asked("proposed-row", first.id),
        ]

    approve(shop, propose(shop, values=["23", "44"]))
    all_pages()  # names of approvers are kept
    few = all_pages()
    for place in ("DE 2", "NDE 2"):
        start(shop, position=place)
    for most in ("45", "46", "42"):
        approve(shop, propose(shop, values=["23", most]))
    assert all_pages() == few
