"""The table of damages: every place it names exists, every row says where it is from."""

import pytest

from qrecords.steps.damage import BY_ID, DAMAGES, GROUPS, PARTS, UNKNOWN, Damage, fields_of
from qrecords.steps.standard import RULES, STEPS
from qrecords.wording.damage import DAMAGE_WORDS

ASKED = {f"{step.id}.{field.id}" for step in STEPS.values() for field in step.fields}


def exists(place: str) -> bool:
    return place.removeprefix("rule:") in RULES if place.startswith("rule:") else place in ASKED


@pytest.mark.parametrize("damage", DAMAGES, ids=lambda damage: damage.id)
def test_a_row_names_only_what_is_there_and_says_where_it_is_from(damage: Damage) -> None:
    assert [place for place in (*damage.first, *fields_of(damage)) if not exists(place)] == []
    assert damage.suspects and set(damage.suspects) <= set(PARTS)
    assert damage.group in GROUPS and (damage.clause.startswith(damage.group) if damage.group else True)
    assert "from memory" in damage.group_source and damage.source == "common practice, no source"
    assert damage.first and not set(damage.first) & set(fields_of(damage))


def test_every_part_of_the_work_names_only_what_is_there() -> None:
    for part in PARTS.values():
        assert [name for name in part.fields if not exists(name)] == []
        assert [rule for rule in part.rules if rule not in RULES] == []


def test_every_damage_has_its_words_and_every_group_of_the_standard_a_row() -> None:
    assert set(DAMAGE_WORDS) == {*BY_ID, UNKNOWN}
    assert {damage.group for damage in DAMAGES} == set(GROUPS)
    assert all(all((words.name, words.looks, words.elsewhere)) for words in DAMAGE_WORDS.values())


def test_what_no_mounting_makes_is_said_so() -> None:
    assert [damage.id for damage in DAMAGES if not damage.mounting] == ["fluting-craters"]


def test_an_overheated_ring_leads_to_the_peak_and_a_loose_one_to_the_journal() -> None:
    assert BY_ID["heat-cracks"].first[0] == "heating.peak" and BY_ID["heat-cracks"].suspects[0] == "peak"
    assert BY_ID["ring-turned-on-shaft"].first[0] == "measurement.journal"
