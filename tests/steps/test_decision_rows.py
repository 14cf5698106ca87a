"""The table of findings and decisions, a test a row: what may be decided before the ring is on and after, by
whom, and what has to be proven first."""

from typing import Any

import pytest

from qrecords.steps.answers import Absent, State
from qrecords.steps.deciding import KINDS, Customer, Row, RowOf
from qrecords.steps.decision_rows import ROWS
from qrecords.steps.findings import Finding
from qrecords.steps.first import PROOFS
from qrecords.steps.folding import Fold
from qrecords.steps.granting import Offer, offers
from qrecords.steps.standard import RULES, STEPS
from tests.steps.casebook import Book, measure, sound
from tests.steps.ruled import UM, second_heating, third_heating

EITHER, E, F, Q = ("inspector", "engineer"), ("engineer",), ("fitter",), ("quality manager",)
LOST = Absent(State.NOT_POSSIBLE, "the sheet was lost")
LOW, HIGH, FAR, CLOSE_CALL = ((text, UM) for text in ("6", "36", "43", "30"))
"""One reading of a seat 60 m6 (+11…+30): under, 6 µm over, 13 µm over, on the limit."""
AT = "measurement___journal__C__60"


def before(book: Book) -> Book:
    """The same record as it stood before its first *heater on*."""
    first = next(place for place, line in enumerate(book.lines) if line.kind == "tap")
    book.lines = book.lines[:first]
    return book


def found(book: Book, rule: str) -> Finding:
    return next(f for f in book.rule(rule) if f.verdict.value != "conforming")


def offered(book: Book, rule: str) -> dict[str, Offer]:
    return {offer.kind: offer for offer in offers(found(book, rule), book.case())}


def ways(book: Book, rule: str) -> dict[str, tuple[str, ...]]:
    """What may be done about what a rule found, each with who may."""
    return {kind: offer.by for kind, offer in offered(book, rule).items()}


def lacking(book: Book, rule: str, kind: str = "concession") -> tuple[str, ...]:
    return offered(book, rule)[kind].lacking


def row(book: Book, rule: str) -> Row:
    return RULES[rule].row_of(found(book, rule), book.case())


def mounted(**changes: Any) -> Book:
    return sound(**{AT: changes.pop("at")}, **changes) if "at" in changes else sound(**changes)


def test_journal_undersize() -> None:
    assert ways(before(mounted(at=LOW)), "journal-size") == {"measure again": EITHER, "rework": E}
    assert ways(mounted(at=LOW), "journal-size") == {"scrap": E}
    assert row(mounted(at=LOW), "journal-size").remeasured
    tapered = {f"measurement___journal__C__{at}": ("-16", UM) for at in (0, 60, 120)}
    assert ways(before(sound(**tapered)), "journal-taper") == {"measure again": EITHER, "rework": E}
    assert ways(sound(**tapered), "journal-taper") == {"scrap": E}


def test_journal_oversize_up_to_10_um() -> None:
    assert ways(before(mounted(at=HIGH)), "journal-size") == {"measure again": EITHER, "rework": E}
    book = mounted(at=HIGH)
    assert ways(book, "journal-size") == {"concession": E, "scrap": E}
    assert lacking(book, "journal-size") == ()
    assert offered(book, "journal-size")["concession"].proven["stress-shown"]["hoop_mpa"] > 0  # type: ignore[operator]
    assert lacking(mounted(at=HIGH, clearance_after___g1=None), "journal-size") == ("g1-proven",)
    assert lacking(mounted(at=HIGH, clearance_after___g1=("0", "um")), "journal-size") == ("g1-proven",)
    assert lacking(mounted(at=HIGH, bore___source=LOST, **NO_BORE), "journal-size") == ("stress-shown",)
    assert not offered(book, "journal-size")["concession"].customer
    book.requirement["critical"] = "yes"
    assert offered(book, "journal-size")["concession"].customer


NO_BORE = {f"bore___bore__{plane}__{at}": None for plane in "AB" for at in ("0", "60", "120")}


