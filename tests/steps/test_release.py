"""Released before heat is proved by reference: a hash cannot be named before it exists."""

from dataclasses import replace

import pytest

from qrecords.steps.answers import Absent, State
from qrecords.steps.standard import RULES, STEPS
from qrecords.steps.telephone import answer_code, is_code, readings_code, readings_of
from qrecords.steps.transitions import voided
from tests.steps.casebook import ORDERED, Book, measure, sound
from tests.steps.rulebook import RULED
from tests.steps.ruled import Ruled
from tests.steps.test_every_rule import name

UM = "um from 60 mm"


def measured() -> Book:
    book = Book()
    measure(book)
    book.say("bore", source="from class")
    return book


def released(book: Book) -> tuple[str, str]:
    finding = book.rule("released-before-heat")[0]
    return finding.verdict.value, finding.message.split(".")[1]


def test_heat_that_names_the_standing_release_conforms() -> None:
    book = measured()
    book.tap("heater on", release=book.release().leaf)
    assert released(book)[0] == "conforming"


def test_heat_that_names_no_release_is_not_proven() -> None:
    book = measured()
    book.tap("heater on")
    assert released(book) == ("not proven", "names-none")


def test_heat_that_names_none_though_one_stood_is_not_proven() -> None:
    book = measured()
    book.release()
    book.tap("heater on")
    assert released(book) == ("not proven", "names-none")


def test_heat_before_the_release_does_not_conform() -> None:
    book = measured()
    book.tap("heater on")
    book.release()
    assert released(book) == ("nonconforming", "later")


@pytest.mark.parametrize(
    ("step", "given"),
    [("measurement", {"journal__A__0": ("19", UM)}), ("bore", {"bore__A__0": ("-7", UM)}),
     ("clearance_before", {"g0": ("30", "um")})],
)  # fmt: skip
def test_a_later_journal_bore_or_clearance_capture_voids_the_release(
    step: str, given: dict[str, str]
) -> None:
    book = measured()
    leaf = book.release().leaf
    book.say(step, **given)
    book.tap("heater on", release=leaf)
    assert released(book) == ("not proven", "voided")


def test_a_later_photo_or_preparation_does_not_void_the_release() -> None:
    book = measured()
    leaf = book.release().leaf
    book.say("preparation", wiped="yes")
    book.photograph("seat")
    book.tap("heater on", release=leaf)
    assert released(book)[0] == "conforming"


def test_a_made_up_hash_names_nothing() -> None:
    book = measured()
    book.release()
    book.tap("heater on", release="0" * 64)
    assert released(book) == ("not proven", "names-none")


def test_the_second_heating_names_its_own_release() -> None:
    book = measured()
    book.tap("heater on", release=book.release().leaf)
    book.tap("heater on")
    assert released(book) == ("not proven", "names-none")


def by_telephone(book: Book, **changes: object) -> str:
    """The release as the inspector enters it, and the code he reads back."""
    case = book.case()
    readings = readings_of(case)
    said = {
        "captures": [], "means": "telephone", "code": readings_code(case.mounting, readings),
        "lowest_nm": min(readings.values()), "highest_nm": max(readings.values()),
    }  # fmt: skip
    return answer_code(book.release(**said | changes).leaf)


def test_a_telephone_release_proves_that_these_readings_existed() -> None:
    book = measured()
    book.tap("heater on", code=by_telephone(book))
    assert released(book)[0] == "conforming"


def test_a_telephone_release_on_other_readings_is_not_proven() -> None:
    book = measured()
    code = by_telephone(book)
    book.say("measurement", journal__A__0=("20", UM))
    book.tap("heater on", code=code)
    assert released(book) == ("not proven", "telephone-differs")


def test_a_telephone_release_with_another_highest_reading_is_not_proven() -> None:
    book = measured()
    book.tap("heater on", code=by_telephone(book, highest_nm=60_020_000))
    assert released(book) == ("not proven", "telephone-differs")


def test_a_code_has_a_check_character_that_finds_each_wrong_one() -> None:
    code = answer_code("ab" * 32)
    assert is_code(code)
    wrong = [
        code[:i] + other + code[i + 1 :] for i in range(7) for other in "2346789BCDFG" if other != code[i]
    ]
    assert not any(is_code(text) for text in wrong)


def test_the_cold_check_released_after_it_was_covered_does_not_conform() -> None:
    book = measured()
    book.say("protection", covered="yes")
    assert book.rule("cold-released")[0].verdict == "not proven"
    book.release("cold")
    assert book.rule("cold-released")[0].verdict == "nonconforming"


