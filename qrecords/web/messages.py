"""Sentences for message ids: the one place where a finding's facts become words.

A sentence has a lead (the number first, bold) and a rest, divided by a bar. A fact is lettered by what stands
behind its colon: `dev` a deviation in µm, `um`, `mm`, `c`, `k`, `s`, `acm`, `pct`, `day`; nothing: as it is.
"""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from string import Formatter
from typing import Any

from django.utils.formats import date_format
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.findings import Fact
from qrecords.web import chosen_words
from qrecords.web.lettered import measured
from qrecords.web.messages_log import LOG_FINDINGS, why_unread
from qrecords.web.messages_paper import PAPER_FINDINGS
from qrecords.web.messages_people import PEOPLE_FINDINGS
from qrecords.web.messages_points import POINT_FINDINGS
from qrecords.web.messages_time import TIME_FINDINGS
from qrecords.wording.ceilings import ceiling_name
from qrecords.wording.figures import NT_PER_A_CM, Figures, with_unit

_CANNOT_TELL = _("Cannot be told:|what it follows from is {state}, {reason}.")
_BESIDE_INNER = _("Cannot be told:|the inner ring's own heat was not read.")
FINDINGS: Mapping[str, str] = {
    "ring-marking.conforming": _("{read} on the ring|as the drawing asks."),
    "ring-marking.nonconforming": _("{read} on the ring,|the drawing asks for {wanted}."),
    "as-ordered.conforming": _("{read}|as the order says."),
    "as-ordered.query": _("{read} on the ring or its box,|the order says {wanted}: which bearing is it?"),
    "own-reading.conforming": _("{read}|read by the inspector's own eyes."),
    "own-reading.nonconforming": _("{read}|read by the inspector; the drawing asks for {wanted}."),
    "own-reading.not-entered": _("Not yet read|by the inspector's own eyes."),
    "package-intact.conforming": _("Package intact|until now."),
    "package-intact.query": _("Package {said}.|Look at the ring for rust, dirt and missing preservative."),
    "edge-burrs.nonconforming": _(
        "Burrs left|on the journal's leading edge. Stone them off, wipe, look again."
    ),
    "shoulder-burrs.nonconforming": _("Burrs left|on the shoulder. Stone them off, wipe, look again."),
    "fillet-clears.nonconforming": _("Fillet too large:|the ring would ride on it."),
    "wiped-clean.nonconforming": _("Not wiped clean.|A filing under the ring tilts it."),
    "gear-ready.nonconforming": _("Gear not at hand.|Everything lies ready before heat."),
    "zone-kept.nonconforming": _("Zone not kept.|See the safety wording below."),
    "zone-kept.heater-has-field": _("The heater makes a field:|the zone is kept, and applies."),
    "zone-kept.heater-of-no-kind": _(
        "The heater is of no known kind, and may make a field:|the zone is kept, and applies."
    ),
    "gauge-in-date.conforming": _("{mark}|valid to {due:day}."),
    "gauge-in-date.absent": _("Not named, {state}:|{reason}. Nobody knows whether it was in date."),
    "gauge-in-date.expired": _("{mark}|was valid to {due:day}: it proves nothing until calibrated."),
    "gauge-in-date.between": _(
        "{mark}|was valid to {due:day} and used between {first:day} and {last:day}: that it was in date then "
        "is not proven."
    ),
    "gauge-in-date.between-status": _(
        "{mark}|was {status} for a part of the time from {first:day} to {last:day} in which it was used: "
        "not proven."
    ),
    "gauge-in-date.not-in-use": _("{mark}|is {status}: what it measured is not proven."),
    "gauge-fine-enough.conforming": _("{mark}: U {expanded_nm:um} µm,|at most {limit_nm:um} µm wanted."),
    "gauge-fine-enough.not-proven": _(
        "{mark}: U {expanded_nm:um} µm|is more than a quarter of the zone of {zone_nm:um} µm ({limit_nm:um})."
    ),
    "master-check.conforming": _(
        "Gauge set on its master, off by {off_nm:dev} µm:|up to ±{limit_nm:um} µm is allowed."
    ),
    "master-check.not-proven": _(
        "Gauge set on its master, off by {off_nm:dev} µm:|up to ±{limit_nm:um} µm is allowed. What it read "
        "since it was last right is not proven."
    ),
    "one-temperature.conforming": _("{spread_mk:k} apart,|up to {limit_mk:k} allowed."),
    "one-temperature.not-proven": _(
        "{spread_mk:k} apart:|shaft, bearing and gauge are not one temperature. Wait and measure again."
    ),
    "journal-size.conforming": _("{plane} at {direction}° is {size:read}:|{margin_nm:um} µm inside."),
    "journal-size.not-proven": _(
        "{plane} at {direction}° is {size:read}:|{margin_nm:um} from the limit {limit_nm:dev}, "
        "guard {guard_nm:um}. Measure this point twice more?"
    ),
    "journal-size.nonconforming": _(
        "{plane} at {direction}° is {size:read}:|{beyond_nm:um} µm past {limit_nm:dev}. "
        "The mean is ({mean_nm:dev})."
    ),
    "journal-size.not-one-temperature": _(
        "Not one temperature.|Brought to 20 °C {plane} at {direction}° would be ({value_nm:dev}), "
        "the mean ({mean_nm:dev}). Wait, then measure again."
    ),
    "journal-size.temperatures-unknown": _("Temperatures not known:|the readings prove nothing yet."),
    "journal-size.master-before-off": _("The gauge was off its master before:|not proven."),
    "journal-size.master-after-off": _("The gauge was off its master afterwards:|not proven."),
    "journal-size.no-uncertainty": _("The gauge has no calibration:|its readings prove nothing."),
    "journal-readings.conforming": _("{count} readings,|none left out."),
    "journal-readings.incomplete": _("{count} to come:|{places}."),
    "journal-roundness.conforming": _(
        "Out of round ({half_nm:um}),|allowed {limit_nm:um}; ({whole_nm:um}) on diameter. "
        "Two points cannot see three lobes."
    ),
    "journal-roundness.not-proven": _("Out of round ({half_nm:um}),|allowed {limit_nm:um}: too close."),
    "journal-roundness.absent": _CANNOT_TELL,
    "journal-roundness.nonconforming": _(
        "Out of round ({half_nm:um}),|allowed {limit_nm:um}; ({whole_nm:um}) on diameter."
    ),
    "journal-taper.conforming": _(
        "Taper ({half_nm:um}),|allowed {limit_nm:um}; ({whole_nm:um}) on diameter."
    ),
    "journal-taper.not-proven": _("Taper ({half_nm:um}),|allowed {limit_nm:um}: too close."),
    "journal-taper.absent": _CANNOT_TELL,
    "journal-taper.nonconforming": _(
        "Taper ({half_nm:um}),|allowed {limit_nm:um}; ({whole_nm:um}) on diameter. "
        "The mean ({mean_nm:dev}) hides it."
    ),
    "bore-in-class.conforming": _("Bore {mean_nm:dev},|class {lower_nm:dev}…{upper_nm:dev}."),
    "bore-in-class.not-proven": _("Bore {mean_nm:dev},|too close to {lower_nm:dev}…{upper_nm:dev}."),
    "bore-in-class.nonconforming": _("Bore {mean_nm:dev},|outside {lower_nm:dev}…{upper_nm:dev}."),
    "bore-in-class.above": _("Bore {mean_nm:dev}:|above {upper_nm:dev}. Sign or field swapped?"),
    "bore-in-class.no-uncertainty": _("The bore gauge has no calibration:|not proven."),
    "interference.absent": _CANNOT_TELL,
    "interference.conforming": _(
        "({least_nm:um}…{most_nm:um}) µm,|asked for {lower_nm:um}…{upper_nm:um} µm."
    ),
    "interference.not-proven": _(
        "({least_nm:um}…{most_nm:um}) µm,|too close to {lower_nm:um}…{upper_nm:um} µm."
    ),
    "interference.nonconforming": _(
        "({least_nm:um}…{most_nm:um}) µm,|outside {lower_nm:um}…{upper_nm:um} µm."
    ),
    "clearance-in-group.conforming": _("G0 {g0_nm:um} µm,|group {lower_nm:um}…{upper_nm:um} µm."),
    "clearance-in-group.not-proven": _("G0 {g0_nm:um} µm,|close to group {lower_nm:um}…{upper_nm:um} µm."),
    "clearance-in-group.nonconforming": _("G0 {g0_nm:um} µm,|outside group {lower_nm:um}…{upper_nm:um} µm."),
    "clearance-in-group.no-uncertainty": _("G0 {g0_nm:um} µm|by a dial without calibration: not proven."),
    "clearance-forecast.conforming": _(
        "({mean_nm:um}) µm left when cold;|worst ({worst_low_nm:um}…{worst_high_nm:um}), "
        "too small in {below_ppm:pct} of cases."
    ),
    "clearance-forecast.not-proven": _(
        "({mean_nm:um}) µm left when cold,|too small in {below_ppm:pct} of cases. Measure G0."
    ),
    "clearance-forecast.nonconforming": _(
        "No clearance left when cold: ({mean_nm:um}) µm,|too small in {below_ppm:pct} of cases."
    ),
    "clearance-forecast.absent": _CANNOT_TELL,
    "clearance-forecast.no-group": _("No table knows this clearance group:|measure G0."),
    "clearance-found.conforming": _("G1 {g1_nm:um} µm,|at least {lower_nm:um} µm wanted."),
    "clearance-found.nonconforming": _("G1 {g1_nm:um} µm,|less than {lower_nm:um} µm."),
    "clearance-found.no-uncertainty": _("G1 {g1_nm:um} µm|by a dial without calibration: not proven."),
    "clearance-as-forecast.conforming": _("G1 {g1_nm:um},|forecast ({forecast_nm:um}) ± {allowed_nm:um}."),
    "clearance-as-forecast.query": _(
        "G1 {g1_nm:um},|forecast ({forecast_nm:um}) ± {allowed_nm:um}: fit, bearing or G1 is not as said."
    ),
    "released-before-heat.conforming": _("Released before heat,|by {means}."),
    "released-before-heat.not-heated": _("Not heated yet.|Heat names the release it relies on."),
    "released-before-heat.names-none": _("Heat named no release:|that it was decided before is not proven."),
    "released-before-heat.later": _("Heated first,|released later."),
    "released-before-heat.voided": _("The release was void:|a reading it rests on has changed."),
    "released-before-heat.telephone-differs": _(
        "The telephone code|does not fit these readings: not proven that they existed when he agreed."
    ),
    "heater-named.conforming": _("{mark},|{kind}."),
    "heater-named.not-proven": _("{mark}|is not in use."),
    "probe-on-inner-ring.nonconforming": _("Probe on the {said}:|the inner ring may have been hotter."),
    "peak-temperature.conforming": _("Peak {peak_mdegc:c},|never above {cap_mdegc:c} ({ceiling})."),
    "peak-temperature.not-proven": _("Peak {peak_mdegc:c},|too close to {cap_mdegc:c} ({ceiling})."),
    "peak-temperature.nonconforming": _("Peak {peak_mdegc:c}:|{over_mk:k} over {cap_mdegc:c} ({ceiling})."),
    "peak-temperature.off-inner-ring": _(
        "{peak_mdegc:c} beside the inner ring:|{over_mk:k} over {cap_mdegc:c} ({ceiling})."
    ),
    "peak-temperature.not-inner": _("{read_mdegc:c} was not the inner ring's:|its peak is not proven."),
    "peak-temperature.by-log-conforming": _(
        "Peak {peak_mdegc:c} by the heater's log,|never above {cap_mdegc:c} ({ceiling})."
    ),
    "peak-temperature.by-log-not-proven": _(
        "Peak {peak_mdegc:c} by the heater's log,|too close to {cap_mdegc:c} ({ceiling})."
    ),
    "peak-temperature.by-log-nonconforming": _(
        "Peak {peak_mdegc:c} by the heater's log:|{over_mk:k} over {cap_mdegc:c} ({ceiling})."
    ),
    **LOG_FINDINGS,
    **PEOPLE_FINDINGS,
    **PAPER_FINDINGS,
    **POINT_FINDINGS,
    "ring-difference.by-log-conforming": _(
        "Inner {difference_mk:k} hotter at one moment of the log,|up to ({allowed_mk:k}) is safe."
    ),
    "ring-difference.by-log-query": _(
        "Inner {difference_mk:k} hotter at one moment of the log,|up to ({allowed_mk:k}) is safe. "
        "Was it turned while hot?"
    ),
    "ring-difference.conforming": _("Inner {difference_mk:k} hotter,|up to ({allowed_mk:k}) is safe."),
    "ring-difference.query": _(
        "Inner {difference_mk:k} hotter,|up to ({allowed_mk:k}) is safe. Was it turned while hot?"
    ),
    "slid-on.absent": _CANNOT_TELL,
    "slid-on.not-inner": _BESIDE_INNER,
    "slid-on.conforming": _("({room_nm:um}) µm of room|at ({seat_mdegc:c}) on the seat."),
    "slid-on.query": _(
        "It could not have slid on: ({room_nm:um}) µm|at ({seat_mdegc:c}). Journal, bore or heat is wrong."
    ),
    "demagnetised.conforming": _("Demagnetising cycle|waited for."),
    "demagnetised.nonconforming": _("Demagnetising cycle|left out. Swarf will cling."),
    "residual-field.conforming": _("{field_nt:acm},|at most {limit_nt:acm}."),
    "residual-field.not-proven": _("{field_nt:acm},|too close to {limit_nt:acm}."),
    "residual-field.nonconforming": _(
        "{field_nt:acm}:|more than {limit_nt:acm}. Demagnetise and measure again."
    ),
    "residual-field.no-meter": _("{field_nt:acm}|by no calibrated meter."),
    "went-home.conforming": _("Went home.|It did not stick."),
    "went-home.nonconforming": _("Stuck on the way.|Never hammer or flame. Call the engineer."),
    "not-dropped.conforming": _("Not dropped."),
    "not-dropped.nonconforming": _("Dropped.|No looking and finding it fine: scrap, or a laboratory's word."),
    "not-hammered.nonconforming": _("A hammer was used.|Dents at ball pitch are likely."),
    "pressed-home.conforming": _("Pressed {pressed_ms:s},|({needed_ms:s}) needed."),
    "pressed-home.absent": _CANNOT_TELL,
    "pressed-home.not-inner": _BESIDE_INNER,
    "pressed-home.held": _("Held by a {by}."),
    "pressed-home.held-after": _("Held by a {by},|let go after {pressed_ms:s}: it holds by itself."),
    "pressed-home.not-proven": _(
        "Pressed {pressed_ms:s} where ({needed_ms:s}) were needed.|It may have moved."
    ),
    "cold-when-checked.conforming": _("{above_mk:k} above the shaft,|cold."),
    "cold-when-checked.not-proven": _("{above_mk:k} above the shaft:|wait, the ring still shrinks."),
    "cold-when-checked.felt-warm": _(
        "{above_mk:k} above the shaft now,|but gaps were felt before, warm: feel them again."
    ),
    "shoulder-gap.conforming": _("{limit_nm:mm} does not go in|at any of the {count} angles felt."),
    "shoulder-gap.tilted": _(
        "{gap_nm:mm} goes in at {angle}°.|Tilted, not dirty: the gaps at {count} angles lie on a plane."
    ),
    "shoulder-gap.not-seated": _(
        "{gap_nm:mm} goes in at {angle}°,|{limit_nm:mm} or more at all {count} angles. Not seated."
    ),
    "shoulder-gap.some": _(
        "{gap_nm:mm} goes in at {angle}°.|Not home there; {count} of {wanted} angles felt."
    ),
    "shoulder-gap.burr-or-bad-reading": _("{gap_nm:mm} goes in at {angle}°.|Burr, dirt or a bad reading."),
    "shoulder-gap.open": _("{gap_nm:mm} goes in at {angle}°.|Not home."),
    "shoulder-gap.incomplete": _("Angles to come:|{places}."),
    "shoulder-gap.no-blade": _("{mark} has no blade of {limit_nm:mm}:|not proven that none goes in."),
    "shoulder-gap.warm": _("Felt warm:|not proven until cold."),
    "shoulder-gap.felt-warm": _("Felt before the ring was cold:|feel the gaps again. Not proven."),
    "gap-plane.query": _("{off_nm:um} µm off the plane at {angle}°:|burr, dirt or a bad reading."),
    "turns-freely.conforming": _("Turns {said}."),
    "turns-freely.nonconforming": _("{said}|when turned by hand."),
    "covered.nonconforming": _("Not covered.|Wrap the shaft so that it stays clean."),
    "cold-released.conforming": _("Cold check released|before it was covered."),
    "cold-released.not-entered": _("Not yet said|whether it is covered."),
    "cold-released.not-proven": _("Covered before the cold check was released."),
    "cold-released.nonconforming": _("Covered first,|the cold check released later."),
    "cold-released.voided": _("The release of the cold check is void:|something it rests on has changed."),
    "photos-present.conforming": _("Photo received."),
    "photos-present.not-taken": _("Photo not taken."),
    "photos-present.announced": _("Photo taken,|not yet received."),
    "photo-in-time.late": _("Sent when the ring was already on.|Does it show how it was before?"),
    "photo-in-time.taken-late": _(
        "Taken when the ring was already on, by the camera's clock.|Does it show how it was before?"
    ),
    "photo-in-time.early": _("Taken before the ring was last heated.|Does it show the ring as it is now?"),
    "photo-used-before.query": _("The same photo|stands in another record."),
    "heatings.conforming": _("First heating|of this bearing."),
    "heatings.second": _("Second heating|of this bearing, field measured again."),
    "heatings.clearance-again": _("Second heating:|feel G0 again on the cooled ring."),
    "heatings.field-again": _("Second heating:|measure the field again."),
    "heatings.nonconforming": _("Heating number {number}:|from the third on the engineer is asked."),
    **TIME_FINDINGS,
    "reading-speed.query": _(
        "{count} readings in {took_ms:s}:|under {least_ms:s} each. Read one by one, or noted first?"
    ),
    "same-digits.query": _("The same {count} readings as the other end.|By chance once in {one_in}."),
    "released-before-heat.own-work": _("Released by somebody who worked on it:|not independent."),
    "own-reading.own-work": _("Read by somebody who worked on it:|another person reads the marking."),
    "bore-in-class.not-one-temperature": _("Ring and gauge are not one temperature:|wait and measure again."),
    "bore-in-class.temperatures-unknown": _("Temperatures not known:|the bore proves nothing yet."),
    "clearance-found.not-proven": _("G1 {g1_nm:um} µm,|too close to {lower_nm:um} µm."),
    "before-heat": _("From before the last heating:|it says nothing of the ring as it is now. Do it again."),
    "unclear-heat": _(
        "Before or after the last heating?|Clocks and order of receipt disagree: not proven. Do it again."
    ),
    **chosen_words.FINDINGS,
    "measured-conforming": _("{found},|{wanted}."),
    "measured-not-proven": _("{found},|too close to {wanted}."),
    "measured-nonconforming": _("{found},|wanted: {wanted}."),
    "measured-query": _("{found},|usual: {wanted}. Somebody looks."),
    "not-entered": _("Not entered."),
    "absent": _("{state}:|{reason}."),
    "conforming": _("{said}."),
    "nonconforming": _("{said},|wanted: {wanted}."),
    "query": _("{said}.|Somebody looks."),
}

