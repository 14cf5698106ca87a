"""RFC 9562 appendix A.6: the example of a UUID version 7.

Source: the RFC's appendix (from memory): 2022-02-22T19:22:22Z is 0x017F22E279B0 milliseconds, rand_a 0xCC3,
rand_b 0x18C4DC0C0C07398F.
"""

import datetime
import uuid

import pytest

from qrecords.proof.identifiers import new_id

MOMENT = datetime.datetime(2022, 2, 22, 19, 22, 22, tzinfo=datetime.UTC)
RANDOM = (0xCC3 << 62 | 0x18C4DC0C0C07398F).to_bytes(10)


def test_the_example_of_the_appendix() -> None:
    made = new_id(int(MOMENT.timestamp() * 1000), RANDOM)
    assert made == uuid.UUID("017F22E2-79B0-7CC3-98C4-DC0C0C07398F")


def test_version_and_variant_stand_where_they_belong() -> None:
    for randomness in (bytes(10), b"\xff" * 10):
        made = new_id((1 << 48) - 1, randomness)
        assert (made.version, made.variant) == (7, uuid.RFC_4122)


def test_later_sorts_later() -> None:
    assert new_id(1, b"\xff" * 10) < new_id(2, bytes(10))


@pytest.mark.parametrize(("now_ms", "randomness"), [(-1, bytes(10)), (1 << 48, bytes(10)), (1, bytes(9))])
def test_what_does_not_fit_is_refused(now_ms: int, randomness: bytes) -> None:
    with pytest.raises(ValueError, match=r"fit|needed"):
        new_id(now_ms, randomness)
