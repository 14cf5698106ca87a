"""Ways round the rules that are closed: each was once open."""

from typing import Any

import pytest

from qrecords.steps.answers import Absent, State
from qrecords.steps.errors import UnknownFieldError
from qrecords.steps.standard import RULES, STEPS
from qrecords.steps.transitions import (
    refuse_decision,
    refuse_release,
    refuse_sign,
    undecided,
    worked_since_ready,
)
from tests.steps.casebook import Book, journal_fields, measure, sound
from tests.steps.test_measurement import _micrometer

UM = "um from 60 mm"


def measured() -> Book:
    book = Book()
    measure(book)
    book.say("bore", source="from class")
    return book


def test_a_later_heating_with_its_release_does_not_cover_an_earlier_one_without() -> None:
    book = measured()
    book.tap("heater on")
    book.tap("home")
    book.tap("let go", after_s=1)
    book.say("heating", probe="inner ring", peak=("95", "°C"))
    book.tap("heater on", release=book.release().leaf)
    assert book.rule("released-before-heat")[0].verdict == "nonconforming"
    assert book.rule("pressed-home")[0].verdict == "not proven"


def test_who_released_and_then_worked_was_not_independent() -> None:
    book = measured()
    leaf = book.release().leaf
    book.say("preparation", author="inspector", wiped="yes")
    book.tap("heater on", release=leaf)
    assert book.rule("released-before-heat")[0].message == "released-before-heat.own-work"


def test_a_decision_of_who_then_works_settles_nothing() -> None:
    book = sound(running___turns="rough")
    finding = book.rule("turns-freely")[0]
    said = {"decision": "concession", "findings": [finding.digest], "conditions": ""}
    book.enter("decision", said, {"closes": ""}, author="engineer", reason="heard")
    assert undecided(book.case(), [finding]) == []
    book.say("preparation", author="engineer", wiped="no", prev="e1")
    assert undecided(book.case(), [finding]) == [finding]


def test_what_is_decided_after_a_concession_takes_its_place() -> None:
    book = sound(running___turns="rough")
    finding = book.rule("turns-freely")[0]
    for kind, author in (("concession", "engineer"), ("rework", "inspector")):
        said = {"decision": kind, "findings": [finding.digest], "conditions": ""}
        book.enter("decision", said, {"closes": ""}, author=author, reason="heard")
    assert undecided(book.case(), [finding]) == [finding]


def test_the_fitters_own_second_look_is_not_the_inspectors() -> None:
    book = Book()
    book.say("identification", marking="6212 C3")
    book.say("identification", author="fitter", check=True, marking="6212 C3")
    assert book.rule("own-reading")[0].verdict == "missing"


def test_who_checked_a_reading_grants_no_concession_that_rests_on_his_check() -> None:
    book = Book()
    book.say("identification", author="engineer", check=True, marking="6212")
    refusal = refuse_decision(book.case(), "engineer", "concession", book.rule("own-reading"))
    assert refusal is not None
    assert refusal.code == "own-reading"


@pytest.mark.parametrize(
    ("rule", "change"),
    [
        ("shoulder-gap", {"shoulder_gap___gap__180": ("0.3", "mm")}),
        ("fillet-clears", {"preparation___fillet": "too large"}),
        ("turns-freely", {"running___turns": "rough"}),
        ("peak-temperature", {"heating___peak": Absent(State.NOT_DONE, "no probe")}),
    ],
)
def test_an_inspector_alone_accepts_nothing_that_does_not_conform(rule: str, change: dict[str, Any]) -> None:
    book = sound(**change)
    finding = book.rule(rule)[0]
    assert "accept" not in RULES[rule].decisions(finding, book.case())


@pytest.mark.parametrize(
    ("rule", "change", "may"),
    [
        (
            "package-intact",
            {"identification___package": Absent(State.NOT_POSSIBLE, "box gone")},
            "concession",
        ),
        ("slid-on", {"heating___peak": Absent(State.NOT_DONE, "no probe")}, "concession"),
        ("slid-on", {"heating___probe": "outer ring"}, "accept"),
    ],
)
def test_what_only_asks_to_be_looked_at_is_decided_where_it_keeps_the_record_from_being_signed(
    rule: str, change: dict[str, Any], may: str
) -> None:
    book = sound(**change)
    (finding,) = book.rule(rule)
    assert undecided(book.case(), [finding]) == [finding]
    assert may in RULES[rule].decisions(finding, book.case())
    assert "looked" not in RULES[rule].decisions(finding, book.case())


def test_measuring_a_close_point_twice_more_helps_that_point() -> None:
    book = Book(gear={"micrometer": _micrometer(expanded_u=400, repeatability=1500, resolution=100)})
    measure(book, **journal_fields({"A": ("13.5", "18", "18")}, UM))
    assert book.rule("journal-size")[0].verdict == "not proven"
    book.say("measurement", journal__A__0__2=("13.5", UM), journal__A__0__3=("13.5", UM))
    assert book.rule("journal-size")[0].verdict == "conforming"


