"""From typed texts to what is asked: the bearing by designation or by its sizes, limits by class or typed."""

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal

from qrecords.engineering.bearings import (
    InternalClearance,
    bore_limits,
    bore_limits_of,
    boundary_dimensions,
    internal_clearance,
)
from qrecords.engineering.ceilings import KINDS, Ceiling, own_data
from qrecords.engineering.designation import Designation, parse_designation
from qrecords.engineering.errors import DesignationError, EngineeringError, UnknownClassError
from qrecords.engineering.habits import ALWAYS_C
from qrecords.engineering.limits import Limits, limits_of_size, shaft_classes
from qrecords.engineering.tables import BUILT_IN, Tables
from qrecords.steps.designated import CLEARANCE_KINDS, GROUPS, NO_TABLE
from qrecords.steps.errors import FieldError
from qrecords.steps.planner.asked import INPUTS, UNITS, Asked, Candidate, Sizes
from qrecords.steps.planner.form import Form
from qrecords.steps.requirement import BOUNDS, SEATS

BORE_CLASSES = ("Normal", "6", "5", "4", "2")
WIDEST_CLEARANCE_NM, WIDEST_U_NM = 2_000_000, 200_000
COLDEST_C, WARMEST_C, HOTTEST_C = -60, 200, 400
FASTEST_M_S = 30
"""More than this is a storm, and a slip."""
ORIGINS = ("drawing", "measured")
"""Where a mass or a raceway may come from: no table here holds them."""
LONGEST_SOURCE, MOST_NAMED, SEAT_LETTERS = 120, 24, "hjkmnp"
_GROUP_MARK = re.compile(r"\bC[1-5N]\b")


def asked_for(typed: Mapping[str, str]) -> bool:
    """Whether anything was asked at all; units alone ask nothing."""
    return any(typed.get(name, "").strip() for name in INPUTS if name not in UNITS)


def read_asked(
    typed: Mapping[str, str], tables: Tables = BUILT_IN
) -> tuple[Asked | None, dict[str, FieldError]]:
    """The question, answered by these tables, or every field that gives no answer, each with value, unit and
    what is allowed."""
    form = Form(typed, tables)
    designation = _designation(form)
    sizes = _sizes(form, designation)
    temperatures = _temperatures(form)
    own, evenly = _own_ceiling(form), form.kelvin("evenly", 200)
    habit = form.celsius("habit", 30, HOTTEST_C)
    u_nm = form.length_nm("gauge_u", 0, WIDEST_U_NM)
    least_nm = form.length_nm("least", -WIDEST_CLEARANCE_NM, WIDEST_CLEARANCE_NM)
    kinds, seat = _kinds(form, designation), form.one_of("seat", SEATS) or "ground"
    if sizes is None:
        return None, form.asks
    kind = _clearance_kind(form, designation)
    mass_kg, raceway_mm = form.mass_kg("mass", *BOUNDS["mass_kg"][:2]), _raceway(form, sizes)
    bearing, other = _candidates(form, designation, sizes, kind)
    asked = Asked(
        designation=designation,
        sizes=sizes,
        journal=_journal_class(form, sizes.bore_mm),
        journal_nm=_readings(form, sizes.bore_mm),
        bore=_bore_class(form, designation, sizes.bore_mm),
        bore_nm=form.deviation_nm("bore", sizes.bore_mm),
        bearing=bearing,
        other=other,
        clearance_kind=kind,
        shaft_bore_mm=_shaft_bore(form, sizes.bore_mm),
        seat=seat,
        kinds=kinds,
        own=own,
        u_um=None if u_nm is None else u_nm / 2000,
        least_um=(least_nm or 0) / 1000,
        shaft_c=temperatures[0],
        air_c=temperatures[1],
        evenly_k=evenly,
        habit_c=ALWAYS_C if habit is None else habit,
        tables=tables,
        mass_kg=mass_kg,
        mass_from=_origin(form, "mass_from", mass_kg),
        raceway_mm=raceway_mm,
        raceway_from=_origin(form, "raceway_from", raceway_mm),
        air_m_s=form.metres_a_second("air_speed", FASTEST_M_S) or 0.0,
    )
    if asked.journal is None and asked.journal_nm is None:
        form.ask("shaft_class", "class-or-readings")
    return (None if form.asks else asked), form.asks


def _designation(form: Form) -> Designation | None:
    text = form.text("bearing")
    if not text:
        return None
    try:
        return parse_designation(text)
    except EngineeringError as error:
        reason = error.reason if isinstance(error, DesignationError) else str(error)
        form.ask("bearing", "not-a-designation", reason=reason)
        return None


