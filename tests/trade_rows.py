"""`python -m tests.trade_rows`: the rows of the trade beside what answers them, written into DEVELOPERS.md.

A row is a step of the job, a kind of bearing with its limit of heat, or a cross-check; it names the fields
and rules that answer it, and the test that is named after it.
"""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.trade_decisions import DECISIONS, rules_of_row

ROOT = Path(__file__).parents[1]
PAPER = ROOT / "DEVELOPERS.md"
BEGIN, END = "<!-- rows of the trade: made by `python -m tests.trade_rows` -->", "<!-- end of the rows -->"


@dataclass(frozen=True)
class TradeRow:
    """`steps` are named whole, `fields` as `step.field`, `rules` by their ids; `elsewhere` is what answers it
    that is neither."""

    name: str
    what: str
    tests: tuple[str, ...]
    steps: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()
    elsewhere: str = ""


def _row(
    number: int, what: str, test: str, *steps: str, fields: str = "", rules: str = "", elsewhere: str = ""
) -> TradeRow:
    return TradeRow(str(number), what, (test,), steps, tuple(fields.split()), tuple(rules.split()), elsewhere)


def _check(what: str, test: str, rules: str = "", elsewhere: str = "") -> TradeRow:
    return TradeRow("check", what, (test,), rules=tuple(rules.split()), elsewhere=elsewhere)


def _kind(what: str, test: str) -> TradeRow:
    return TradeRow("kind", what, (test,), rules=("peak-temperature", "log-ceiling"))


JOB = (
    _row(1, "work order, scope", "test_row_01_work_order_and_scope", "work_order"),
    _row(2, "old bearing and seat", "test_row_02_old_bearing_and_seat_as_found", "old_bearing"),
    _row(3, "receive and identify", "test_row_03_receive_and_identify_the_bearing", "identification",
         "delivery", rules="own-reading"),
    _row(4, "storage, packaging", "test_row_04_storage_and_packaging", "storage",
         fields="identification.package", rules="package-intact"),
    _row(5, "seat cleaned, looked at", "test_row_05_clean_and_look_at_the_seat", "seat_look",
         fields="preparation.edge_burrs preparation.shoulder_burrs preparation.wiped preparation.gear_ready",
         rules="edge-burrs shoulder-burrs wiped-clean gear-ready"),
    _row(6, "fillet, chamfer, shoulder height", "test_row_06_fillet_chamfer_and_shoulder_height",
         fields="preparation.fillet shoulder.chamfer shoulder.undercut shoulder.fillet_radius "
                "shoulder.radius_gauge shoulder.height",
         rules="fillet-clears fillet-radius shoulder-height"),
    _row(7, "shoulder squareness", "test_row_07_shoulder_squareness", fields="shoulder.runout shoulder.dial",
         rules="shoulder-runout"),
    _row(8, "roundness, taper", "test_row_08_roundness_and_taper", "seat_form",
         rules="journal-roundness journal-taper"),
    _row(9, "roughness", "test_row_09_roughness", "roughness"),
    _row(10, "environment, one temperature", "test_row_10_environment_and_one_temperature", "environment",
         fields="measurement.thermometer measurement.shaft measurement.bearing measurement.gauge_temp "
                "measurement.master_temp measurement.air",
         rules="one-temperature"),
    _row(11, "instrument and zero", "test_row_11_instrument_and_zero",
         fields="measurement.gauge measurement.master measurement.master_before measurement.master_after",
         rules="gauge-in-date gauge-fine-enough master-check"),
    _row(12, "journal diameter", "test_row_12_journal_diameter",
         fields="measurement.journal measurement.plane_at measurement.noted_first",
         rules="journal-size journal-readings"),
    _row(13, "bearing bore", "test_row_13_bearing_bore", "bore"),
    _row(14, "fit verification (hold)", "test_row_14_fit_verification",
         rules="interference released-before-heat"),
    _row(15, "clearance before, forecast", "test_row_15_clearance_of_both_rows", "clearance_before",
         "rows_before"),
    _row(16, "housing, floating side", "test_row_16_housing_and_floating_side", "housing"),
    _row(17, "heat plan, kind check", "test_row_17_heat_plan_and_kind_check", "heat_plan",
         fields="heating.set_to heating.own_ceiling heating.own_ceiling_source"),
    _row(18, "safety", "test_row_18_safety", "safety", fields="preparation.zone", rules="zone-kept"),
    _row(19, "probes, ring difference", "test_row_19_probes_and_ring_difference",
         fields="heating.heater heating.setup heating.probe heating.peak_outer heat_check.probe_spot "
                "heat_check.turned_hot",
         rules="heater-named set-up probe-on-inner-ring ring-difference probe-spot not-turned-hot"),
    _row(20, "peak and dwell", "test_row_20_peak_and_contact_thermometer",
         fields="heating.peak heating.cross_check heat_check.contact_gauge heat_check.above_target_for",
         rules="peak-temperature contact-check heatings log-readable log-ceiling"),
    _row(21, "demagnetise", "test_row_21_demagnetise_by_place", "demagnetisation", "field_places"),
    _row(22, "seat film", "test_row_22_film_on_the_seat", fields="seating.film carrying.film_wiped",
         rules="seat-film film-thin"),
    _row(23, "transfer", "test_row_23_transfer", fields="heating.at_seat carrying.side_called",
         rules="side-called", elsewhere="the taps *lifted off* and *home*"),
    _row(24, "seat and hold", "test_row_24_seat_and_hold",
         fields="seating.went_home seating.dropped seating.hammered seating.held_by carrying.twisted "
                "carrying.hold_torque carrying.hold_force",
         rules="went-home not-dropped not-hammered held pressed-home twisted-home"),
    _row(25, "cool", "test_row_25_cool", "cooling_down",
         fields="shoulder_gap.ring_temp shoulder_gap.shaft_temp", rules="cold-when-checked"),
    _row(26, "second bearing, spacer, orientation", "test_row_26_second_bearing_spacer_orientation",
         "arrangement"),
    _row(27, "shoulder gap (hold)", "test_row_27_shoulder_gap", fields="shoulder_gap.feeler shoulder_gap.gap",
         rules="shoulder-gap"),
    _row(28, "inner-ring face run-out", "test_row_28_inner_ring_face_run_out", "face"),
    _row(29, "residual clearance", "test_row_29_clearance_of_both_rows", "clearance_after", "rows_after"),
    _row(30, "end play, preload", "test_row_30_end_play_and_preload", "end_play"),
    _row(31, "free rotation", "test_row_31_free_rotation", "running"),
    _row(32, "lubricant", "test_row_32_lubricant", "lubrication"),
    _row(33, "protect", "test_row_33_protect", "protection", "resting"),
    _row(34, "record, label, close (hold)", "test_row_34_record_label_and_first_run", "label",
         rules="photos-present competence", elsewhere="signatures, certificate"),
)  # fmt: skip
KINDS = (
    _kind("open", "test_kind_open_bearing"),
    _kind("polyamide cage", "test_kind_polyamide_cage"),
    _kind("sealed, shielded, greased for life", "test_kind_sealed_or_greased"),
    _kind("small clearance, preload, class 5 and better", "test_kind_small_clearance_preload_or_precision"),
    _kind("separable inner ring alone", "test_kind_separable_inner_ring_alone"),
    _kind("stabilisation code", "test_kind_stabilisation_code_decides_after_an_overheat_and_not_before"),
)
CHECKS = (
    _check("could it have slid on", "test_cross_check_could_it_have_slid_on", "slid-on"),
    _check("did the clearance shrink as it should", "test_cross_check_did_the_clearance_shrink_as_it_should",
           "clearance-as-forecast"),
    _check("digit pattern", "test_cross_check_digit_pattern", "same-digits"),
    _check("speed", "test_cross_check_speed", "reading-speed"),
    _check("unit slip", "test_cross_check_unit_slip", elsewhere="every number field, at the keyboard"),
    _check("bore inside its class", "test_cross_check_bore_inside_its_class", "bore-in-class"),
    _check("curve shape", "test_cross_check_curve_shape", "log-ceiling log-as-typed log-against-taps"),
    _check("heating time against mass", "test_cross_check_heating_time_against_mass", "log-energy heat-time"),
    _check("opposite gaps", "test_cross_check_opposite_gaps", "gap-plane"),
    _check("order in time", "test_cross_check_order_in_time",
           "order-in-time released-before-heat cold-released"),
    _check("photo time and content", "test_cross_check_photo_time", "photo-in-time photo-used-before",
           "the inspector's blind reading of a display"),
    _check("master before and after", "test_cross_check_master_before_and_after", "master-check"),
    _check("end play against clearance", "test_cross_check_end_play_against_clearance", "play-and-clearance"),
)  # fmt: skip
TRADE = (*JOB, *KINDS, *CHECKS)


