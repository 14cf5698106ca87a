"""An installation begins with one administrator and one site; after that, people are enrolled by people."""

import pytest
from django.core.management import CommandError, call_command
from django.test import Client

from qrecords.ledger.opening import open_log
from qrecords.ledger.queries import home_site
from qrecords.people.models import Person
from qrecords.workshop.models import Site

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _password(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("QRECORDS_PASSWORD", "lathe and candle")


def begin(name: str = "boss") -> None:
    call_command("first_administrator", name, "B. Oss", site="Test hall", code="TH")


def test_the_first_administrator_signs_in_and_keeps_people() -> None:
    open_log()
    begin()
    client = Client()
    client.post("/sign-in/", {"sign_in": "boss", "password": "lathe and candle"})
    assert client.get("/people/").status_code == 200
    assert Site.objects.get().id == home_site()


def test_there_is_no_second_first_administrator() -> None:
    open_log()
    begin()
    with pytest.raises(CommandError, match="its people already"):
        begin("other")
    assert Person.objects.count() == 1


def test_before_install_it_says_what_to_do() -> None:
    with pytest.raises(CommandError, match="install"):
        begin()


def test_a_short_password_is_refused_and_nothing_is_left(monkeypatch: pytest.MonkeyPatch) -> None:
    open_log()
    monkeypatch.setenv("QRECORDS_PASSWORD", "short")
    with pytest.raises(CommandError, match="10"):
        begin()
    assert not Person.objects.exists()


def test_too_many_wrong_passwords_lock_the_name_with_a_page_that_says_so() -> None:
    open_log()
    begin()
    client = Client()
    answers = [client.post("/sign-in/", {"sign_in": "boss", "password": "no"}) for _ in range(9)]
    assert {answer.status_code for answer in answers} == {401, 429}
    assert "15 minutes" in answers[-1].content.decode()
    assert client.post("/sign-in/", {"sign_in": "boss", "password": "lathe and candle"}).status_code == 429
