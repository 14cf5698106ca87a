"""The document of a procedure: its faults named by place, its file, and two versions compared."""

import json
from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.steps.compared import changes, compared
from qrecords.steps.errors import DocumentError
from qrecords.steps.interchange.faults import CaseFaultsError
from qrecords.steps.new_procedure import oddities, read_new_procedure
from qrecords.steps.points import HEAT, POINT_KINDS, SIGN_OFF, WITNESS
from qrecords.steps.procedure import STANDARD, procedure_digest, read_procedure
from qrecords.steps.procedure_file import as_file, read_file

POINT: Mapping[str, Any] = {
    "id": "class-visit", "kind": "witness", "title": "Surveyor sees the fit", "party": "class surveyor",
    "wording": "Surveyor to be given 48 h notice of fit-up.", "covers": ["measurement.journal", "bore"],
    "notice_min": 2880,
}  # fmt: skip


def point(**changes: Any) -> dict[str, Any]:
    return {**POINT, **changes}


def with_points(*points: Mapping[str, Any], **changes: Any) -> dict[str, Any]:
    return {**STANDARD, "points": [dict(each) for each in points], **changes}


def faults(document: Mapping[str, Any]) -> list[str]:
    """As a file of it is refused: place and what stands behind it."""
    with pytest.raises(CaseFaultsError) as refused:
        read_file(as_file(document).encode())
    return [str(fault) for fault in refused.value.faults]


def test_the_standard_procedure_has_no_fault_and_no_point() -> None:
    assert list(oddities(STANDARD)) == []
    assert read_new_procedure(STANDARD).points == ()
    assert read_procedure(STANDARD).holds == ("fit", "cold")


def test_a_point_is_read_with_the_contracts_own_wording_what_it_covers_and_the_notice_time() -> None:
    procedure = read_new_procedure(with_points(POINT))
    (read,) = procedure.points
    assert (read.kind, read.party, read.notice_min) == (WITNESS, "class surveyor", 2880)
    assert read.wording == "Surveyor to be given 48 h notice of fit-up."
    assert (read.steps, read.of_step("measurement"), read.of_step("bore"), read.of_step("seating")) == (
        ("measurement", "bore"),
        frozenset({"journal"}),
        frozenset(),
        None,
    )
    assert procedure.point("class-visit") is read
    assert procedure.holds == ("fit", "cold")


def test_a_hold_of_its_own_stands_after_the_built_in_ones() -> None:
    identity = point(
        id="identity", kind="hold", covers=["identification"], before="preparation", notice_min=0
    )
    assert read_new_procedure(with_points(identity)).holds == ("fit", "cold", "identity")


WRONG: dict[str, tuple[dict[str, Any], str]] = {
    "a name of a built-in hold": (point(id="fit"), "/points/0/id: 'fit' is the name of another point"),
    "a name with a space": (
        point(id="class visit"),
        "/points/0/id: 'class visit': allowed: a name of lower-case letters, digits and hyphens, as "
        "class-visit",
    ),
    "a kind nobody knows": (
        point(kind="witnes"),
        "/points/0/kind: 'witnes': is not known here; meant witness?; allowed: hold, witness, review, "
        "surveillance",
    ),
    "a field nobody knows": (
        point(covers=["bore.bor"]),
        "/points/0/covers/0: 'bore.bor' is no field; allowed: ",
    ),
    "a step that is not worked": (
        point(covers=["coating"]),
        "/points/0/covers/0: 'coating' is of no step of it; allowed: identification, ",
    ),
    "nothing covered": (point(covers=[]), "/points/0/covers: 0 of them: allowed: 1 to 40"),
    "nobody concerned": (point(party=" "), "/points/0/party: not given; whom it concerns"),
    "a notice of a year": (
        point(notice_min=525_600),
        "/points/0/notice_min: 525600 min: allowed: 0…43200 min",
    ),
    "a notice of a review": (
        point(kind="review"),
        "/points/0/notice_min: only a witness point has a notice time; allowed: 0",
    ),
    "a hold before itself": (
        point(kind="hold", notice_min=0, before="bore"),
        "/points/0/before: 'bore' is covered by it: nothing waits for itself",
    ),
}


@pytest.mark.parametrize(("wrong", "said"), WRONG.values(), ids=list(WRONG))
def test_what_is_wrong_with_a_point_is_named_by_its_place(wrong: dict[str, Any], said: str) -> None:
    (fault,) = faults(with_points(wrong))
    assert fault.startswith(said)


def test_every_fault_of_a_file_is_told_at_once() -> None:
    limits = {**STANDARD["limits"], "house_cap_c": 300, "blade_nm": 1}
    document = {**STANDARD, "limits": limits, "optional": ["running.noise_level"], "planes": ["A", "A"]}
    places = [fault.partition(":")[0] for fault in faults(document)]
    assert places == ["/limits/house_cap_c", "/limits/blade_nm", "/planes/1", "/optional/0"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "the document: nothing: allowed: a case document in JSON"),
        ("[]", "the document: no procedure; allowed: an object"),
        ('{"form": "procedure/2"}', "/form: procedure/2: is another form of file; allowed: procedure/1"),
        ('{"name": "A", "name": "B"}', "/name: stands twice in one object"),
        ("{\n  name}", "the document: line 2, column 3: not JSON"),
    ],
)
def test_what_is_no_file_of_a_procedure_says_so(text: str, said: str) -> None:
    with pytest.raises(CaseFaultsError) as refused:
        read_file(text.encode())
    assert str(refused.value).startswith(said)


