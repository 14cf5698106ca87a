"""Registers from a sheet: what each row would do is told first, then exactly that file is taken in, once."""

import io

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.people.errors import NotAllowedError, ProveAgainError
from qrecords.people.models import Person, RoleGrant
from qrecords.proof.canonical import parse_canonical
from qrecords.tracing.agreement import differences
from qrecords.tracing.everything.cells import lines
from qrecords.workshop import actions as workshop
from qrecords.workshop.importing.taking_in import KINDS, take_in
from qrecords.workshop.importing.text import MOST_BYTES, MOST_ROWS, FileChangedError, SheetUnreadableError
from qrecords.workshop.models import Bearing, Equipment, Journal, Machine, Rebuild
from tests.cast import PASSWORD, Workshop, make_workshop, start
from tests.workshop.sheets import BEARINGS, GAUGES, ORDERS, PEOPLE, SHEETS, WHO, fates, looked_at, taken, why

pytestmark = pytest.mark.django_db


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


@pytest.mark.parametrize("kind", SHEETS)
def test_what_is_told_new_is_written_once_however_often_it_is_sent(shop: Workshop, kind: str) -> None:
    before = Entry.objects.count()
    assert set(fates(looked_at(shop, kind, SHEETS[kind]))) == {"new"}
    assert Entry.objects.count() == before
    id = new_id()
    assert set(fates(taken(shop, kind, SHEETS[kind], import_id=id))) == {"written"}
    after = Entry.objects.count()
    assert after > before
    for again in (id, new_id()):
        assert set(fates(taken(shop, kind, SHEETS[kind], import_id=again))) == {"same as here"}
    assert Entry.objects.count() == after + 1
    assert set(fates(looked_at(shop, kind, SHEETS[kind]))) == {"same as here"}
    assert list(differences()) == []


def test_the_act_names_the_file_by_its_hash(shop: Workshop) -> None:
    told = taken(shop, "bearings", BEARINGS)
    content = parse_canonical(bytes(Entry.objects.get(kind="import").payload))
    assert content["body"]["said"] == {
        "sheet": "bearings", "sha256": told.sheet.sha256, "bytes": len(BEARINGS.encode()), "rows": 3
    }  # fmt: skip
    assert content["body"]["seen"] == {"fates": {"new": 3}}


def test_another_file_than_the_one_looked_at_is_not_taken_in(shop: Workshop) -> None:
    with pytest.raises(FileChangedError):
        take_in(
            acting=shop.acting("fitter"), kind=KINDS["bearings"], site=shop.site, import_id=new_id(),
            raw=BEARINGS.encode(), sha256="0" * 64,
        )  # fmt: skip
    assert not Entry.objects.filter(kind="import").exists()


def test_orders_share_machines_and_places(shop: Workshop) -> None:
    taken(shop, "work orders", ORDERS)
    assert Machine.objects.filter(owner="Ostrey tram depot").count() == 2
    assert Rebuild.objects.filter(work_order="WO-31").count() == 2
    assert list(Journal.objects.order_by("position").values_list("position", flat=True)) == ["DE", "NDE"]
    assert Machine.objects.get(name="Hoist motor 2").scheme == "lifting"
    more = "work_order,machine,owner,shaft,position\nWO-31,hoist motor 2,OSTREY tram depot,1,mid\n"
    (fate,) = looked_at(shop, "work orders", more).fates
    assert why(fate) == [
        ("machine", "Hoist motor 2 → hoist motor 2", ""),
        ("owner", "Ostrey tram depot → OSTREY tram depot", ""),
    ]  # fmt: skip


def test_a_machine_of_the_shop_is_known_by_its_mark(shop: Workshop) -> None:
    job = start(shop)
    text = "work_order,machine,owner,mark,scheme\nWO-2,Quarry pump 3,Greyhallow quarry,"
    text += f"{job.machine.mark},rail\n"
    (fate,) = looked_at(shop, "work orders", text).fates
    assert (fate.what, why(fate)) == ("differs", [("scheme", "none → rail", "")])
    wrong = text.replace(job.machine.mark, "ABC")
    (fate,) = looked_at(shop, "work orders", wrong).fates
    assert fate.what == "refused"
    assert why(fate) == [("mark", "ABC", "six characters and the right check character")]


def test_one_new_machine_is_one_thing_in_all_rows(shop: Workshop) -> None:
    text = "work_order,machine,owner,scheme\nA,P,Q,rail\nB,P,Q,lifting\nA,P,Q,\n"
    told = looked_at(shop, "work orders", text)
    assert fates(told) == ["new", "refused", "twice in the file"]
    assert why(told.fates[1]) == [("scheme", "lifting", "rail, as in line 2")]
    assert told.fates[2].first == 2


def test_of_bearings_without_a_serial_only_what_is_over_is_new(shop: Workshop) -> None:
    one = "designation,lot\n6212 C3,L-78\n"
    taken(shop, "bearings", one)
    told = looked_at(shop, "bearings", one + "6212 C3,L-78\n6212 C3,L-78\n")
    assert fates(told) == ["same as here", "new", "new"]
    taken(shop, "bearings", one + "6212 C3,L-78\n6212 C3,L-78\n")
    assert Bearing.objects.filter(lot="L-78").count() == 3