def test_a_bore_measured_warm_proves_nothing() -> None:
    book = Book()
    measure(book, bearing=("27", "°C"))
    book.say("bore", source="measured", gauge="bore_gauge", bore__A__0=("-6", UM))
    assert book.rule("bore-in-class")[0].verdict == "not proven"


def test_an_uncalibrated_micrometer_proves_neither_fit_nor_forecast() -> None:
    book = Book(gear={"micrometer": _micrometer(expanded_u=None)})
    book.requirement["interference_um"] = ["13", "48"]
    measure(book)
    book.say("bore", source="measured", gauge="bore_gauge", bore__A__0=("-6", UM))
    book.say("clearance_before", g0=("30", "um"))
    assert book.rule("interference")[0].verdict == "not proven"
    assert book.rule("clearance-forecast")[0].verdict == "not proven"


def test_a_bore_above_zero_that_was_looked_at_does_not_conform() -> None:
    book = Book()
    measure(book)
    book.say("bore", source="measured", gauge="bore_gauge", bore__A__0=("30", UM))
    query = book.rule("bore-in-class")[0]
    assert query.verdict == "query"
    book.enter(
        "looked", {"key": query.key, "digest": query.digest}, author="inspector", reason="sign is right"
    )
    assert book.rule("bore-in-class")[0].verdict == "nonconforming"


def test_clearance_found_too_close_to_the_least_is_not_proven() -> None:
    book = sound(clearance_after___g1=("16", "um"))
    book.requirement["clearance_min_um"] = "15"
    assert book.rule("clearance-found")[0].verdict == "not proven"


def test_a_second_heating_in_an_oven_needs_no_field() -> None:
    oven: dict[str, Any] = {"id": "heater", "kind": "heater", "mark": "OV-1", "heater_kind": "oven"}
    book = Book(gear={"heater": oven})
    book.say("heating", heater="heater")
    book.tap("heater on")
    book.look_elsewhere(earlier_heatings=1)
    assert book.rule("heatings")[0].verdict == "conforming"


def test_a_gap_felt_warm_is_not_proven_even_with_a_blade_in() -> None:
    book = sound(shoulder_gap___gap__180=("0.05", "mm"), shoulder_gap___ring_temp=("40", "°C"))
    assert book.rule("shoulder-gap")[0].verdict == "not proven"


def test_the_least_competence_of_a_step_counts() -> None:
    book = Book(competence="lapsed")
    measure(book)
    book.competence = "held"
    first = book.case().said("measurement", "air")
    book.say("measurement", author="colleague", prev=first.entry, air=("21", "°C"))  # type: ignore[union-attr]
    assert book.findings()["competence, measurement"].verdict == "nonconforming"


def test_findings_with_other_facts_have_other_digests() -> None:
    def heated(times: int) -> str:
        book = Book()
        for _ in range(times):
            book.tap("heater on")
        book.look_elsewhere()
        return book.rule("heatings")[0].digest

    assert heated(3) != heated(4)


@pytest.mark.parametrize(
    ("step", "key"),
    [("measurement", "journal.A.00"), ("measurement", "journal.A.180"), ("measurement", "journal.a.0"),
     ("shoulder_gap", "gap.090"), ("shoulder_gap", "gap.360")],
)  # fmt: skip
def test_a_place_has_one_spelling(step: str, key: str) -> None:
    with pytest.raises(UnknownFieldError):
        STEPS[step].field(key)


def test_work_after_ready_is_not_signed_under_the_old_signature() -> None:
    book = sound()
    book.enter("signature", {"meaning": "performed"})
    book.say("running", prev=book.case().said("running", "turns").entry, turns="heavy with grease")  # type: ignore[union-attr]
    refusal = refuse_sign(book.case(), "inspector", book.findings().values())
    assert refusal is not None
    assert refusal.code == "worked-since-ready"


UNREAD_WORK = [
    ("capture", {"step": "seating", "role": "work", "fields": {"dropped": {"newer": "yes"}}}),
    ("tap", {}),
    ("unread", {"role": "work", "sent": {"kind": "capture", "step": "cryogenics"}}),
]


@pytest.mark.parametrize(("kind", "said"), UNREAD_WORK)
def test_work_after_ready_that_nobody_can_read_is_not_signed_either(kind: str, said: dict[str, Any]) -> None:
    book = sound()
    book.enter("signature", {"meaning": "performed"})
    late = book.enter(kind, said, author="second fitter")
    case = book.case()
    refusal = refuse_sign(case, "inspector", book.findings().values())
    assert refusal is not None and refusal.code == "worked-since-ready"
    assert case.unread == (late.id,) and "second fitter" in case.worked_by


