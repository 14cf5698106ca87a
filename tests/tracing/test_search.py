"""One box: which words agree and which differ, best first, within the asker's reach, in a fixed number of
queries."""

from datetime import UTC, datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from qrecords.ledger.identifiers import new_id
from qrecords.people import actions as people
from qrecords.people.models import Person
from qrecords.people.passwords import seal
from qrecords.people.permissions import Role
from qrecords.tracing.search import Answer, chosen, search
from qrecords.tracing.words import words_of
from qrecords.workshop import actions as workshop
from qrecords.workshop.marks import check_character
from tests.cast import PASSWORD, REQUIREMENT, Job, Workshop, again, make_workshop, start

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 3, 3, tzinfo=UTC)


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


@pytest.fixture
def pump(shop: Workshop) -> Job:
    """Quarry pump 3 of Greyhallow quarry, DE, 6212 C3, lot L-77, WO-1001."""
    return start(shop)


def mixer(shop: Workshop) -> Job:
    acting = shop.acting("fitter")
    machine = workshop.register_machine(
        acting=acting, site=shop.site, machine_id=new_id(), name="sand mixer", owner="Coldbeck foundry"
    )
    rebuild = workshop.open_rebuild(acting=acting, rebuild_id=new_id(), machine=machine, work_order="WO-2210")
    return again(shop, machine, rebuild, "NDE", REQUIREMENT)


def asked(shop: Workshop, text: str, who: str = "auditor") -> Answer:
    return search(shop.people[who], text, NOW)


def kinds(answer: Answer) -> dict[str, str]:
    return {agreement.word: agreement.kind for agreement in answer.candidates[0].agree}


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("6212", "designation"),
        ("6212C3", "designation"),
        ('"6212 c3"', "designation"),
        ("l-77", "lot"),
        ("Greyhallow", "owner"),
        ("pump", "machine"),
        ("DE", "place"),
        ("WO-1001", "work order"),
        ("26-0001", "mounting"),
    ],
)
def test_a_word_is_read_as_the_field_that_has_it(shop: Workshop, pump: Job, text: str, kind: str) -> None:
    assert list(kinds(asked(shop, text)).values()) == [kind]


def test_the_workshop_mark_finds_its_machine_in_small_letters_too(shop: Workshop, pump: Job) -> None:
    mixer(shop)
    answer = asked(shop, pump.machine.mark.lower())
    assert [c.mounting.id for c in answer.candidates] == [pump.mounting.id]
    assert kinds(answer) == {pump.machine.mark.lower(): "workshop mark"}


def test_a_mark_read_wrongly_is_doubted_and_finds_nothing(shop: Workshop, pump: Job) -> None:
    wrong = "BCDFGH" + next(sign for sign in "23467" if sign != check_character("BCDFGH"))
    answer = asked(shop, wrong)
    assert answer.candidates == () and answer.words[0].doubt and answer.nowhere == (wrong,)


def test_de_is_not_in_nde(shop: Workshop, pump: Job) -> None:
    mixer(shop)
    assert [c.mounting.id for c in asked(shop, "DE").candidates] == [pump.mounting.id]


def test_what_has_most_words_in_its_favour_stands_first_and_says_what_differs(
    shop: Workshop, pump: Job
) -> None:
    other = mixer(shop)
    answer = asked(shop, "6212 Greyhallow NDE")
    assert [c.mounting.id for c in answer.candidates] == [other.mounting.id, pump.mounting.id]
    assert answer.candidates[0].differ == ("Greyhallow",)
    assert answer.candidates[1].differ == ("NDE",)
    answer = asked(shop, "6212 Greyhallow pump NDE")
    assert answer.candidates[0].mounting.id == pump.mounting.id


def test_a_whole_field_counts_more_than_a_part_of_one(shop: Workshop) -> None:
    acting = shop.acting("fitter")
    for name in ("WO-1001 annex", "WO-1001"):
        machine = workshop.register_machine(
            acting=acting, site=shop.site, machine_id=new_id(), name="Fan", owner="Depot"
        )
        rebuild = workshop.open_rebuild(acting=acting, rebuild_id=new_id(), machine=machine, work_order=name)
        again(shop, machine, rebuild, "DE", REQUIREMENT)
    first = asked(shop, "WO-1001").candidates[0]
    assert first.mounting.rebuild.work_order == "WO-1001"