def _sizes(form: Form, designation: Designation | None) -> Sizes | None:
    """d, D and B as typed, else as the designation says. A typed d that contradicts it is asked back."""
    typed = {name: form.size_mm(name, *BOUNDS[f"{name}_mm"][:2]) for name in ("nominal", "outside", "width")}
    known, source, doubts = _of_table(designation, form.tables)
    bore, told = known.get("nominal"), typed["nominal"]
    if bore is not None and told is not None and bore != told:
        form.ask(
            "nominal", "other-bore", unit=form.size_unit, d=form.said_mm(bore), bearing=form.text("bearing")
        )
    found = {name: value if value is not None else known.get(name) for name, value in typed.items()}
    for name in ("nominal", "outside", "width"):
        if found[name] is None:
            _ask_size(form, name, designation)
    d, big, b = found["nominal"], found["outside"], found["width"]
    if d is None or big is None or b is None:
        return None
    if big <= d:
        form.ask("outside", "not-over-bore", unit=form.size_unit, d=form.said_mm(d))
    by_hand = any(typed[name] is not None for name in ("outside", "width")) or not source
    return Sizes(d, big, b, "as typed" if by_hand else source, () if by_hand else doubts)


def _ask_size(form: Form, name: str, designation: Designation | None) -> None:
    if designation is None and not form.text("nominal") and name == "nominal":
        form.ask("bearing", "bearing-or-sizes")
    elif designation is not None or form.text("nominal"):
        low, high, _unit = BOUNDS[f"{name}_mm"]
        least = form.said_mm(low).split()[0]
        form.ask(name, "no-table", f"{least}…{form.said_mm(high)}", form.size_unit)


def _of_table(
    designation: Designation | None, tables: Tables
) -> tuple[dict[str, Decimal], str, tuple[str, ...]]:
    if designation is None:
        return {}, "", ()
    bore = {} if designation.bore_mm is None else {"nominal": designation.bore_mm}
    try:
        held = boundary_dimensions(designation, tables)
    except EngineeringError:
        return bore, "", ()
    outside, width = (Decimal(str(value)) for value in (held.outside_mm, held.width_mm))
    return bore | {"outside": outside, "width": width}, held.source, held.unconfirmed


def _journal_class(form: Form, bore_mm: Decimal) -> Limits | None:
    text = form.text("shaft_class")
    if not text:
        return None
    there = _seats(shaft_classes(bore_mm, text, form.tables))
    if text[:1].isupper():
        form.ask("shaft_class", "hole-class", there)
        return None
    try:
        return limits_of_size(bore_mm, text, form.tables)
    except UnknownClassError as error:
        form.ask("shaft_class", "no-such-class", _seats(error.available))
    except EngineeringError:
        form.ask("shaft_class", "no-such-class", there)
    return None


def _seats(classes: Sequence[str]) -> str:
    """The classes that there are; of very many, those of seats alone."""
    few = classes if len(classes) <= MOST_NAMED else [each for each in classes if each[0] in SEAT_LETTERS]
    return ", ".join(few)


def _readings(form: Form, bore_mm: Decimal) -> tuple[int, int] | None:
    """Lowest and highest; where only one was typed, it is both."""
    low, high = (form.deviation_nm(name, bore_mm) for name in ("journal_low", "journal_high"))
    low, high = (high if low is None else low), (low if high is None else high)
    if low is None or high is None:
        return None
    if low > high:
        form.ask("journal_high", "below-lowest", lowest=form.text("journal_low"))
    return low, high


def _bore_class(form: Form, designation: Designation | None, bore_mm: Decimal) -> Limits:
    """Limits of the bore's class; with something asked back, those of class Normal stand in."""
    own = designation.tolerance_class if designation else "Normal"
    wanted = form.one_of("bore_class", BORE_CLASSES) or own
    try:
        if designation is not None and designation.bore_mm == bore_mm:
            return bore_limits_of(designation, wanted, form.tables)
        return bore_limits(bore_mm, wanted, form.tables)
    except UnknownClassError as error:
        form.ask("bore_class", "no-such-class", ", ".join(error.available))
    except EngineeringError:
        form.ask("bearing" if designation else "nominal", "no-straight-bore")
    return Limits(bore_mm, "Normal", 0, 0, ())


