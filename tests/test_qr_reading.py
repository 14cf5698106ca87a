"""The reader of QR codes that the tests of paper rest on reads what was put in, and not what was spoilt."""

import pytest
import segno

from tests.qr_reading import of_svg, read


@pytest.mark.parametrize("length", [1, 14, 26, 42, 62, 84, 106, 122, 152, 180, 213])
def test_what_was_put_in_is_read_out(length: int) -> None:
    text = ("https://records.example/mountings/" * 8)[:length]
    code = segno.make(text, error="m", mode="byte", boost_error=False, micro=False)
    assert read(of_svg(code.svg_inline(omitsize=True, border=0))) == text


def test_a_spoilt_module_is_not_read_over() -> None:
    matrix = of_svg(
        segno.make("https://records.example/", error="m", boost_error=False).svg_inline(
            omitsize=True, border=0
        )
    )
    matrix[-1][-3] = not matrix[-1][-3]  # in the first letters
    assert read(matrix) != "https://records.example/"