def test_a_word_that_nothing_has_is_said_to_be_nowhere(shop: Workshop, pump: Job) -> None:
    answer = asked(shop, "6212 creep")
    assert answer.read_as == (("6212", "designation"),) and answer.nowhere == ("creep",)


def test_a_bearing_that_was_never_mounted_is_found_in_stock(shop: Workshop) -> None:
    bearing = workshop.register_bearing(
        acting=shop.acting("fitter"), site=shop.site, bearing_id=new_id(), designation="NU 318",
        serial="S-4471", date_code="FK6",
    )  # fmt: skip
    answer = asked(shop, "s-4471")
    assert [b.id for b in answer.in_stock] == [bearing.id] and answer.candidates == ()
    assert answer.read_as == (("s-4471", "serial"),)
    assert [b.id for b in asked(shop, "FK6").in_stock] == [bearing.id]


def test_a_gauge_is_found_by_its_mark(shop: Workshop) -> None:
    answer = asked(shop, "micrometer-1")
    assert [piece.mark for piece in answer.equipment] == ["MICROMETER-1"]


def test_one_letter_is_not_in_everything(shop: Workshop, pump: Job) -> None:
    assert asked(shop, "u").candidates == ()


def test_more_words_than_are_read_are_named(shop: Workshop, pump: Job) -> None:
    answer = asked(shop, "1 2 3 4 5 6 7 8 nine ten")
    assert answer.left_out == ("nine", "ten")


@pytest.mark.parametrize("text", ["", "   ", '""', "%", "_", "\x00", "' OR 1=1 --", "é" * 500])
def test_odd_questions_are_answered_with_nothing(shop: Workshop, pump: Job, text: str) -> None:
    assert asked(shop, text.replace("\x00", "")).candidates == ()


def test_a_percent_sign_is_a_sign_and_no_wildcard(shop: Workshop, pump: Job) -> None:
    assert asked(shop, "62%2").candidates == () and asked(shop, "62_2").candidates == ()


def test_words_in_quotes_are_one_word() -> None:
    assert texts('"Quarry pump" 6212') == ["Quarry pump", "6212"]
    assert texts('"WO" 26-0777 "6310" C3') == ["WO", "26-0777", "6310", "C3"]


def texts(question: str) -> list[str]:
    return [word.text for word in words_of(question)]


@pytest.mark.parametrize(
    ("question", "words"),
    [
        ("6310 C3", ["6310 C3"]),
        ("6310 c3 DE pump", ["6310 c3", "DE", "pump"]),
        ("pump NU 318", ["pump", "NU 318"]),
        ("22326 C4 S1 2545", ["22326 C4 S1", "2545"]),
        ("6213 6314", ["6213", "6314"]),
        ("WO 26-0777", ["WO 26-0777"]),
        ("wo: 26-0777 6212", ["wo: 26-0777", "6212"]),
        ("lot L-77", ["lot L-77"]),
        ("lot of pumps", ["lot", "of", "pumps"]),
        ("C3", ["C3"]),
    ],
)
def test_what_belongs_together_is_one_word(question: str, words: list[str]) -> None:
    assert texts(question) == words


def test_a_designation_with_its_clearance_finds_that_bearing_before_one_without(shop: Workshop) -> None:
    plain = start(shop, designation="6212", clearance_group="N")
    with_c3 = start(shop, "NDE")
    answer = asked(shop, "6212 C3")
    assert answer.read_as == (("6212 C3", "designation"),)
    assert [c.mounting.id for c in answer.candidates] == [with_c3.mounting.id, plain.mounting.id]
    assert [c.agree[0].lacks for c in answer.candidates] == ["", "C3"]
    assert [c.mounting.id for c in asked(shop, "6212-C3").candidates] == [with_c3.mounting.id]


@pytest.mark.parametrize("text", ["WO 1001", "wo-1001", "WO1001", "W/O 1001", "1001", "WO-1001", "WO. 1001"])
def test_a_work_order_is_found_with_its_prefix_or_without(shop: Workshop, pump: Job, text: str) -> None:
    mixer(shop)
    answer = asked(shop, text)
    assert [c.mounting.id for c in answer.candidates] == [pump.mounting.id]
    assert answer.candidates[0].agree[0].kind == "work order" and answer.candidates[0].agree[0].whole


