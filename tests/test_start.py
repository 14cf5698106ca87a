"""What stops the start is said without what it has to keep secret."""

import pytest
from django.core.exceptions import ImproperlyConfigured

from qrecords.settings import _database


@pytest.mark.parametrize(
    ("address", "said"),
    [
        (
            "postgres://qr:Geheim123@db/qr",
            "begins with postgres: and must begin with sqlite:/// or postgresql",
        ),
        ("qr:Geheim123@db/qr", "must begin with sqlite:/// or postgresql"),
        ("postgresql://qr:Geheim123/x@db/qr", "percent-encode"),
        ("postgresql://qr:[Geheim123@db/qr", "percent-encode"),
    ],
)
def test_a_bad_database_address_is_refused_without_its_password(address: str, said: str) -> None:
    with pytest.raises(ImproperlyConfigured) as refused:
        _database(address)
    assert said in str(refused.value) and "Geheim" not in str(refused.value)
    assert refused.value.__suppress_context__ or refused.value.__context__ is None


def test_a_password_may_hold_any_sign_percent_encoded() -> None:
    assert _database("postgresql://qr:a%2Fb%40c@db:5433/qr")["PASSWORD"] == "a/b@c"