REMARKS: Mapping[str, str] = {
    "hotter-than-aimed": _("Peak {peak_mdegc:c},|above the {aim_mdegc:c} to aim for, under {cap_mdegc:c}."),
    "clock-ahead": _("A device's clock was {ahead_ms:s} ahead|of the receipt."),
    "hoop-stress": _("Hoop stress ({mpa}) MPa|at the bore; not judged."),
}
"""What stands beside the findings: *unusual* and information."""


class _Lettered(Formatter):
    """Letters facts by the word behind the colon."""

    def __init__(self, figures: Figures) -> None:
        self.figures = figures

    def format_field(self, value: Any, format_spec: str) -> str:
        figures = self.figures
        match format_spec:
            case "dev":
                return figures.deviation_um(int(value), 1).removesuffix(f"{figures.decimal_sign}0")
            case "read":  # a reading brought to 20 °C is worked out, not what was typed
                nm, correction_nm = value
                text = self.format_field(nm, "dev")
                return f"({text})" if correction_nm else text
            case "um":
                return figures.um(int(value), 1).removesuffix(f"{figures.decimal_sign}0")
            case "mm":
                return with_unit(figures.mm(int(value), 2), "mm")
            case "c":
                return with_unit(self._tenths(Decimal(value) / 1000), "°C")
            case "k":
                return with_unit(self._tenths(Decimal(value) / 1000), "K")
            case "s":
                return with_unit(figures.plain(round(Decimal(value) / 1000)), "s")
            case "kg":
                return with_unit(self._tenths(Decimal(value) / 1000), "kg")
            case "acm":
                return with_unit(self._tenths(Decimal(value) / NT_PER_A_CM), "A/cm")
            case "pct":
                return self._share(Decimal(value) / 10_000)
            case "day":
                return date_format(date.fromisoformat(value), "j M Y") if value else ""
        return str(value)

    def _share(self, percent: Decimal) -> str:
        """A share finer than is shown is not said to be none."""
        least = Decimal("0.1")
        if 0 <= percent < least:
            return "< " + with_unit(self.figures.plain(least, 1), "%")
        return with_unit(self.figures.plain(percent, 1), "%")

    def _tenths(self, value: Decimal) -> str:
        """As finely as it was read off, an idle nought dropped."""
        return self.figures.plain(value, 1).removesuffix(f"{self.figures.decimal_sign}0")

    def get_value(self, key: Any, args: Any, kwargs: Any) -> Any:
        return kwargs.get(key, "")


