"""What another row would change: of the limits that a drawing comes to, those that differ, and no other."""

from dataclasses import replace

from qrecords.engineering.bearings import bore_limits, internal_clearance
from qrecords.engineering.limits import limits_of_size
from qrecords.engineering.tables import BUILT_IN
from qrecords.steps.limits_asked import changed, limits_asked
from tests.cast import REQUIREMENT
from tests.steps.test_tables import moved, row_at


def test_the_limits_are_those_that_judge() -> None:
    found = limits_asked(REQUIREMENT, BUILT_IN)
    journal, bore = limits_of_size(60, "m6"), bore_limits(60)
    group = internal_clearance("deep groove ball", 60, "C3")
    assert found["journal"] == (journal.lower_nm, journal.upper_nm)
    assert found["bore"] == (bore.lower_nm, bore.upper_nm)
    assert found["clearance"] == (group.min_um * 1000, group.max_um * 1000)
    assert found["form"] == (None, 6500)  # half of IT5 13 µm, ISO 286-1:2010 table 1 at 50…80 mm
    assert found["sliding"] == (10_000, 30_000)  # g 10 µm, f 30 µm, ISO 286-1:2010 table 2 at 50…80 mm


def test_only_what_differs_is_told_each_as_it_is_and_as_it_would_be() -> None:
    row = row_at("radial_internal_clearance deep_groove_ball_cyl_bore 3")
    then = BUILT_IN.overlaid([moved(row)])
    assert changed(REQUIREMENT, BUILT_IN, then) == {"clearance": ((23_000, 43_000), (25_000, 43_000))}
    assert changed(REQUIREMENT, BUILT_IN, BUILT_IN.overlaid([replace(row, confirmed=True)])) == {}


def test_a_limit_of_the_drawings_own_follows_no_table() -> None:
    own = {**REQUIREMENT, "limits_um": ["12", "25"], "form_um": "4", "clearance_kind": "none"}
    then = BUILT_IN.overlaid([moved(row_at("it_grades 6")), moved(row_at("it_grades 5"))])
    assert changed(own, BUILT_IN, then) == {}
    assert "clearance" not in limits_asked(own, BUILT_IN)


def test_a_limit_that_only_one_set_has_is_told_as_none_on_the_other_side() -> None:
    row = replace(row_at("shaft_fundamental_deviations m all ei"), key=("zc", "all", "ei"))
    document = {**REQUIREMENT, "shaft_class": "zc6"}
    assert limits_asked(document, BUILT_IN) == {}
    found = changed(document, BUILT_IN, BUILT_IN.overlaid([row]))
    assert found["journal"] == (None, (11_000, 30_000))