def test_work_after_ready_counts_also_where_a_check_took_its_place() -> None:
    book = sound()
    book.enter("signature", {"meaning": "performed"})
    said = book.case().said("identification", "marking")
    late = book.say("identification", prev=said.entry, marking="6212")  # type: ignore[union-attr]
    book.say("identification", author="inspector", check=True, prev=late.id, marking="6212 C3")
    assert worked_since_ready(book.case())
    refusal = refuse_sign(book.case(), "second inspector", ())
    assert refusal is not None and refusal.code == "worked-since-ready"


@pytest.mark.parametrize("kind", ["capture", "unread"])
def test_a_check_after_ready_that_nobody_can_read_is_no_work(kind: str) -> None:
    book = sound()
    book.enter("signature", {"meaning": "performed"})
    said = {"step": "seating", "role": "check", "fields": {"dropped": {"newer": "yes"}}, "sent": {}}
    book.enter(kind, said, author="inspector")
    assert len(book.case().unread) == 1
    assert refuse_sign(book.case(), "inspector", book.findings().values()) is None


def test_the_same_photo_twice_elsewhere_is_one_query() -> None:
    book = sound()
    photo = book.case().photos[0]
    file = {"shot": photo.shot, "sha256": photo.sha256, "size": 1, "media": "image/jpeg"}
    book.enter("attachment", {"shot": photo.shot, "from": "camera"}, files=(file,))
    book.look_elsewhere(photos_seen_before=[photo.sha256])
    assert len(book.rule("photo-used-before")) == 1


@pytest.mark.parametrize("where", ["peak_outer", "at_seat", "cross_check"])
def test_heat_anywhere_over_the_ceiling_does_not_conform(where: str) -> None:
    book = sound(heating___peak=("110", "°C"), **{f"heating___{where}": ("149", "°C")})
    finding = book.rule("peak-temperature")[0]
    assert (finding.verdict, finding.value) == ("nonconforming", 149_000)


def test_a_probe_beside_the_inner_ring_over_the_ceiling_is_not_the_inspectors_to_accept() -> None:
    book = sound(heating___probe="outer ring", heating___peak=("125", "°C"))
    finding = book.rule("peak-temperature")[0]
    assert (finding.verdict, finding.message) == ("nonconforming", "peak-temperature.off-inner-ring")
    assert RULES["peak-temperature"].decisions(finding, book.case()) == ("concession", "scrap")


def test_an_outer_ring_over_the_ceiling_counts_though_no_peak_was_read() -> None:
    book = sound(heating___peak=None, heating___peak_outer=("149", "°C"))
    assert book.rule("peak-temperature")[0].verdict == "nonconforming"


def test_an_outer_ring_below_the_ceiling_proves_no_peak() -> None:
    assert sound(heating___peak=None).rule("peak-temperature")[0].verdict == "missing"


def test_a_gauge_off_its_master_before_it_measured_stops_heat() -> None:
    book = Book()
    measure(book, master_before=("9", "um"))
    assert book.rule("journal-size")[0].message == "journal-size.master-before-off"
    assert book.rule("journal-taper")[0].verdict == "not proven"
    of_fit = [f for f in book.findings().values() if RULES[f.rule].hold == "fit"]
    refusal = refuse_release(book.case(), "inspector", "fit", of_fit)
    assert refusal is not None
    assert {"master check", "journal size"} <= set(refusal.facts["findings"])


@pytest.mark.parametrize("read", ["6212 C3", "6212", None])
def test_before_heat_the_inspector_reads_the_ring_himself_and_finds_it_as_drawn(read: str | None) -> None:
    book = Book()
    if read:
        book.say("identification", author="inspector", check=True, marking=read)
    refusal = refuse_release(book.case(), "inspector", "fit", book.rule("own-reading"))
    codes = {"6212 C3": "", "6212": "open-findings", None: "own-reading-missing"}
    assert (refusal.code if refusal else "") == codes[read]


def test_a_marking_read_by_who_worked_on_it_is_no_own_reading() -> None:
    book = Book()
    book.say("preparation", author="inspector", wiped="yes")
    book.say("identification", author="inspector", check=True, marking="6212 C3")
    refusal = refuse_release(book.case(), "another inspector", "fit", book.rule("own-reading"))
    assert refusal is not None and refusal.code == "own-reading-missing"


@pytest.mark.parametrize("answered", [False, True])
def test_a_bore_above_its_class_is_looked_at_before_heat(answered: bool) -> None:
    book = Book()
    measure(book)
    book.say("bore", source="measured", gauge="bore_gauge", bore__A__0=("40", UM))
    if answered:
        book.say("bore", sign_checked="yes")
    (finding,) = book.rule("bore-in-class")
    assert finding.verdict == ("nonconforming" if answered else "query")
    assert refuse_release(book.case(), "inspector", "fit", [finding]) is not None
    said = {"decision": "concession", "findings": [finding.digest], "conditions": ""}
    book.enter("decision", said, {"closes": ""}, author="engineer", reason="loose, glued")
    refusal = refuse_release(book.case(), "inspector", "fit", book.rule("bore-in-class"))
    assert (refusal is None) == answered