def test_journal_oversize_beyond_10_um_is_conceded_by_nobody() -> None:
    assert ways(before(mounted(at=FAR)), "journal-size") == {"measure again": EITHER, "rework": E}
    assert ways(mounted(at=FAR), "journal-size") == {"scrap": E}
    assert row(mounted(at=("40", UM)), "journal-size").id == "journal-oversize"


def test_journal_not_proven() -> None:
    book = mounted(at=CLOSE_CALL)
    assert ways(before(mounted(at=CLOSE_CALL)), "journal-size") == {"measure again": EITHER, "concession": E}
    assert ways(book, "journal-size") == {"concession": E, "scrap": E}
    proof = offered(book, "journal-size")["concession"].proven["fit-both-ways"]
    assert proof["least_nm"] < 23_000 and proof["most_nm"] > 36_000  # type: ignore[operator]
    unknown = {"micrometer": {"id": "m", "kind": "outside micrometer", "mark": "M", "status": "in use"}}
    assert lacking(sound(unknown), "journal-size") == ("fit-both-ways",)


@pytest.mark.parametrize("rule", ["edge-burrs", "shoulder-burrs"])
def test_burr_or_nick(rule: str) -> None:
    field = f"preparation___{rule.replace('-', '_')}"
    assert ways(before(sound(**{field: "left"})), rule) == {"redo": F, "rework": EITHER}
    assert ways(sound(**{field: "left"}), rule) == {"concession": E, "scrap": EITHER}


def test_fillet_too_big() -> None:
    assert ways(before(sound(preparation___fillet="too large")), "fillet-clears") == {"rework": E}
    assert ways(sound(preparation___fillet="too large"), "fillet-clears") == {"concession": E, "scrap": E}


def test_marking_not_the_drawings() -> None:
    first = offered(before(sound(identification___marking="6212")), "ring-marking")
    assert {kind: offer.by for kind, offer in first.items()} == {"quarantine": EITHER, "concession": E}
    assert first["concession"].customer, "a substitute is the customer's to allow, critical or not"
    on = offered(sound(identification___marking="6212"), "ring-marking")
    assert {kind: offer.by for kind, offer in on.items()} == {
        "rework": EITHER, "scrap": EITHER, "concession": E,
    }  # fmt: skip
    assert on["concession"].customer


def test_bearing_dropped() -> None:
    book = Book()
    measure(book)
    book.tap("dropped")
    assert ways(book, "not-dropped") == {"quarantine": EITHER, "scrap": EITHER, "concession": E}
    assert lacking(book, "not-dropped") == ("laboratory-report",)
    book.paper("laboratory-report", received=False)
    assert lacking(book, "not-dropped") == ("laboratory-report",), "announced is not here"
    book.paper("laboratory-report")
    assert lacking(book, "not-dropped") == ()
    assert ways(sound(seating___dropped="yes"), "not-dropped") == {"scrap": EITHER}


def heated(peak: str, **asked: Any) -> Book:
    """Heated and read, and not yet on the shaft."""
    book = Book()
    book.requirement |= asked
    book.say("clearance_before", g0=("30", "um"), method="feeler")
    book.tap("heater on")
    book.say("heating", heater="heater", setup="on the core leg", probe="inner ring", peak=(peak, "°C"))
    return book


ROLLER = {"designation": "NU 212 EC C3", "clearance_kind": "cylindrical_roller_cyl_bore"}
PEAK = "peak-temperature"


def test_overheat_up_to_10_k_over_the_cap() -> None:
    book = heated("125", **ROLLER)
    assert ways(book, PEAK) == {"accept": EITHER, "scrap": EITHER}
    assert lacking(book, PEAK, "accept") == ("clearance-again",)
    felt = book.case().said("clearance_before", "g0")
    book.say("clearance_before", prev=felt.entry, g0=("29", "um"))  # type: ignore[union-attr]
    assert lacking(book, PEAK, "accept") == ()
    assert lacking(heated("125"), PEAK, "accept") == (), "no feeler fits into a ball bearing"
    on = sound(heating___peak=("125", "°C"))
    assert ways(on, PEAK) == {"accept": EITHER, "scrap": EITHER}
    assert lacking(on, PEAK, "accept") == ("heating-curve",)
    on.paper("heating-curve")
    assert lacking(on, PEAK, "accept") == ()


