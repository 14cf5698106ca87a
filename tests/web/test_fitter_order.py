"""Opening an order: what is wrong is asked back beside its field, what is known is taken once."""

import re

import pytest
from django.test import Client

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from tests.web.fitter_hand import ORDER, SIZES

pytestmark = pytest.mark.django_db


def test_a_class_that_does_not_exist_says_which_do(fitter: Client) -> None:
    groups = {"outside": "110", "width": "22", "nominal": "60", "shaft_class": "m27"}
    page = fitter.post("/mountings/new/", ORDER | groups)
    text = page.content.decode()
    assert page.status_code == 422 and "there are:" in text and "m6" in text
    assert Mounting.objects.count() == 0


def test_the_class_of_a_hole_is_no_seat_and_the_shaft_classes_are_named(fitter: Client) -> None:
    page = fitter.post("/mountings/new/", ORDER | SIZES | {"shaft_class": "K5"})
    text = page.content.decode()
    assert page.status_code == 422 and "is the class of a hole" in text and "k5, k6" in text
    assert Mounting.objects.count() == 0


def test_a_nominal_that_is_not_the_bore_wants_to_know_where_it_is_written(fitter: Client) -> None:
    typed = ORDER | SIZES | {"nominal": "65"}
    page = fitter.post("/mountings/new/", typed)
    text = page.content.decode()
    assert page.status_code == 422 and "6212 C3 says d 60 mm, not 65;" in text
    assert 'name="nominal_source"' in text and 'value="65"' in text
    sourced = fitter.post("/mountings/new/", typed | {"nominal_source": "drawing TH-9, note 4"})
    assert sourced.status_code == 302
    opened = Mounting.objects.get()
    assert judged_now(opened).case.requirement.document["nominal_source"] == "drawing TH-9, note 4"


def test_a_group_that_the_designation_contradicts_wants_to_know_where_it_is_written(fitter: Client) -> None:
    typed = ORDER | SIZES | {"clearance_group": "4"}
    page = fitter.post("/mountings/new/", typed)
    text = page.content.decode()
    assert page.status_code == 422 and "6212 C3 says 3, not 4;" in text and 'name="group_source"' in text
    assert fitter.post("/mountings/new/", typed | {"group_source": "note 4"}).status_code == 302


def test_everything_wrong_in_an_order_is_asked_back_at_once_each_beside_its_field(fitter: Client) -> None:
    wrong = {"position": "", "drawing": "", "mass": "light", "shaft_class": "m27", "clearance_group": "4",
             "clearance_least": "some"}  # fmt: skip
    page = fitter.post("/mountings/new/", ORDER | SIZES | wrong)
    text = page.content.decode()
    assert page.status_code == 422 and Mounting.objects.count() == 0
    summary = re.search(r'<div class="questions" role="alert">(.*?)</div>', text, re.S)
    assert summary
    linked = re.findall(r'href="#f-(\w+)"', summary[1])
    assert linked == ["position", "clearance_group", "mass", "drawing", "shaft_class", "clearance_least"]
    for name in linked:
        assert f'id="f-{name}"' in text, name
    beside = re.findall(r'<p class="asks" id="a-(\w+)">', text)
    assert set(linked) - set(beside) == {"clearance_group"}, "that one says so at its source"
    assert re.search(r'<p class="asks" role="alert">6212 C3 says 3, not 4;', text)
    assert re.findall(r'name="(\w+)"[^>]* autofocus', text) == ["position"]


def test_a_machine_that_is_known_is_named_and_not_made_twice(fitter: Client) -> None:
    fitter.post("/mountings/new/", ORDER | SIZES)
    mark = Mounting.objects.get().journal.machine.mark
    page = fitter.post("/mountings/new/", ORDER | SIZES | {"machine_name": "vent fan 2", "position": "NDE"})
    assert page.status_code == 422 and mark in page.content.decode()
    assert Mounting.objects.count() == 1


def test_an_unknown_designation_asks_for_d_and_b(fitter: Client) -> None:
    page = fitter.post("/mountings/new/", ORDER | {"designation": "XQ 77", "look_up": "1"})
    assert "unknown series. Type d, D and B from the drawing." in page.content.decode()
    typed = {"designation": "XQ 77", "outside": "110", "width": "22", "nominal": "60"}
    assert fitter.post("/mountings/new/", ORDER | typed).status_code == 302


def test_an_opening_sent_twice_opens_one_mounting(fitter: Client) -> None:
    sizes = {"outside": "110", "width": "22", "nominal": "60", "entry_id": str(new_id())}
    first, second = (fitter.post("/mountings/new/", ORDER | sizes) for _ in range(2))
    assert first["Location"] == second["Location"]
    assert Mounting.objects.count() == 1
