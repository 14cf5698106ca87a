"""Taking in a sheet at its page and at the API: look first, then exactly that file."""

import base64
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.workshop.models import Bearing
from tests.api.caller import Caller
from tests.cast import PASSWORD, Workshop, make_workshop
from tests.workshop.sheets import BEARINGS, PEOPLE

pytestmark = pytest.mark.django_db


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


def desk(shop: Workshop, who: str) -> Client:
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def looked(client: Client, page: str, text: str) -> tuple[str, dict[str, str]]:
    """The page with the fates, and the form that takes the file in."""
    answer = client.post(reverse(page), {"sheet": SimpleUploadedFile("s.csv", text.encode(), "text/csv")})
    assert answer.status_code == 200
    html = answer.content.decode()
    form = html.split('id="take-in"', 1)[1].split("</form>", 1)[0]
    return html, dict(re.findall(r'name="(entry_id|site|sha256|content)" value="([^"]*)"', form))


def test_a_sheet_is_looked_at_and_then_taken_in_once(shop: Workshop) -> None:
    client = desk(shop, "fitter")
    assert reverse("import-bearings") in client.get(reverse("bearings")).content.decode()
    html, form = looked(client, "import-bearings", BEARINGS)
    assert "Nothing is written yet" in html and not Bearing.objects.exists()
    assert client.post(reverse("import-bearings"), form).status_code == 200
    again = client.post(reverse("import-bearings"), form)
    assert "same as here" in again.content.decode()
    assert Bearing.objects.count() == 3 and Entry.objects.filter(kind="import").count() == 1


def test_a_file_that_changed_meanwhile_is_looked_at_again(shop: Workshop) -> None:
    client = desk(shop, "fitter")
    _, form = looked(client, "import-bearings", BEARINGS)
    other = base64.b64encode((BEARINGS + "6214 C4,,,,\n").encode()).decode()
    answer = client.post(reverse("import-bearings"), form | {"content": other})
    html = answer.content.decode()
    assert answer.status_code == 409 and "6214 C4" in html and "take in what is new" in html
    assert not Bearing.objects.exists()


def test_what_is_wrong_is_said_at_its_row(shop: Workshop) -> None:
    html, _ = looked(desk(shop, "fitter"), "import-bearings", "designation,lot\n,L-1\n6212 C3,L-1\n")
    assert "designation, empty: allowed 1 to 60 characters in one line" in html
    page = desk(shop, "fitter")
    answer = page.post(reverse("import-bearings"), {"sheet": SimpleUploadedFile("s.csv", b"shoe\n9\n")})
    assert answer.status_code == 422 and "unknown column, line 1: “shoe”" in answer.content.decode()
    assert page.post(reverse("import-bearings"), {}).status_code == 422
    assert page.post(reverse("import-bearings"), {"content": "%%", "sha256": ""}).status_code == 422


def test_cells_are_shown_as_text(shop: Workshop) -> None:
    html, _ = looked(desk(shop, "fitter"), "import-bearings", "designation,lot\n<b>x</b>,=1+1\n")
    assert "&lt;b&gt;x&lt;/b&gt; · =1+1" in html and "<b>x</b>" not in html


def test_people_are_taken_in_with_the_own_password(shop: Workshop) -> None:
    client = desk(shop, "administrator")
    _, form = looked(client, "import-people", PEOPLE)
    refused = client.post(reverse("import-people"), form)
    assert refused.status_code == 403 and "password" in refused.content.decode()
    assert client.post(reverse("import-people"), form | {"password": PASSWORD}).status_code == 200
    assert "O. Brandreth" in client.get(reverse("people")).content.decode()


def test_the_api_looks_and_takes_in_the_same(shop: Workshop) -> None:
    caller = Caller(shop, "fitter", desk(shop, "fitter"))
    content = base64.b64encode(BEARINGS.encode()).decode()
    told = caller.post("imports/bearings/dry-run/", content=content)
    assert told.status == 200 and told.document["counts"] == {"new": 3} and not Bearing.objects.exists()
    body = {"entry_id": new_id(), "content": content, "sha256": told.document["sha256"]}
    taken = caller.post("imports/bearings/", **body)
    assert taken.document["counts"] == {"written": 3}
    assert caller.post("imports/bearings/", **body).document["counts"] == {"same as here": 3}
    assert caller.post("imports/bearings/", **body | {"sha256": "0" * 64}).document["code"] == "file-changed"
    assert caller.post("imports/bearings/dry-run/", content="%").status == 400
    assert caller.post("imports/bearings/dry-run/", content=content, site=str(new_id())).status == 403
    assert Bearing.objects.count() == 3