def test_overheat_beyond_10_k_and_below_stabilisation() -> None:
    first = offered(heated("134"), PEAK)
    assert {kind: offer.by for kind, offer in first.items()} == {"concession": E, "scrap": EITHER}
    assert first["concession"].way.states == ("no-temper-colour",)
    on = sound(heating___peak=("134", "°C"))
    assert ways(on, PEAK) == {"concession": E, "scrap": EITHER}
    assert lacking(on, PEAK) == ("heating-curve",)
    on.log("time_s;inner\n0;20\n10;60\n20;134\n")
    assert lacking(on, PEAK) == (), "the heater's own log is the curve"
    on.requirement["critical"] = "yes"
    assert offered(on, PEAK)["concession"].customer


def test_overheat_above_stabilisation() -> None:
    for book in (heated("151"), sound(heating___peak=("151", "°C"))):
        assert ways(book, PEAK) == {"scrap": EITHER}
    assert "concession" in ways(heated("151", stabilised_c=200), PEAK)


@pytest.mark.parametrize("kind", ["sealed", "greased", "polyamide_cage"])
def test_overheat_of_a_sealed_greased_or_polyamide_bearing(kind: str) -> None:
    book = heated("128", kinds=[kind])
    assert ways(book, PEAK) == {"concession": E, "scrap": EITHER}
    assert lacking(book, PEAK) == ("own-data",)
    assert offered(book, PEAK)["concession"].way.states == ("seal-sound",)
    told = {"own_ceiling": ("130", "°C"), "own_ceiling_source": "data sheet of this bearing"}
    book.say("heating", author="engineer", check=True, **told)
    assert lacking(book, PEAK) == ()
    small = heated("128", kinds=[kind])
    small.say("heating", author="engineer", check=True, **{**told, "own_ceiling": ("127", "°C")})
    assert lacking(small, PEAK) == ("own-data",), "over its own data it is scrap"
    close = heated("80.5" if kind != "polyamide_cage" else "120.5", kinds=[kind])
    assert "measure again" in ways(close, PEAK)


def test_inner_ring_hotter_than_allowed_and_never_turned() -> None:
    book = sound(heating___peak_outer=("55", "°C"), running___turns=None)
    assert found(book, "ring-difference").verdict == "query"
    assert ways(book, "ring-difference") == {"looked": EITHER}
    assert lacking(book, "ring-difference", "looked") == ("turns-smoothly",)
    book.say("running", turns="rough")
    assert lacking(book, "ring-difference", "looked") == ("turns-smoothly",)
    smooth = sound(heating___peak_outer=("55", "°C"))
    assert lacking(smooth, "ring-difference", "looked") == ()


def test_heated_and_not_mounted_twice_at_most() -> None:
    third = third_heating()
    assert ways(third, "heatings") == {"measure again": EITHER, "concession": E, "scrap": EITHER}
    book = second_heating(None)
    assert "measure again" in ways(book, "heatings"), "the field is measured again"


def test_stuck_half_way() -> None:
    book = Book()
    measure(book)
    book.tap("heater on")
    book.tap("stuck")
    assert ways(book, "went-home") == {"rework": EITHER, "scrap": EITHER}
    on = offered(sound(seating___went_home="stuck"), "went-home")
    assert {kind: offer.by for kind, offer in on.items()} == {"accept": EITHER, "scrap": EITHER}
    assert on["accept"].way.states == ("inner-ring-alone",)


def test_gap_at_the_shoulder_after_cooling() -> None:
    book = sound(shoulder_gap___gap__90=("0.05", "mm"))
    said = offered(book, "shoulder-gap")
    assert {kind: offer.by for kind, offer in said.items()} == {
        "redo": F, "measure again": EITHER, "rework": EITHER, "concession": E, "scrap": EITHER,
    }  # fmt: skip
    assert said["redo"].way.states == ("inspector-present",)
    assert lacking(book, "shoulder-gap") == ("gap-again",), "the engineer's once it stays"
    felt = book.case().said("shoulder_gap", "gap.90")
    book.say("shoulder_gap", prev=felt.entry, gap__90=("0.04", "mm"))  # type: ignore[union-attr]
    assert lacking(book, "shoulder-gap") == ()


