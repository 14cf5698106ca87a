"""Fields that a procedure asks beside: silent where it does not, and asked like any other where it does."""

from qrecords.steps.answers import Absent, State
from qrecords.steps.procedure import STANDARD, read_procedure
from qrecords.steps.standard import STEPS, rules_of
from tests.steps.casebook import asking, sound

SOUND = "running.sound"


def test_an_old_document_asks_nothing_beside() -> None:
    assert "also" not in STANDARD
    assert read_procedure(STANDARD).also == frozenset()


def test_a_step_asks_only_what_its_procedure_wants() -> None:
    running = STEPS["running"]
    assert [field.id for field in running.asked(read_procedure(STANDARD))] == ["turns"]
    assert [field.id for field in running.asked(read_procedure(asking(SOUND)))] == ["turns", "sound"]


def test_a_rule_over_what_is_not_asked_is_silent_and_the_fact_stays() -> None:
    book = sound(running___sound="grinding")
    assert book.flags() == {}
    assert book.case().value_of("running", "sound") is not None


def test_what_is_asked_is_missing_until_it_is_said() -> None:
    book = sound(procedure=asking(SOUND), running___sound=None)
    assert book.flags() == {"runs-quietly": "missing"}
    assert book.findings()["runs-quietly"].facts["field"] == SOUND
    book.say("running", sound="quiet")
    assert book.flags() == {}


def test_optional_and_not_applicable_hold_for_it_as_for_every_field() -> None:
    may_lack = {**asking(SOUND), "optional": [*STANDARD["optional"], SOUND]}
    assert sound(procedure=may_lack, running___sound=None).flags() == {}
    never = {**asking(SOUND), "not_applicable": [*STANDARD["not_applicable"], SOUND]}
    without = Absent(State.NOT_APPLICABLE, "a ring alone makes no sound")
    assert sound(procedure=never, running___sound=without).flags() == {}
    assert sound(procedure=asking(SOUND), running___sound=without).flags() == {"runs-quietly": "missing"}


def test_every_rule_over_a_field_names_one_that_a_procedure_can_switch_on() -> None:
    switched = {name for step in STEPS.values() for name in step.switched()}
    everything = rules_of(read_procedure(asking(*switched)))
    assert {rule.over for rule in everything if rule.over} <= switched
    assert set(everything) > set(rules_of(read_procedure(STANDARD)))