SHARED = ("conforming", "not-proven", "nonconforming", "query")
"""Endings whose sentence many rules share; those over one number have `measured-` before them."""


def names_nothing(message: str) -> bool:
    """The sentence of a chosen step that others share: where many stand on one page, the name goes first."""
    rule, _, ending = message.partition(".")
    shared = ending.removeprefix("measured-") in SHARED
    return rule in chosen_words.NAMES and message not in FINDINGS and shared


def sentence(message: str, facts: Mapping[str, Fact], figures: Figures) -> tuple[str, str]:
    """(lead, rest) in the reader's language. An unknown id falls back on its ending, so that a new rule is
    never mute."""
    ending = message.partition(".")[2]
    template = FINDINGS.get(message) or REMARKS.get(message) or FINDINGS.get(ending, FINDINGS["not-entered"])
    known: dict[str, Any] = {**facts, "beyond_nm": abs(int(facts.get("margin_nm", 0)))}
    known["size"] = (facts.get("value_nm", 0), facts.get("correction_nm", 0))
    if "base_unit" in facts:
        known |= measured(facts, figures)
    if "ceiling" in facts:
        known["ceiling"] = ceiling_name(str(facts["ceiling"]))
    if message == "log-readable.unread":
        known["why"] = why_unread(facts)
    lead, _bar, rest = _Lettered(figures).vformat(gettext(template), (), known).partition("|")
    return lead, rest