def test_field_over_its_limit() -> None:
    strong = ("6.4", "A/cm")
    cold = Book()
    cold.say("demagnetisation", cycle="done", field=strong, meter="meter")
    assert ways(cold, "residual-field") == {"redo": F, "measure again": EITHER, "rework": EITHER}
    book = sound(demagnetisation___field=strong)
    assert ways(book, "residual-field") == {
        "redo": F, "measure again": EITHER, "rework": E, "concession": E,
    }  # fmt: skip
    assert lacking(book, "residual-field") == ("field-again",), "a portable coil first"
    first = book.case().said("demagnetisation", "field")
    book.say("demagnetisation", prev=first.entry, field=("4", "A/cm"))  # type: ignore[union-attr]
    assert lacking(book, "residual-field") == ()


def test_clearance_left_below_its_least() -> None:
    tight = Book()
    tight.requirement["clearance_group"] = "N"
    measure(tight)
    tight.say("bore", source="measured", gauge="bore_gauge", bore__A__0=("-14", UM))
    first = offered(tight, "clearance-forecast")
    assert found(tight, "clearance-forecast").verdict == "nonconforming"
    assert {kind: offer.by for kind, offer in first.items()} == {"rework": EITHER, "concession": E}
    assert first["concession"].customer, "accepted only with the customer"
    book = sound()
    book.requirement["clearance_min_um"] = "30"
    on = offered(book, "clearance-found")
    assert {kind: offer.by for kind, offer in on.items()} == {
        "rework": EITHER, "scrap": EITHER, "concession": E,
    }  # fmt: skip
    assert on["concession"].customer


def test_end_play_out() -> None:
    told = {way.kind: way.by for way in ROWS["end-play"].before}
    assert told == {"redo": F, "rework": EITHER}
    assert ROWS["end-play"].before == ROWS["end-play"].after


def test_tight_spot_or_rough() -> None:
    book = Book()
    book.say("running", turns="rough")
    assert ways(book, "turns-freely") == {"redo": F, "measure again": EITHER, "scrap": EITHER}
    assert ways(sound(running___turns="tight spot"), "turns-freely") == {
        "measure again": EITHER, "rework": EITHER, "scrap": EITHER,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("field", "rule"),
    [(AT, "journal-readings"), ("bore___source", "bore-in-class")],
)
def test_reading_lost_before_heat(field: str, rule: str) -> None:
    book = before(sound(**{field: LOST}, **NO_BORE))
    assert ways(book, rule) == {"redo": F, "measure again": EITHER}


def test_reading_lost_after_mounting() -> None:
    book = sound(bore___source=LOST, **NO_BORE)
    said = offered(book, "bore-in-class")
    assert {kind: offer.by for kind, offer in said.items()} == {"concession": E, "rework": E, "scrap": E}
    bounds = said["concession"].proven["bounded-fit"]
    # Journal +16…+18, bore of its class −15…0: 16…33; classes come to +11−0…+30+15.
    assert [bounds[key] for key in ("least_nm", "most_nm", "lower_nm", "upper_nm")] == [
        16_000, 33_000, 11_000, 45_000,
    ]  # fmt: skip
    assert bounds["measured"] == "journal"
    assert said["concession"].way.customer == Customer.CRITICAL
    everything = {f"measurement___journal__{p}__{at}": LOST for p in "ABC" for at in ("0", "60", "120")}
    nothing = sound(bore___source=LOST, **NO_BORE, **everything)
    assert lacking(nothing, "journal-readings") == ("bounded-fit",), "then it comes off"
    roller = sound(bore___source=LOST, clearance_after___g1=None, **NO_BORE)
    roller.requirement |= ROLLER
    assert lacking(roller, "bore-in-class") == ("clearance-found",), "G1 is the cross-check"


