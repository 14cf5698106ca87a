"""Every number of the opening form: what is none, or not possible, is asked back beside its field."""

import re
from typing import Any

import pytest
from django.test import Client

from qrecords.mountings.models import Mounting
from tests.cast import make_workshop
from tests.web.fitter_hand import ORDER, SIZES, signed_in

pytestmark = pytest.mark.django_db
ALLOWED = {
    "nominal": "1…2000 mm",
    "outside": "2…3000 mm",
    "width": "1…1000 mm",
    "seat_width": "1…2000 mm",
    "shaft_bore": "0…1900 mm",
    "mass": "0.001…5000 kg",
    "raceway": "1…3000 mm",
    "stabilised": "50…500 °C",
    "limit_lower": "−2000…2000 µm",
    "limit_upper": "−2000…2000 µm",
    "interference_least": "−2000…2000 µm",
    "interference_most": "−2000…2000 µm",
    "clearance_least": "−2000…2000 µm",
    "roundness": "−2000…2000 µm",
    "taper": "−2000…2000 µm",
    "gap": "−2000…2000 µm",
}
NO_NUMBERS = {
    "letters": "sixty",
    "comma and point": "6,0.1",
    "NaN": "NaN",
    "exponent": "1e2",
    "other digits": "٦٠",
    "billion digits": "9" * 20_000,
}
UNKNOWN = {"designation": "XQ 77", "clearance_kind": "", "clearance_group": "N"}
SLIPPED = {
    "outside": ("1100", "11", "2794"),
    "width": ("220", "2.2", "558.8"),
    "seat_width": ("400", "4", "1016"),
    "mass": ("7.8", "0.078", "780"),
}


@pytest.fixture
def fitter() -> Client:
    return signed_in(make_workshop(), "fitter")


def asked_back(client: Client, typed: dict[str, Any], field: str) -> str:
    page = client.post("/mountings/new/", ORDER | SIZES | UNKNOWN | typed)
    text = page.content.decode()
    assert page.status_code == 422 and Mounting.objects.count() == 0
    said = re.search(rf'<p class="asks" id="a-{field}">(.*?)</p>', text, re.S)
    assert said, f"nothing is said at {field}"
    return said[1]


@pytest.mark.parametrize("field", ALLOWED)
@pytest.mark.parametrize("typed", NO_NUMBERS.values(), ids=list(NO_NUMBERS))
def test_what_is_no_number_is_asked_back_with_value_unit_and_range(
    fitter: Client,
    field: str,
    typed: str,
) -> None:
    said = asked_back(fitter, {field: typed}, field)
    assert typed[:40] in said and ALLOWED[field] in said
    assert len(said) < 200


@pytest.mark.parametrize("field", ALLOWED)
def test_a_number_beyond_the_range_is_asked_back(fitter: Client, field: str) -> None:
    for typed in ("-3001", "99999"):
        said = asked_back(fitter, {field: typed}, field)
        assert typed in said and ALLOWED[field] in said


@pytest.mark.parametrize(
    ("field", "typed"), [(field, typed) for field, all_ in SLIPPED.items() for typed in all_]
)
def test_a_size_ten_or_25_4_times_off_is_asked_back_beside_its_field(
    fitter: Client,
    field: str,
    typed: str,
) -> None:
    asked_back(fitter, {"mass": "0.78", "mass_from": "measured", field: typed}, field)


def test_a_comma_is_as_good_as_a_point(fitter: Client) -> None:
    page = fitter.post(
        "/mountings/new/",
        ORDER | SIZES | UNKNOWN | {"width": "22,5", "mass": "0,78", "mass_from": "measured"},
    )
    assert page.status_code == 302


@pytest.mark.parametrize("raceway", ["60", "85", "84,995x"])
def test_an_inner_raceway_lies_between_the_bore_and_the_mean_diameter(fitter: Client, raceway: str) -> None:
    said = asked_back(fitter, {"raceway": raceway, "raceway_from": "drawing"}, "raceway")
    assert raceway in said and "mm" in said


@pytest.mark.parametrize(("field", "typed"), [("mass", "0.78"), ("raceway", "71.5")])
def test_a_mass_and_a_raceway_say_where_they_were_taken_from(fitter: Client, field: str, typed: str) -> None:
    assert "drawing, measured" in asked_back(fitter, {field: typed}, f"{field}_from")
    page = fitter.post(
        "/mountings/new/", ORDER | SIZES | UNKNOWN | {field: typed, f"{field}_from": "drawing"}
    )
    assert page.status_code == 302
    held = Mounting.objects.get().journal.requirements.get().document  # type: ignore[attr-defined]
    assert (
        typed in held.values() and held[f"{field}_from" if field == "mass" else "raceway_from"] == "drawing"
    )


WINDOWS = {
    "limits ten times off": ({"limit_lower": "-600", "limit_upper": "300"}, "limit_upper", "−60…83 µm"),
    "a sound class ten times off": ({"limit_lower": "110", "limit_upper": "300"}, "limit_upper", "−60…83 µm"),
    "an interference ten times off": (
        {"interference_least": "110", "interference_most": "450"},
        "interference_least",
        "−60…98 µm",
    ),
}


@pytest.mark.parametrize(("typed", "field", "usual"), WINDOWS.values(), ids=list(WINDOWS))
def test_limits_far_from_those_of_seats_are_asked_beside_their_field_until_they_say_where_they_are_written(
    fitter: Client, typed: dict[str, str], field: str, usual: str
) -> None:
    assert usual in asked_back(fitter, typed, field)
    page = fitter.post("/mountings/new/", ORDER | SIZES | UNKNOWN | typed).content.decode()
    source = "limits_source" if field == "limit_upper" else "interference_source"
    assert f'name="{source}"' in page, "the page asks for the source it wants"
    taken = fitter.post("/mountings/new/", ORDER | SIZES | UNKNOWN | typed | {source: "note 7"})
    assert taken.status_code == 302
    held = Mounting.objects.get().journal.requirements.get().document  # type: ignore[attr-defined]
    assert held[source] == "note 7"


def test_the_usual_limits_of_a_seat_are_taken_unasked(fitter: Client) -> None:
    usual = {"limit_lower": "11", "limit_upper": "30", "interference_least": "11", "interference_most": "45"}
    assert fitter.post("/mountings/new/", ORDER | SIZES | UNKNOWN | usual).status_code == 302
