"""The rows of findings and decisions, each with the test that is named after it."""

from collections.abc import Mapping

DECISIONS: Mapping[str, str] = {
    "journal-undersize": "test_journal_undersize",
    "journal-oversize": "test_journal_oversize_up_to_10_um",
    "journal-far-oversize": "test_journal_oversize_beyond_10_um_is_conceded_by_nobody",
    "journal-not-proven": "test_journal_not_proven",
    "burr": "test_burr_or_nick",
    "fillet": "test_fillet_too_big",
    "marking": "test_marking_not_the_drawings",
    "dropped": "test_bearing_dropped",
    "overheat-10": "test_overheat_up_to_10_k_over_the_cap",
    "overheat-more": "test_overheat_beyond_10_k_and_below_stabilisation",
    "overheat-unstable": "test_overheat_above_stabilisation",
    "overheat-greased": "test_overheat_of_a_sealed_greased_or_polyamide_bearing",
    "overheat-own-data": "test_overheat_of_a_sealed_greased_or_polyamide_bearing",
    "overheat-not-proven": "test_overheat_of_a_sealed_greased_or_polyamide_bearing",
    "peak-missing": "test_every_row_is_referred_to_by_a_rule_or_says_by_itself_that_none_decides_it",
    "ring-difference": "test_inner_ring_hotter_than_allowed_and_never_turned",
    "heated-again": "test_heated_and_not_mounted_twice_at_most",
    "stuck": "test_stuck_half_way",
    "shoulder-gap": "test_gap_at_the_shoulder_after_cooling",
    "residual-field": "test_field_over_its_limit",
    "clearance-left": "test_clearance_left_below_its_least",
    "end-play": "test_end_play_out",
    "tight-spot": "test_tight_spot_or_rough",
    "lost-before-heat": "test_reading_lost_before_heat",
    "lost-after-mounting": "test_reading_lost_after_mounting",
    "unread": "test_marking_not_the_drawings",
    "photo": "test_photo_missing",
    "implant": "test_whoever_wears_an_implant_is_the_safety_officers_and_stands_in_no_record",
    "gauge-expired": "test_gauge_found_expired_and_then_calibrated_in_tolerance",
    "gauge-out": "test_gauge_found_out_is_looked_back_on_and_decided_in_no_record",
    "wrong-drawing": "test_wrong_drawing_used_is_judged_again_and_decided_in_no_record",
}
"""What was found → its test in `tests/steps/test_decision_rows.py`."""


def rules_of_row(name: str) -> tuple[str, ...]:
    """The rules whose findings this row decides."""
    from qrecords.steps.deciding import RowOf
    from qrecords.steps.standard import RULES

    def speaks_of(row: object) -> bool:
        return name in row.among if isinstance(row, RowOf) else name == row

    return tuple(rule.id for rule in RULES.values() if speaks_of(rule.row))
