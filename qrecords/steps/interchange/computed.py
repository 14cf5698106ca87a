"""Everything that is worked out of a case, by name, each with its working: also where no rule judges it."""

from collections.abc import Callable, Mapping
from typing import Any

from qrecords.engineering import clearance as clearance_model
from qrecords.engineering import heating as heating_model
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.fits import smoothed
from qrecords.engineering.heating import Plan
from qrecords.engineering.result import Result
from qrecords.steps import bore, clearance, measurement, seating, shoulder_gap
from qrecords.steps.case import Case
from qrecords.steps.fit import cold_fit, heating_plan, interference, pressed
from qrecords.steps.heating import difference_allowed, seat_c
from qrecords.steps.heating_log import ring_logs
from qrecords.steps.heatings import mounted_heating
from qrecords.steps.measurement import Measured, celsius
from qrecords.steps.requirement import said_from

Found = Mapping[str, Result | None]


def results(case: Case) -> dict[str, Result]:
    """Name → result, of all that the answers so far allow."""
    found: dict[str, Result | None] = {}
    for part in PARTS:
        found |= part(case)
    return {name: result for name, result in found.items() if result is not None}


def impossible(case: Case) -> dict[str, EngineeringError]:
    """What was asked of a model that does not describe it, or cannot be: name → why."""
    why: dict[str, EngineeringError] = {}
    plan = heating_plan(case)
    if isinstance(plan, EngineeringError):
        why["heating_plan"] = plan
    try:
        pressed(case)
    except EngineeringError as error:
        why["press_fit"] = error
    return why


def surfaces(case: Case) -> dict[str, Measured]:
    """Journal and bore as measured, brought to 20 °C."""
    found = {"journal": measurement.journal(case), "bore": bore.bore(case)}
    return {name: measured for name, measured in found.items() if measured is not None}


def _readings(case: Case) -> Found:
    return {f"{name}_reading_u": measured.working for name, measured in surfaces(case).items()}


def _fit(case: Case) -> Found:
    fit = interference(case)
    if fit is None:
        return {}
    return {
        "interference": fit.mean,
        "interference_most": fit.local_max,
        "interference_least": fit.local_min,
        "effective_interference": smoothed(
            fit.local_max.value, float(case.requirement.nominal_mm), case.requirement.seat
        ),
    }


def _clearance(case: Case) -> Found:
    asked = case.requirement
    sizes = float(asked.nominal_mm), float(asked.outside_mm), float(asked.shaft_bore_mm)
    raceway_mm = float(asked.raceway_mm) if asked.raceway_mm else None
    forecast = clearance.forecast(case)
    found: dict[str, Result | None] = {
        "loss_factor": clearance_model.loss_factor(*sizes, raceway_mm, said_from(asked.raceway_from)),
        "clearance_forecast": forecast.mean if forecast else None,
    }
    safe, clamped = difference_allowed(case) or (None, None)
    return found | {"ring_difference": safe, "ring_difference_clamped": clamped}


def _stress(case: Case) -> Found:
    try:
        found = pressed(case)
    except EngineeringError:
        return {}
    return {} if found is None else found._asdict()


def _heat(case: Case) -> Found:
    plan = heating_plan(case)
    if not isinstance(plan, Plan):
        return {}
    return {
        "at_contact": plan.contact,
        "to_aim_for": plan.wanted,
        "growth": plan.grown,
        "carry_drop": plan.drop,
        "even": plan.start,
        "carry": plan.carry,
        "grip": plan.pressing.grip if plan.pressing else None,
        "pressing": plan.pressing.hold if plan.pressing else None,
    }


def _met(case: Case) -> Found:
    """Of the heating the ring went on with: the room it had on the seat, and how long it had to be held."""
    case = mounted_heating(case)
    fit, shaft_c, hot = cold_fit(case), celsius(case, "shaft"), seat_c(case)
    needed = seating.needed_ms(case)
    found: dict[str, Result | None] = {"hold_needed": needed[1] if needed else None}
    if fit is None or shaft_c is None or hot is None:
        return found
    return found | {"room_on_the_seat": heating_model.slide_on(fit, shaft_c, hot, hot)}


def _gap(case: Case) -> Found:
    fitted = shoulder_gap.plane(case) if shoulder_gap.felt(case) else None
    return {"tilt": fitted.tilt if fitted else None}


def _logs(case: Case) -> Found:
    """Of every column of the heater's logs that is a ring, under its number and ring."""
    found: dict[str, Result | None] = {}
    for log in ring_logs(case):
        name, curve = f"log_{log.number}_{log.ring.replace(' ', '_')}", log.curve
        found |= {
            f"{name}_peak": curve.peak,
            f"{name}_rate": curve.rate,
            f"{name}_least_time_above": curve.above.low,
            f"{name}_most_time_above": curve.above.high,
            f"{name}_overshoot": curve.overshoot,
            f"{name}_soak": curve.soak,
        }
    return found


PARTS: tuple[Callable[[Case], Any], ...] = (
    *(_readings, _fit, _clearance, _stress, _heat, _logs),
    *(_met, _gap),
)