def _decision(name: str) -> TradeRow:
    """A row of findings and decisions; one that no rule decides says so."""
    rules = rules_of_row(name)
    told = "" if rules else "decided outside a record"
    return TradeRow("decision", name.replace("-", " "), (DECISIONS[name],), rules=rules, elsewhere=told)


def named_tests() -> dict[str, str]:
    """Every test by its name, with the file it stands in."""
    found = {}
    for path in sorted((ROOT / "tests").rglob("test_*.py")):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
                found[node.name] = str(path.relative_to(ROOT / "tests"))
    return found


def table() -> str:
    """The rows as they stand in DEVELOPERS.md."""
    where = named_tests()
    lines = ["| row | of the trade | steps, fields, rules | test |", "|---|---|---|---|"]
    rows = (*TRADE, *(_decision(name) for name in DECISIONS))
    lines += [
        f"| {row.name} | {row.what} | {_answered_by(row)} | {', '.join(_test(t, where) for t in row.tests)} |"
        for row in rows
    ]
    return "\n".join([BEGIN, *lines, END])


def steps_of(row: TradeRow) -> tuple[str, ...]:
    """The steps named whole; a chosen step that no row speaks of belongs to the row it names itself."""
    from qrecords.steps.standard import STEPS
    from qrecords.steps.work import CHOSEN

    spoken_of = {
        step for each in JOB for step in (*each.steps, *(name.split(".")[0] for name in each.fields))
    }
    own = (step for step in CHOSEN if step not in spoken_of and str(STEPS[step].row) == row.name)
    return (*row.steps, *own)


def _answered_by(row: TradeRow) -> str:
    named = [*(f"`{step}`" for step in steps_of(row)), *row.fields, *(f"*{rule}*" for rule in row.rules)]
    return ", ".join([*named, *([row.elsewhere] if row.elsewhere else [])])


def _test(name: str, where: dict[str, str]) -> str:
    return f"`{where[name]}: {name}`"


def paper_with(text: str) -> str:
    """The paper with the table as it is now."""
    before, _, rest = text.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{table()}{after}"


def fields_answered() -> Iterator[str]:
    """Every field that some row names, by itself or with its step."""
    from qrecords.steps.standard import STEPS

    for row in JOB:
        yield from row.fields
        yield from (f"{step}.{field.id}" for step in steps_of(row) for field in STEPS[step].fields)


def main() -> None:
    PAPER.write_text(paper_with(PAPER.read_text()))


if __name__ == "__main__":
    main()