def test_a_member_nobody_knows_is_asked_back_by_its_place() -> None:
    (fault,) = faults({**STANDARD, "limits": {**STANDARD["limits"], "house_kap_c": 120}})
    assert fault.startswith("/limits/house_kap_c: is not known here; meant house_cap_c?")


def test_a_file_of_a_megabyte_is_not_read() -> None:
    with pytest.raises(CaseFaultsError, match="up to 200,000 bytes"):
        read_file(b" " * 1_000_000)


def test_simple_acceptance_says_who_agreed_to_it() -> None:
    rule = {"edition": "ISO 14253-1:2017", "guard_factor": "0"}
    with pytest.raises(DocumentError) as refused:
        read_new_procedure({**STANDARD, "decision_rule": rule})
    assert (refused.value.field, "agreed with the customer" in refused.value.why) == ("agreed_with", True)
    agreed = {**STANDARD, "decision_rule": {**rule, "agreed_with": "Ostrey tram depot, letter of 2 March"}}
    assert read_new_procedure(agreed).agreed_with == "Ostrey tram depot, letter of 2 March"
    # One that was in force before anybody was asked is read as it is.
    assert read_procedure({**STANDARD, "decision_rule": rule}).agreed_with == ""


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=40)
NAMES = st.from_regex(r"\A[a-z][a-z0-9-]{0,15}\Z").filter(lambda name: name not in ("fit", "cold"))
FIELDS = st.sampled_from(["identification.lot", "measurement.air", "heating.peak_outer", "protection.wrap"])


@st.composite
def documents(draw: st.DrawFn) -> dict[str, Any]:
    """Procedures as people may draft them: any words, any points, limits within their bounds."""
    points = [
        {
            "id": id,
            "kind": kind,
            "title": draw(WORDS),
            "party": draw(WORDS.filter(lambda text: text.strip())),
            "wording": draw(WORDS),
            "covers": draw(
                st.lists(st.sampled_from(["bore", "measurement.journal"]), min_size=1, max_size=2)
            ),
            **({"before": draw(st.sampled_from([HEAT, SIGN_OFF, "seating"]))} if kind == "hold" else {}),
            **({"notice_min": draw(st.integers(0, 43_200))} if kind == "witness" else {}),
        }
        for id in draw(st.lists(NAMES, max_size=3, unique=True))
        for kind in [draw(st.sampled_from(POINT_KINDS))]
    ]
    cap = draw(st.integers(60, 120))
    document = {
        **STANDARD,
        "name": draw(WORDS.filter(lambda text: text.strip() and text.isprintable())),
        "limits": {**STANDARD["limits"], "house_cap_c": cap, "greased_cap_c": draw(st.integers(40, cap))},
        "optional": draw(st.lists(FIELDS, unique=True)),
        "directions": draw(
            st.lists(st.sampled_from(["0", "45", "60", "90", "120"]), min_size=1, unique=True)
        ),
    }
    return {**document, "points": points} if points else document


@given(documents())
def test_what_is_exported_and_imported_is_the_same_document(document: dict[str, Any]) -> None:
    text = as_file(document)
    again = read_file(text.encode())
    assert procedure_digest(again) == procedure_digest(document)
    assert as_file(again) == text
    assert not changes(document, again)


@given(documents(), documents())
def test_a_comparison_names_exactly_what_differs(old: dict[str, Any], new: dict[str, Any]) -> None:
    lines = compared(old, new)
    assert [(each.place, each.new, each.old) for each in changes(new, old)] == [
        (each.place, each.old, each.new)
        for each in sorted(changes(old, new), key=lambda line: _place_in(new, old, line.place))
    ]
    first_same = next((nth for nth, line in enumerate(lines) if not line.changed), len(lines))
    assert not any(line.changed for line in lines[first_same:])


def _place_in(old: Mapping[str, Any], new: Mapping[str, Any], place: tuple[str, ...]) -> int:
    return [line.place for line in changes(old, new)].index(place)


def test_the_file_is_readable_one_thing_a_line_and_always_in_one_order() -> None:
    lines = as_file(with_points(POINT)).splitlines()
    assert lines[:4] == ["{", '  "form": "procedure/1",', '  "name": "HM-1",', '  "revision": "A",']
    shuffled = json.loads(json.dumps(with_points(POINT), sort_keys=True))
    assert as_file(shuffled).splitlines() == lines
    assert '      "wording": "Surveyor to be given 48 h notice of fit-up.",' in lines


def test_a_comparison_stands_in_one_order_however_a_database_keeps_the_members() -> None:
    new = {**STANDARD, "revision": "B", "limits": {**STANDARD["limits"], "house_cap_c": 110}}
    shuffled = json.loads(json.dumps(new, sort_keys=True))
    assert compared(STANDARD, shuffled) == compared(STANDARD, new)


def test_two_versions_are_compared_field_by_field_what_changed_first() -> None:
    new = with_points(
        point(notice_min=1440),
        revision="B",
        optional=[each for each in STANDARD["optional"] if each != "protection.wrap"],
        limits={**STANDARD["limits"], "house_cap_c": 110},
    )
    lines = compared(with_points(POINT), new)
    assert [(line.place, line.old, line.new) for line in lines if line.changed] == [
        (("revision",), "A", "B"),
        (("limits", "house_cap_c"), "120", "110"),
        (("points", "class-visit", "notice_min"), "2880", "1440"),
        (("optional", "protection.wrap"), "yes", None),
    ]
    assert len(lines) > 40