def test_a_bearing_with_a_serial_is_one_bearing(shop: Workshop) -> None:
    taken(shop, "bearings", BEARINGS)
    other = "designation,serial,lot\nNU 318,4471-A,L-13\nNU 318,4471-A,L-12\n"
    told = looked_at(shop, "bearings", other)
    assert fates(told) == ["differs", "twice in the file"]
    assert why(told.fates[0]) == [("lot", "L-12 → L-13", "")]
    assert fates(taken(shop, "bearings", other)) == ["differs", "twice in the file"]
    assert Bearing.objects.get(serial="4471-A").lot == "L-12"


def test_gauges_come_in_base_units_with_either_decimal_sign(shop: Workshop) -> None:
    taken(shop, "gauges", GAUGES)
    documents = {
        piece.mark: piece.versions.get().document
        for piece in Equipment.objects.filter(mark__in=["MIC-131", "FG-09", "IH-3"])
    }
    assert documents["MIC-131"]["expanded_u"] == 1000
    assert documents["MIC-131"]["range_nm"] == [50_000_000, 75_000_000]
    assert documents["FG-09"]["blades_nm"] == [30_000, 50_000, 100_000]
    assert documents["IH-3"] == {
        "status": "in use", "expanded_u": 2000, "resolution": 100, "heater_kind": "induction", "power_w": 3600
    }  # fmt: skip
    other = GAUGES.replace(
        "MIC-131;outside micrometer;2027-01-31;1,0", "MIC-131;outside micrometer;2028-01-31;1.2"
    )
    told = looked_at(shop, "gauges", other)
    assert fates(told) == ["differs", "same as here", "same as here"]
    assert why(told.fates[0]) == [("due", "2027-01-31 → 2028-01-31", ""), ("expanded_u", "1 → 1.2", "")]


@pytest.mark.parametrize(
    ("row", "field", "allowed"),
    [
        ("M;outside micrometer;31.1.27;1;1;;;;;", "due", "a day as YYYY-MM-DD"),
        ("M;outside micrometer;;1 kg;1;;;;;", "expanded_u", "0…1000 µm"),
        (
            "M;outside micrometer;;1;1;50;;;;",
            "measures_up_to",
            "both ends of the range, 0…2000 mm, or neither",
        ),
        ("M;feeler set;;2;;;;30;;", "blades", "0.01…3 mm"),
        ("M;heater;;2;0.1;;;;induction;9", "power", "50…500000 W"),
        ("M;ruler;;;;;;;;", "kind", "outside micrometer, bore gauge"),
        (";feeler set;;;;;;;;", "mark", "1 to 30 characters in one line"),
    ],
)
def test_a_cell_that_cannot_be_is_named_with_unit_and_range(
    shop: Workshop, row: str, field: str, allowed: str
) -> None:
    (fate,) = looked_at(shop, "gauges", GAUGES.splitlines()[0] + "\n" + row + "\n").fates
    assert fate.what == "refused"
    assert [w.field for w in fate.wrong] == [field] and fate.wrong[0].allowed.startswith(allowed)


def test_people_come_without_a_password_and_get_their_first_one_by_one(shop: Workshop) -> None:
    taken(shop, "people", PEOPLE)
    person = Person.objects.get(sign_in="o.brandreth")
    assert person.first_password and not person.has_usable_password()
    assert not any(person.check_password(word) for word in ("", "!", person.password))
    assert RoleGrant.objects.get(person=person).role == "fitter"
    other = "sign_in,name,role\no.brandreth,O. Brandreth,inspector\nfitter,Somebody,fitter\n"
    told = looked_at(shop, "people", other)
    assert why(told.fates[0]) == [("role", "fitter → inspector", "")]
    assert why(told.fates[1]) == [("name", "Fitter Person → Somebody", "")]


def test_an_account_of_another_site_is_told_no_further(shop: Workshop) -> None:
    RoleGrant.objects.filter(person=shop.people["fitter"]).update(site=new_id())
    (fate,) = looked_at(shop, "people", "sign_in,name\nfitter,X\n").fates
    assert why(fate) == [("sign_in", "fitter", "a name that nobody has yet")]


def test_people_are_proved_for_and_each_sheet_needs_its_right(shop: Workshop) -> None:
    with pytest.raises(ProveAgainError):
        take_in(
            acting=shop.acting("administrator"), kind=KINDS["people"], site=shop.site, import_id=new_id(),
            raw=PEOPLE.encode(), sha256=looked_at(shop, "people", PEOPLE).sheet.sha256,
        )  # fmt: skip
    for kind, text in SHEETS.items():
        with pytest.raises(NotAllowedError):
            taken(shop, kind, text, who="auditor")
    assert not Entry.objects.filter(kind="import").exists()


