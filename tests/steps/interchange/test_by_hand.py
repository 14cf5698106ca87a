"""A case written by hand: what may be left out is filled in as the record itself would hold it."""

from typing import Any

import pytest

from qrecords.steps.interchange.reading import read_case
from tests.steps.interchange.documents import as_bytes, changed, example, judged

SHORT, WHOLE = example("short"), example("whole")
FIELDS = "/entries/1/body/said/fields"


def findings(document: Any) -> dict[str, dict[str, Any]]:
    return {finding["characteristic"]: finding for finding in judged(document)["findings"]}


def test_the_whole_example_is_sound_in_every_finding() -> None:
    answer = judged(WHOLE)
    assert [f["characteristic"] for f in answer["findings"] if f["verdict"] != "conforming"] == []
    assert len(answer["findings"]) > 50
    assert (answer["open"], answer["unread"], answer["doubts"], answer["state"]) == ([], [], [], "open")


def test_the_short_example_says_how_hot_the_ring_must_be_without_a_rule_that_judges_it() -> None:
    answer = judged(SHORT)
    assert answer["heating_plan"]["must_reach_c"] == 70
    assert answer["computed"]["interference_most"]["put_in"]
    assert {"pressure", "clearance_forecast", "carry", "pressing", "loss_factor"} <= set(answer["computed"])
    assert answer["measured"]["journal"]["mean_nm"] == 17_111


def test_the_standard_procedure_is_taken_where_none_is_given_and_that_is_told() -> None:
    own = {**SHORT, "procedure": read_case(as_bytes(SHORT)).case.procedure.document}
    one, other = judged(SHORT)["procedure"], judged(own)["procedure"]
    assert (one.pop("given"), other.pop("given")) == (False, True)
    assert one == other


@pytest.mark.parametrize(
    "written",
    [
        "75.019 mm",
        "75,019 mm",
        "19 um from 75 mm",
        "19 µm from 75 mm",
        "2.95350394 in",
        {"typed": "75.019", "unit": "mm"},
        {"typed": "19", "unit": "um from 75 mm"},
        {"typed": "75.019", "unit": "mm", "value": 75_019_000},
    ],
)
def test_a_reading_may_be_written_in_every_way_it_may_be_typed(written: Any) -> None:
    answer = judged(changed(SHORT, f"{FIELDS}/journal.A.0", written))
    point = answer["measured"]["journal"]["points"][0]
    assert (point["plane"], point["direction"], point["deviation_nm"]) == ("A", "0", 19_000)
    assert answer["doubts"] == []


def test_without_an_id_an_entry_is_called_by_its_place_in_the_document() -> None:
    assert findings(SHORT)["one temperature"]["inputs"] == ["/entries/1"]


def test_gear_is_frozen_beside_the_capture_that_names_it() -> None:
    gauge = "/gear/micrometer 4"
    assert (
        findings(changed(SHORT, f"{gauge}/due", "2026-05-03"))["gauge micrometer 4"]["verdict"]
        == "not proven"
    )
    marked = findings(changed(SHORT, f"{gauge}/mark", "M-04"))
    assert marked["gauge M-04"]["verdict"] == "conforming"


def test_a_release_rests_on_what_stood_when_it_was_given() -> None:
    later = [*WHOLE["entries"], changed(WHOLE["entries"][6], "/at_device", "2026-05-04T23:00+02:00")]
    found = findings({**WHOLE, "entries": later})["fit released before heat"]
    assert (found["verdict"], found["message"]) == ("not proven", "released-before-heat.voided")


def test_heat_may_name_its_release_by_the_id_of_the_entry() -> None:
    place = next(n for n, e in enumerate(WHOLE["entries"]) if e.get("id") == "heater on")
    other = changed(WHOLE, f"/entries/{place}/body/said/release", "some other")
    assert findings(WHOLE)["fit released before heat"]["verdict"] == "conforming"
    assert findings(other)["fit released before heat"]["message"] == "released-before-heat.names-none"