def test_a_clearance_felt_again_for_a_second_heating_voids_only_the_release_before_it() -> None:
    book = measured()
    book.say("clearance_before", g0=("30", "um"))
    first = book.release().leaf
    book.tap("heater on", release=first)
    book.say("clearance_before", g0=("29", "um"))
    again = book.release().leaf
    for leaf, message in ((first, "voided"), (again, "conforming")):
        heated = Book(lines=list(book.lines))
        heated.tap("heater on", release=leaf)
        assert heated.rule("released-before-heat")[0].message == f"released-before-heat.{message}"


def test_a_clearance_that_was_changed_after_the_only_heating_voids_its_release() -> None:
    book = measured()
    book.say("clearance_before", g0=("30", "um"))
    book.tap("heater on", release=book.release().leaf)
    book.say("clearance_before", g0=("29", "um"))
    assert book.rule("released-before-heat")[0].message == "released-before-heat.voided"


OF_A_HOLD = [ruled for ruled in RULED if RULES[ruled.rule].hold and ruled.fields]


def test_every_rule_of_a_hold_judges_answers_of_the_work_but_the_inspectors_own_reading() -> None:
    of_hold = {rule.id for rule in RULES.values() if rule.hold}
    assert of_hold - {ruled.rule for ruled in OF_A_HOLD} == {"own-reading"}


@pytest.mark.parametrize("ruled", OF_A_HOLD, ids=name)
def test_a_release_names_the_captures_of_every_field_that_a_rule_of_its_hold_judges(ruled: Ruled) -> None:
    case, hold = ruled.told(Absent(State.NOT_DONE, "asked")).case(), RULES[ruled.rule].hold
    told = [case.said(step, key) for step, key in ruled.fields]
    assert all(each and each.entry in case.standing_captures(hold) for each in told)


@pytest.mark.parametrize(
    ("step", "changed"), [("identification", {"marking": "6212"}), ("preparation", {"edge_burrs": "left"})]
)
def test_a_marking_or_a_burr_told_anew_after_the_release_voids_it(step: str, changed: dict[str, str]) -> None:
    book = sound()
    assert not voided(book.case(), book.case().releases[0])
    book.say(step, **changed)
    assert voided(book.case(), book.case().releases[0])


@pytest.mark.parametrize("field", ["serial", "lot", "date_code"])
def test_a_ring_read_after_the_release_that_is_not_the_ordered_one_voids_it(field: str) -> None:
    book = sound(**{f"identification___{field}": None})
    book.say("identification", **{field: ORDERED[field]})
    assert not voided(book.case(), book.case().releases[0]), "as ordered: it says nothing against the release"
    book.say("identification", **{field: "other 9999"})
    assert voided(book.case(), book.case().releases[0])


def test_another_marking_read_by_a_second_inspector_after_the_release_voids_it() -> None:
    book = sound()
    book.say("identification", author="second inspector", check=True, marking="6212")
    assert voided(book.case(), book.case().releases[0])


ON_THE_RING = {("identification", key) for key in ("serial", "lot", "date_code")}
"""Void a release by what they say and not by being said."""
OF_THE_HEAT = ("heating",)
"""What the cold check rests on of the heat stands when it is released, and is judged by rules of its own."""


def one_capture_a_field(book: Book) -> Book:
    """The same record, each answer sent on its own."""
    lines = []
    for line in book.lines:
        body = line.payload["body"]
        if line.kind != "capture":
            lines.append(line)
            continue
        for key, answer in body["said"]["fields"].items():
            said = {**body["said"], "fields": {key: answer}}
            alone = {**line.payload, "body": {**body, "said": said}}
            lines.append(replace(line, id=f"{line.id}.{key}", payload=alone))
    return replace(book, lines=lines)


def test_a_release_names_every_capture_that_a_finding_of_its_hold_rests_on() -> None:
    case = one_capture_a_field(sound()).case()
    said = {a.entry: (step, a.key) for step, given in case.answers.items() for a in given.values()}
    of_the_heat = {a.entry for step in OF_THE_HEAT for a in case.answers[step].values()}
    ruled = [rule for step in STEPS.values() for rule in step.rules if rule.hold]
    rests = {(rule.hold, e) for rule in ruled for f in rule.findings(case) for e in f.inputs if e in said}
    uncovered = {
        (hold, said[entry])
        for hold, entry in rests
        if entry not in case.standing_captures(hold) | of_the_heat and said[entry] not in ON_THE_RING
    }
    assert len(rests) > 30 and uncovered == set()