def _clearance_kind(form: Form, designation: Designation | None) -> str:
    """The clearance table; `none` where nobody knows one."""
    said = form.one_of("clearance_kind", (*CLEARANCE_KINDS.values(), NO_TABLE))
    if said:
        return said
    return CLEARANCE_KINDS.get(designation.kind, NO_TABLE) if designation else NO_TABLE


def _candidates(
    form: Form, designation: Designation | None, sizes: Sizes, kind: str
) -> tuple[Candidate, Candidate | None]:
    group = form.one_of("group", GROUPS)
    said = designation.clearance_group.removeprefix("C") if designation else "N"
    if designation and designation.clearance_stated and group and group != said:
        form.ask("group", "other-group", group=f"C{said}", bearing=form.text("bearing"))
    group = group or said
    g0 = form.length_nm("g0", 0, WIDEST_CLEARANCE_NM)
    name = " ".join(designation.text.upper().split()) if designation else _by_sizes(sizes)
    bearing = Candidate(name, group, _group_limits(form, "group", kind, sizes, group), g0)
    other_group, other_g0 = (
        form.one_of("other_group", GROUPS),
        form.length_nm("other_g0", 0, WIDEST_CLEARANCE_NM),
    )
    if not other_group and other_g0 is None:
        return bearing, None
    other_group = other_group or group
    limits = _group_limits(form, "other_group", kind, sizes, other_group)
    return bearing, Candidate(_of_group(name, f"C{other_group}"), other_group, limits, other_g0)


def _of_group(name: str, group: str) -> str:
    """The same bearing of another group: its mark takes the place of the one there, or stands behind."""
    return _GROUP_MARK.sub(group, name) if _GROUP_MARK.search(name) else f"{name} {group}"


def _by_sizes(sizes: Sizes) -> str:
    return " × ".join(f"{size.normalize():f}" for size in (sizes.bore_mm, sizes.outside_mm, sizes.width_mm))


def _group_limits(form: Form, field: str, kind: str, sizes: Sizes, group: str) -> InternalClearance | None:
    if kind == NO_TABLE:
        return None
    try:
        return internal_clearance(kind, sizes.bore_mm, group, form.tables)
    except UnknownClassError as error:
        if form.text(field):
            form.ask(field, "no-such-group", ", ".join(error.available))
    except EngineeringError:
        pass  # no table has this bore: G0 is measured
    return None


def _shaft_bore(form: Form, bore_mm: Decimal) -> Decimal:
    found = form.size_mm("shaft_bore", *BOUNDS["shaft_bore_mm"][:2]) or Decimal(0)
    if found >= bore_mm:
        form.ask("shaft_bore", "not-under-seat", unit=form.size_unit, d=form.said_mm(bore_mm))
        return Decimal(0)
    return found


def _raceway(form: Form, sizes: Sizes) -> Decimal | None:
    """Where the rolling elements run on the inner ring: outside the bore, inside the mean diameter."""
    found = form.size_mm("raceway", *BOUNDS["raceway_mm"][:2])
    mean_mm = (sizes.bore_mm + sizes.outside_mm) / 2
    if found is not None and not sizes.bore_mm < found < mean_mm:
        ends = {"d": form.said_mm(sizes.bore_mm), "mean": form.said_mm(mean_mm)}
        form.ask("raceway", "raceway-outside", unit=form.size_unit, **ends)
        return None
    return found


def _origin(form: Form, name: str, value: Decimal | None) -> str:
    """Where a mass or a raceway was taken from; it counts only with that, as in a record."""
    said = form.one_of(name, ORIGINS)
    if value is not None and not said:
        form.ask(name, "no-origin", ", ".join(ORIGINS))
    return said


def _kinds(form: Form, designation: Designation | None) -> tuple[str, ...]:
    said = form.one_of("kind", KINDS)
    own = ("separable_inner_ring",) if designation and designation.separable else ()
    return (*own, said) if said and said not in own else own


def _own_ceiling(form: Form) -> Ceiling | None:
    """The bearing's own ceiling; it counts only with where it was read."""
    cap_c, source = form.celsius("ceiling", 30, HOTTEST_C), form.text("ceiling_source")
    if cap_c is None:
        return None
    if not source or len(source) > LONGEST_SOURCE or not source.isprintable():
        form.ask("ceiling_source", "no-source", longest=str(LONGEST_SOURCE))
        return None
    return own_data(cap_c, source)


def _temperatures(form: Form) -> tuple[float | None, float | None]:
    shaft, air = (form.celsius(name, COLDEST_C, WARMEST_C) for name in ("shaft_temp", "air_temp"))
    return shaft, shaft if air is None else air
