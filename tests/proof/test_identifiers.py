"""Identifiers that follow from another, and the version every entry asks for."""

import uuid

import pytest

from qrecords.proof.errors import IdentifierError
from qrecords.proof.identifiers import checked, following, new_id

PARENT = new_id(1_772_438_400_000, bytes(range(10)))


def test_what_follows_is_of_the_same_moment_and_always_the_same() -> None:
    child = following(PARENT, "measurement")
    assert child == following(PARENT, "measurement")
    assert (child.version, child.variant, child.int >> 80) == (7, uuid.RFC_4122, PARENT.int >> 80)


def test_another_name_or_another_parent_gives_another() -> None:
    other = new_id(1_772_438_400_000, bytes(range(1, 11)))
    assert len({PARENT, following(PARENT, "bore"), following(PARENT, "fit"), following(other, "bore")}) == 4


@pytest.mark.parametrize("wrong", [uuid.uuid4(), uuid.uuid5(PARENT, "bore"), uuid.UUID(int=0)])
def test_no_other_version_is_taken(wrong: uuid.UUID) -> None:
    with pytest.raises(IdentifierError):
        checked(wrong)
    with pytest.raises(IdentifierError):
        following(wrong, "bore")
