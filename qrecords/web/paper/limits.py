"""What is allowed beside a box of the paper sheet: the limits of this mounting as they stand."""

from decimal import Decimal

from django.utils.translation import gettext

from qrecords.steps.case import Case
from qrecords.steps.clearance import group
from qrecords.steps.felt_cold import COLD_WITHIN_MK
from qrecords.steps.fit import ceiling
from qrecords.steps.requirement import Limits
from qrecords.steps.shoulder_gap import gap_limit_nm
from qrecords.web.showing import FIGURES
from qrecords.wording.ceilings import ceiling_name
from qrecords.wording.figures import ELLIPSIS, NT_PER_A_CM, with_unit

ONE_TEMPERATURE = ("shaft", "bearing", "gauge_temp")


def limit_of(case: Case, name: str) -> str:
    """The limit of one field, as `step.field`; '' where none is asked there."""
    asked = case.requirement
    match name:
        case "identification.marking":
            return gettext("the drawing asks: {what}").format(what=asked.designation)
        case "clearance_before.g0":
            limits = group(case)
            return limits_um(limits.min_um, limits.max_um) if limits else ""
        case "clearance_after.g1" if asked.clearance_min_nm is not None:
            return gettext("{least} or more").format(least=um(asked.clearance_min_nm))
        case "heating.peak" | "heating.peak_outer" | "heating.cross_check":
            cap = ceiling(case)
            facts = {"cap": with_unit(f"{cap.cap_c:g}", "°C"), "kind": ceiling_name(cap.kind)}
            return gettext("never above {cap} ({kind})").format(**facts)
        case "demagnetisation.field":
            most = FIGURES.plain(Decimal(case.procedure.field_limit_nt) / Decimal(str(NT_PER_A_CM)), 1)
            return gettext("up to {most}").format(most=with_unit(most, "A/cm"))
        case "shoulder_gap.ring_temp":
            return gettext("up to {k} above the shaft").format(k=with_unit(str(COLD_WITHIN_MK // 1000), "K"))
    step, _, key = name.partition(".")
    if step == "measurement" and key in ONE_TEMPERATURE:
        spread = with_unit(str(case.procedure.spread_limit_mk // 1000), "K")
        return gettext("within {k} of one another").format(k=spread)
    return ""


def um(nanometres: int) -> str:
    return with_unit(FIGURES.um(nanometres), "µm")


def limits_um(low: float, high: float) -> str:
    return with_unit(f"{low:g}{ELLIPSIS}{high:g}", "µm")


def deviations(limits: Limits) -> str:
    """`+11…+30 µm from nominal`."""
    lower, upper = (FIGURES.deviation_um(each) for each in (limits.lower_nm, limits.upper_nm))
    return gettext("{limits} from nominal").format(limits=with_unit(f"{lower}{ELLIPSIS}{upper}", "µm"))


def blade(case: Case) -> str:
    """The blade that must not go in: `0,03 mm does not go in`."""
    size = with_unit(FIGURES.mm(gap_limit_nm(case), 2), "mm")
    return gettext("{blade} does not go in").format(blade=size)