@pytest.mark.parametrize(
    ("raw", "why_not"),
    [
        (b"", "empty"),
        (b"\n\n", "empty"),
        ("designation\nM\u00fcller\n".encode("latin-1"), "not UTF-8"),
        (b"designation\n6212\0\n", "not text"),
        (b"designation,shoe\n6212,9\n", "unknown column"),
        (b"designation,lot,lot\n6212,9,9\n", "column twice"),
        (b"lot\nL-1\n", "column lacking"),
        (b'designation\n"6212\n', "not CSV"),
        (b"designation\n" + b"6212\n" * (MOST_ROWS + 1), "too many rows"),
        (b"designation\n" + b"6" * MOST_BYTES, "too long"),
        (b"designation,Password\n6212,x\n", "a password"),
        (b"PK\x03\x04\x00", "not text"),
    ],
)
def test_a_file_that_is_no_sheet_is_asked_back_as_a_whole(shop: Workshop, raw: bytes, why_not: str) -> None:
    with pytest.raises(SheetUnreadableError) as caught:
        looked_at(shop, "bearings", raw)
    assert caught.value.why == why_not and caught.value.allowed


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_the_same_sheet_in_every_writing_says_the_same(
    shop: Workshop, mark: bytes, delimiter: str, end: str
) -> None:
    text = 'Designation,LOT,Date code\n6212 C3,"L ""7""",2545\n\nNU 318,Łódź,\n'
    raw = mark + text.replace(",", delimiter).replace("\n", end).encode()
    told = looked_at(shop, "bearings", raw)
    assert [dict(fate.row.cells) for fate in told.fates] == [
        {"designation": "6212 C3", "lot": 'L "7"', "date_code": "2545"},
        {"designation": "NU 318", "lot": "Łódź", "date_code": ""},
    ]
    assert [fate.row.line for fate in told.fates] == [2, 4]


def test_what_looks_like_a_formula_stays_text_and_comes_back_from_an_export(shop: Workshop) -> None:
    rows = [["designation", "lot"], ['=HYPERLINK("x")', "-L"], ["+6212", "@1"]]
    taken(shop, "bearings", "".join(lines(rows)))
    assert Bearing.objects.filter(designation='=HYPERLINK("x")', lot="-L").exists()
    assert Bearing.objects.filter(designation="+6212", lot="@1").exists()


def test_a_row_longer_than_its_head_is_refused_and_the_others_are_not(shop: Workshop) -> None:
    told = looked_at(shop, "bearings", "designation,lot\n6212,L,extra\n6213,L,\n")
    assert fates(told) == ["refused", "new"]


def test_a_row_that_is_refused_while_it_is_written_stops_no_other(
    shop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = workshop._text

    def late(field: str, value: str, longest: int) -> str:
        return real(field, "" if value == "NU 318" else value, longest)

    monkeypatch.setattr(workshop, "_text", late)
    assert fates(taken(shop, "bearings", BEARINGS)) == ["written", "written", "refused"]
    monkeypatch.undo()
    assert fates(taken(shop, "bearings", BEARINGS)) == ["same as here", "same as here", "written"]


@pytest.mark.parametrize("kind", SHEETS)
def test_ten_rows_and_a_thousand_take_the_same_queries_to_look_at(shop: Workshop, kind: str) -> None:
    def counted(rows: int) -> int:
        head, first = SHEETS[kind].splitlines()[:2]
        sign = ";" if ";" in head else ","
        name, rest = first.split(sign, 1)
        text = "\n".join([head, *(f"{name}{n}{sign}{rest}" for n in range(rows))])
        with CaptureQueriesContext(connection) as captured:
            assert len(looked_at(shop, kind, text).fates) == rows
        return len(captured)

    assert counted(1_000) == counted(10) <= 6


def test_the_command_tells_and_then_writes_exactly_that_file(
    shop: Workshop, tmp_path: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "sheet.csv"  # type: ignore[operator]
    file.write_text(BEARINGS)
    out = io.StringIO()
    call_command("import_sheet", "bearings", str(file), "--site", "TH", stdout=out)
    assert "line 2: new" in out.getvalue() and "3 new" in out.getvalue()
    sha256 = out.getvalue().split()[-1]
    monkeypatch.setenv("QRECORDS_PASSWORD", PASSWORD)
    call_command(
        "import_sheet", "bearings", str(file), "--site", "TH", "--as", "fitter", "--write", sha256, stdout=out
    )
    assert Bearing.objects.count() == 3
    monkeypatch.setenv("QRECORDS_PASSWORD", "no")
    with pytest.raises(CommandError, match="not the password"):
        call_command(
            "import_sheet", "bearings", str(file), "--site", "TH", "--as", "fitter", "--write", sha256
        )
    file.write_text(BEARINGS + "6214,,,,\n")
    monkeypatch.setenv("QRECORDS_PASSWORD", PASSWORD)
    with pytest.raises(CommandError, match="not the one"):
        call_command(
            "import_sheet", "bearings", str(file), "--site", "TH", "--as", "fitter", "--write", sha256
        )
    assert set(WHO) == set(KINDS)