def test_one_lost_place_of_a_journal_counts_as_anything_its_limits_allow() -> None:
    book = sound(**{AT: LOST})
    bounds = offered(book, "journal-readings")["concession"].proven["bounded-fit"]
    assert (bounds["least_nm"], bounds["most_nm"]) == (17_000, 36_000)  # +11…+30 less a bore of −6


def test_photo_missing() -> None:
    book = Book()
    assert ways(book, "photos-present") == {"redo": F, "measure again": EITHER}
    taken = sound()
    taken.lines = [line for line in taken.lines if line.kind not in ("attachment", "file received")]
    assert ways(taken, "photos-present") == {"redo": F, "measure again": EITHER, "accept": EITHER}


def test_whoever_wears_an_implant_is_the_safety_officers_and_stands_in_no_record() -> None:
    assert (ROWS["implant"].before, ROWS["implant"].after) == ((), ())
    asked = [field.id for step in STEPS.values() for field in step.fields]
    assert not [name for name in (*asked, *RULES, *Fold.HANDLERS) if "implant" in name or "pregnan" in name]
    assert not [rule for rule in RULES.values() if rule.row == "implant"]


def test_gauge_found_expired_and_then_calibrated_in_tolerance() -> None:
    book = before(sound({"micrometer": EXPIRED}))
    assert ways(book, "gauge-in-date") == {"measure again": EITHER, "note": Q}
    on = sound({"micrometer": EXPIRED})
    assert ways(on, "gauge-in-date") == {"note": Q}
    assert lacking(on, "gauge-in-date", "note") == ("calibrated-since",)
    on.paper("calibration-certificate")
    assert lacking(on, "gauge-in-date", "note") == ()


EXPIRED = {
    "id": "m", "kind": "outside micrometer", "mark": "M-1", "status": "in use", "due": "2026-01-31",
    "resolution": 1000, "expanded_u": 1000, "repeatability": 0,
}  # fmt: skip


def test_gauge_found_out_is_looked_back_on_and_decided_in_no_record() -> None:
    assert (ROWS["gauge-out"].before, ROWS["gauge-out"].after) == ((), ())
    assert "look-back" in ROWS["gauge-out"].source


def test_wrong_drawing_used_is_judged_again_and_decided_in_no_record() -> None:
    assert (ROWS["wrong-drawing"].before, ROWS["wrong-drawing"].after) == ((), ())
    assert "judged again by the engineer" in ROWS["wrong-drawing"].source


def test_every_row_is_referred_to_by_a_rule_or_says_by_itself_that_none_decides_it() -> None:
    named = {rule.row for rule in RULES.values() if isinstance(rule.row, str) and rule.row}
    named |= {name for rule in RULES.values() if isinstance(rule.row, RowOf) for name in rule.row.among}
    assert named <= set(ROWS)
    assert set(ROWS) - named <= {"implant", "gauge-out", "wrong-drawing"}


def test_every_way_is_of_a_kind_there_is_and_every_proof_is_looked_for() -> None:
    every = [way for row in ROWS.values() for way in (*row.before, *row.after)]
    assert {way.kind for way in every} <= {*KINDS, "redo", "looked"}
    assert {name for way in every for name in way.first} == set(PROOFS)
    assert all(way.by for way in every)


def test_a_row_is_chosen_among_those_that_its_rule_names() -> None:
    books = [
        sound(),
        before(sound()),
        Book(),
        mounted(at=LOW),
        heated("151"),
        third_heating(),
        second_heating(None),
    ]
    for book in books:
        for finding in book.findings().values():
            rule = RULES[finding.rule]
            if isinstance(rule.row, RowOf):
                chosen = rule.row.choose(finding, book.case())
                assert chosen in (*rule.row.among, ""), (finding.rule, chosen)


def test_a_procedure_leaves_a_decision_to_fewer_people_and_adds_nobody() -> None:
    book = before(mounted(at=LOW))
    book.procedure["may_decide"] = {"measure again": ["engineer", "auditor"]}
    assert ways(book, "journal-size") == {"measure again": E, "rework": E}
