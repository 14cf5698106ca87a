"""Rows of the trade's list that steps of every mounting answer, each by the edge that decides it."""

from tests.steps.casebook import Book, asking, everything, sound
from tests.steps.ruled import answering, gauge


def verdict(book: Book, rule: str) -> str:
    return book.rule(rule)[0].verdict.value


def test_row_11_instrument_and_zero() -> None:
    """U of a quarter of the zone is fine enough, more is not; off its master afterwards puts all in doubt."""
    zone_nm = 19_000
    assert verdict(gauge("micrometer", expanded_u=zone_nm // 4)(), "gauge-fine-enough") == "conforming"
    coarse = gauge("micrometer", expanded_u=zone_nm // 4 + 1)()
    assert verdict(coarse, "gauge-fine-enough") == "not proven"
    drifted = sound(measurement___master_after=("3", "um"))
    assert verdict(drifted, "master-check") == verdict(drifted, "journal-size") == "not proven"


def test_row_12_journal_diameter() -> None:
    """Every reading is judged: one past the limit does not conform, however good the mean is."""
    low = sound(measurement___journal__C__120=("9", "um from 60 mm"))
    (found,) = low.rule("journal-size")
    assert (found.verdict, found.facts["plane"], found.facts["direction"]) == ("nonconforming", "C", "120")
    assert int(found.facts["mean_nm"]) > 11_000
    assert (
        verdict(sound(measurement___journal__C__120=("11", "um from 60 mm")), "journal-size") == "not proven"
    )


def test_row_13_bearing_bore() -> None:
    """ISO 492 Normal over 50 to 80 mm: 0 to −15 µm, by the mean; from class is an answer with its reason."""
    of_bore = answering(*(f"bore___bore__{plane}__{at}" for plane in "AB" for at in (0, 60, 120)))
    found = {um: verdict(of_bore((um, "um from 60 mm")), "bore-in-class") for um in ("-7", "-15", "-17", "2")}
    assert list(found.values()) == ["conforming", "not proven", "nonconforming", "query"]
    assert answering("bore___source", without=of_bore.fields)("from class").rule("bore-in-class") == []


def test_row_14_fit_verification() -> None:
    """A hold: heat that names the release is proven, heat that names none is not."""
    assert verdict(sound(), "released-before-heat") == "conforming"
    book = sound()
    for line in book.lines:
        line.payload["body"]["said"].pop("release", None)
    assert verdict(book, "released-before-heat") == "not proven"


def test_row_27_shoulder_gap() -> None:
    """The blade of the limit that goes in anywhere does not conform; six places over 150 mm."""
    assert verdict(sound(shoulder_gap___gap__180=("0.03", "mm")), "shoulder-gap") == "nonconforming"
    assert verdict(sound(), "shoulder-gap") == "conforming"
    large = sound()
    large.requirement |= {"nominal_mm": "160", "outside_mm": "290", "width_mm": "48"}
    (found,) = large.rule("shoulder-gap")
    assert (found.verdict, found.facts["places"]) == ("missing", "60°, 120°, 240°, 300°")


def test_row_31_free_rotation() -> None:
    """A tight spot does not conform, heavy with fresh grease does; where it was is told by its angle."""
    turned = {said: verdict(sound(running___turns=said), "turns-freely") for said in ("tight spot", "rough")}
    assert set(turned.values()) == {"nonconforming"}
    assert verdict(sound(running___turns="heavy with grease"), "turns-freely") == "conforming"
    tight = sound(procedure=everything(), running___turns="tight spot", running___spot_at=("210", "°"))
    assert tight.flags() == {"turns-freely": "nonconforming"}
    quiet = sound(procedure=asking("running.sound"), running___sound="grinding")
    assert quiet.flags() == {"runs-quietly": "query"}