def test_a_value_that_is_not_what_was_typed_is_judged_and_doubted() -> None:
    wrong = {"typed": "21", "unit": "°C", "value": 2100}
    answer = judged(changed(SHORT, f"{FIELDS}/shaft", wrong))
    doubt = answer["doubts"][0]
    assert (doubt["at"], doubt["code"], doubt["told"]) == (f"{FIELDS}/shaft/value", "value", "2100")
    assert "21 °C is 21000" in doubt["why"]
    spread = next(f for f in answer["findings"] if f["characteristic"] == "one temperature")
    assert spread["value"] == 18_900


def test_what_looks_like_a_slip_of_the_hand_is_judged_and_doubted() -> None:
    answer = judged(changed(SHORT, f"{FIELDS}/journal.A.0", "75.17 mm"))
    assert [(d["at"], d["code"], d["why"]) for d in answer["doubts"]] == [
        (f"{FIELDS}/journal.A.0", "far", "meant 75.017 mm?")
    ]
    assert next(f for f in answer["findings"] if f["rule"] == "journal-size")["verdict"] == "nonconforming"


def test_what_a_new_drawing_would_be_asked_about_is_doubted() -> None:
    far = changed(SHORT, "/entries/0/body/seen/requirement/outside_mm", "300")
    assert judged(far)["doubts"][0]["at"] == "/entries/0/body/seen/requirement/outside_mm"


def test_a_heaters_log_is_judged_and_worked_out() -> None:
    answer = judged(WHOLE)
    assert {"log-ceiling", "log-as-typed", "log-against-taps"} <= {f["rule"] for f in answer["findings"]}
    assert answer["computed"]["log_1_inner_ring_peak"]["value"] == "90.8"


def test_a_log_that_was_received_and_does_not_stand_in_the_document_is_doubted() -> None:
    (sha256,) = WHOLE["files"]
    answer = judged({**WHOLE, "files": {}})
    assert [(doubt["at"], doubt["code"]) for doubt in answer["doubts"]] == [(f"/files/{sha256}", "file")]
    assert (
        next(f for f in answer["findings"] if f["rule"] == "log-readable")["message"] == "log-readable.lost"
    )


def test_heat_that_names_what_is_no_entry_is_doubted() -> None:
    place = next(n for n, e in enumerate(WHOLE["entries"]) if e.get("id") == "heater on")
    at = f"/entries/{place}/body/said/release"
    assert [doubt["at"] for doubt in judged(changed(WHOLE, at, "fit realeased"))["doubts"]] == [at]


def test_a_row_of_an_own_copy_is_laid_over_and_nobody_confirmed_it_unless_it_was_approved() -> None:
    row = {
        "table": "radial_internal_clearance", "key": ["deep_groove_ball_cyl_bore", "3"],
        "over_mm": "65", "upto_mm": "80", "values": ["26", "51"], "standard": "ISO 5753-1", "edition": "2009",
        "place": "table 1", "copy": "copy 12",
    }  # fmt: skip
    answer = judged({**SHORT, "tables": {"rows": [row]}})
    forecast = next(f for f in answer["findings"] if f["rule"] == "clearance-forecast")
    plain = findings(SHORT)["clearance forecast"]
    assert forecast["value"] == plain["value"] + 500
    assert any("65 to 80 mm" in text for text in forecast["unconfirmed"])
    assert answer["tables"]["own_rows"] == 1
    assert answer["tables"]["digest"] != judged(SHORT)["tables"]["digest"]


def test_tables_other_than_those_a_case_names_are_told() -> None:
    answer = judged({**SHORT, "tables": {"digest": "0" * 64}})
    assert [(doubt["at"], doubt["code"]) for doubt in answer["doubts"]] == [
        ("/tables/digest", "other-tables")
    ]
