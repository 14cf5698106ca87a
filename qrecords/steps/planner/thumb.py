"""Rules of thumb at the numbers of one plan: what each would say here, beside what is worked out."""

from collections.abc import Callable, Iterator

from qrecords.engineering import habits, heating
from qrecords.engineering.cooling import Ring, mass_estimate
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.growth import least_clearance
from qrecords.engineering.habits import Habit
from qrecords.steps.planner.plan import FitPlan, ring_of


def rules_of_thumb(plan: FitPlan) -> tuple[Habit, ...]:
    """Every rule that has something to say here; one whose model does not hold, or that lacks a number, is
    left out. The fixed temperature is judged by itself, with the reader's own."""
    return tuple(_answered((*_of_fit(plan), *_of_warmth(plan), *_of_heat(plan))))


Asked = Callable[[], Habit]


def _answered(asked: tuple[Asked, ...]) -> Iterator[Habit]:
    for ask in asked:
        try:
            yield ask()
        except EngineeringError:
            continue  # nothing grips, or a ring too thin for the model: the plan says so already


def _of_fit(plan: FitPlan) -> tuple[Asked, ...]:
    sizes, hollow = plan.asked.sizes, float(plan.asked.shaft_bore_mm)
    d, big, b = (float(size) for size in (sizes.bore_mm, sizes.outside_mm, sizes.width_mm))
    mean, most = plan.fit.mean.value, plan.effective.value
    u_um = plan.asked.u_um
    return (
        lambda: habits.thousandth_of_the_bore(d, plan.asked.tables),
        lambda: habits.eighty_percent(d, big, mean, hollow),
        *(() if hollow else (lambda: habits.one_raceway(d, big, mean),)),
        lambda: habits.narrow_ring(d, big, most, hollow),
        lambda: habits.feeler_while_hot(b, d, mean),
        *((lambda: habits.guard_is_all_of_u(u_um),) if u_um else ()),
    )


def _of_warmth(plan: FitPlan) -> tuple[Asked, ...]:
    """What a shaft that is not as warm as the air does to a reading and to the rise."""
    asked, shaft_c, air_c = plan.asked, plan.asked.shaft_c, plan.asked.air_c
    if shaft_c is None or air_c is None or shaft_c == air_c:
        return ()
    d = float(asked.sizes.bore_mm)
    clearance_um = least_clearance(asked.sizes.bore_mm, asked.tables).value
    return (
        lambda: habits.rise_from_air(d, plan.fit.local_max.value, clearance_um, shaft_c, air_c),
        lambda: habits.warm_shaft_as_read(d, shaft_c, air_c),
    )


def _of_heat(plan: FitPlan) -> tuple[Asked, ...]:
    heat, shaft_c = plan.heat, plan.asked.shaft_c
    if not isinstance(heat, heating.Plan) or shaft_c is None:
        return ()
    ring, mean = ring_of(plan.asked), plan.fit.mean.value
    return (
        lambda: habits.volume_coefficient(ring.bore_mm, heat.set_c - shaft_c),
        *((lambda: _carried(plan, heat, ring, shaft_c),) if plan.asked.evenly_k else ()),
        lambda: habits.held_10_s(ring.bore_mm, ring.outside_mm, mean, heat.set_c, shaft_c),
    )


def _carried(plan: FitPlan, heat: heating.Plan, ring: Ring, shaft_c: float) -> Habit:
    """From the aim till it must still be, as the plan's own carry."""
    air_c = shaft_c if plan.asked.air_c is None else plan.asked.air_c
    mass_kg = mass_estimate(ring).value if ring.mass_kg is None else ring.mass_kg
    sizes_mm = (ring.bore_mm, ring.outside_mm, ring.width_mm)
    outer_c = heat.set_c - (plan.asked.evenly_k or 0.0)
    return habits.carry_by_air_alone(sizes_mm, mass_kg, heat.set_c, outer_c, heat.must_reach_c, air_c)