def test_a_mark_read_out_in_two_groups_in_small_letters_is_one_word(shop: Workshop, pump: Job) -> None:
    mixer(shop)
    mark = pump.machine.mark.lower()
    for text in (f"{mark[:3]} {mark[3:]}", f"{mark[:3]}-{mark[3:]}"):
        answer = asked(shop, text)
        assert answer.read_as == ((text, "workshop mark"),)
        assert [c.mounting.id for c in answer.candidates] == [pump.mounting.id]


def auditor_of_another_site(shop: Workshop, role: Role) -> Person:
    """Somebody whose role is at another site than everything here."""
    person = people.enrol(
        acting=shop.proved("administrator"), site=shop.site, person_id=new_id(), sign_in="far",
        name="Far Off", password=seal(PASSWORD),
    )  # fmt: skip
    elsewhere = new_id()
    admin = shop.people["administrator"]
    people._grant(shop.proved("administrator"), elsewhere, new_id(), admin, Role.ADMINISTRATOR, shop.clock)
    people.grant_role(
        acting=shop.proved("administrator"), site=elsewhere, grant_id=new_id(), person=person, role=role
    )
    return person


def test_an_inspector_of_another_site_finds_nothing_and_an_auditor_everything(
    shop: Workshop, pump: Job
) -> None:
    person = auditor_of_another_site(shop, Role.INSPECTOR)
    answer = search(person, "6212 micrometer-1", NOW)
    assert answer.candidates == () and answer.equipment == () and answer.in_stock == ()
    assert search(shop.people["auditor"], "6212", NOW).candidates


def test_a_fitter_may_not_trace(shop: Workshop, pump: Job) -> None:
    assert asked(shop, "6212", who="fitter").candidates == ()


def test_the_number_of_queries_does_not_grow(shop: Workshop, pump: Job) -> None:
    def queries(text: str) -> int:
        with CaptureQueriesContext(connection) as captured:
            asked(shop, text)
        return len(captured)

    before = queries("6212")
    for _ in range(3):
        mixer(shop)
    assert queries("6212 DE C3 foundry WO-2210 L-77") == before == 5


def test_the_opened_candidate_is_the_one_asked_for_else_the_first(shop: Workshop, pump: Job) -> None:
    other = mixer(shop)
    answer = asked(shop, "6212")
    assert chosen(answer, str(pump.mounting.id)) == answer.candidates[1]
    assert chosen(answer, "") == chosen(answer, "nonsense") == answer.candidates[0]
    assert chosen(answer, str(new_id())) is None
    assert answer.candidates[0].mounting.id == other.mounting.id


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("L-78", "lot, as read"),
        ("lot L-78", "lot, as read"),
        ("SN 0417", "serial, as read"),
        ("s/n 0417", "serial, as read"),
        ("FR26", "date code, as read"),
    ],
)
def test_what_was_read_off_the_ring_finds_its_mounting_whatever_the_order_says(
    shop: Workshop, pump: Job, text: str, kind: str
) -> None:
    mixer(shop)
    pump.say("identification", serial="SN 0417", lot="L-78", date_code="FR26")
    answer = asked(shop, f'"{text}"' if text == "SN 0417" else text)
    assert kinds(answer) == {answer.words[0].text: kind}
    assert answer.candidates[0].mounting == pump.mounting


def test_a_corrected_lot_is_found_and_the_mistyped_one_no_more(shop: Workshop, pump: Job) -> None:
    pump.say("identification", lot="L-87")
    pump.say("identification", lot="L-78", reason="typed wrongly")
    assert kinds(asked(shop, "L-78")) == {"L-78": "lot, as read"}
    assert asked(shop, "L-87").candidates == ()


def test_another_marking_on_the_ring_is_found_once_a_second_reader_has_read_it_for_himself(
    shop: Workshop, pump: Job
) -> None:
    pump.say("identification", marking="NU 6300 E")
    for who in ("auditor", "inspector"):
        assert asked(shop, "6300", who).candidates == (), "whoever searches has not read it yet"
    pump.say("identification", who="inspector", check=True, marking="NU 6300 E")
    assert kinds(asked(shop, "6300")) == {"6300": "designation, as read"}
    assert kinds(asked(shop, '"NU6300-E"')) == {"NU6300-E": "designation, as read"}
