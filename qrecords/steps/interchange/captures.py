"""The shape of a capture, made from the fields of each step: what may be said of it, as typed."""

import re

from qrecords.steps.answers import State
from qrecords.steps.fields import Choice as ChoiceOf
from qrecords.steps.fields import Field, Gear, Quantity, Words
from qrecords.steps.interchange.asked import GEAR
from qrecords.steps.interchange.plain_shapes import Choice, Day, Moment, Shape, Text, Whole
from qrecords.steps.interchange.shapes import ByWord, Either, HasName, ListOf, Named, Record
from qrecords.steps.measurement import ACROSS
from qrecords.steps.step import Step
from qrecords.steps.work import STEPS

BASE = {
    "length": "nm",
    "temperature": "m°C",
    "temperature_difference": "mK",
    "time": "ms",
    "mass": "mg",
    "field": "nT",
    "force": "mN",
    "torque": "mN·m",
    "ratio": "ppm",
    "angle": "m°",
    "count": "1",
    "vibration": "µm/s",
}
LOWEST = {"temperature": -273_150}
FURTHEST = 2**50
"""Beyond every value, in base units, so that what is worked out from it stays exact for every reader."""
ABSENT = Named(
    "absent",
    Record(
        {"state": Choice(tuple(state.value for state in State), closed=True), "reason": Text(1000)},
        required=("state", "reason"),
        about="An honest answer that there is no value, and why.",
    ),
)
NAME = "^[A-Za-z0-9_]+([.][A-Za-z0-9]+)*$"
WITH_UNIT = r"^\s*[+\-−]?([0-9]+([.,][0-9]*)?|[.,][0-9]+)\s*[^0-9.,\s]"
"""A number with something behind it that is none of its figures."""


def _units(form: Quantity) -> Shape:
    if form is ACROSS:
        deviation = "um from [0-9]+([.][0-9]+)? mm"
        words = "|".join(form.units)
        return Text(
            60, 1, f"^({words}|{deviation})$", f"{', '.join(form.units)}, or um from the nominal size"
        )
    return Choice(form.units)


def _quantity(form: Quantity) -> Shape:
    base = BASE[form.quantity]
    value = Whole(LOWEST.get(form.quantity, -FURTHEST), FURTHEST, base)
    given = Record(
        {"typed": Text(48, 1), "unit": _units(form), "value": value},
        required=("typed", "unit"),
        stored=("typed", "unit", "value"),
        about=f"As typed; value is the same in {base}, and may be left out.",
    )
    short = Text(110, 1, WITH_UNIT, f"a number with its unit, in {', '.join(form.units)}")
    units = "-".join(re.sub("[^A-Za-z]", "", unit) for unit in form.units)
    name = f"{form.quantity}-{units}{'-or-deviation' if form is ACROSS else ''}"
    return Named(name, Either({"string": short, "object": HasName("state", ABSENT, given)}))


def _words(of: Shape, about: str = "") -> Shape:
    given = Record(
        {"typed": of, "unit": Text(0), "value": of},
        required=("typed",),
        stored=("typed", "unit", "value"),
        about=about,
    )
    return Either({"string": of, "object": HasName("state", ABSENT, given)})


def answer_shape(field: Field) -> Shape:
    """What may be said in answer to one field."""
    match field.form:
        case Quantity():
            return _quantity(field.form)
        case ChoiceOf(options):
            return _words(Choice(options))
        case Words(longest):
            return _words(Text(longest, 1, about="in one line"))
        case Gear(kinds):
            return _words(Text(80, 1, about=f"which {' or '.join(kinds)}: its name under gear, or its id"))


def fields_shape(step: Step) -> Record:
    """Every field of a step; those asked at several places by the form of their names."""
    return Record(
        {field.id: answer_shape(field) for field in step.fields if not field.many},
        patterns={
            f"^{field.id}[.](?:{field.place})$": answer_shape(field) for field in step.fields if field.many
        },
        examples=tuple(f"{field.id}.{_place(field.place)}" for field in step.fields if field.many),
        about=f"What was said of the step {step.id}.",
    )


def _place(pattern: str) -> str:
    """One place that a pattern takes, to be shown in its stead."""
    return next((place for place in ("A.60", "90", "A") if re.fullmatch(pattern, place)), pattern)


PAPER = Record(
    {
        "sheet": Text(80, 1, about="the entry of kind paper sheet"),
        "written": Text(20, about="day and time as written there"),
        "reference": Text(80, about="of heater on: the release as it is named there by hand"),
    },
    required=("sheet",),
    about="Where it was entered from a sheet of paper.",
)
WRITTEN_AT = Moment()
SAID = Named(
    "said-of-a-step",
    ByWord(
        "step",
        {
            step.id: Record(
                {
                    "step": Choice((step.id,)),
                    "role": Choice(("work", "check"), "check: the inspector's own reading"),
                    "fields": Named(f"fields-of-{step.id}", fields_shape(step)),
                    "paper": PAPER,
                },
                required=("step", "fields"),
                stored=("step", "fields"),
            )
            for step in STEPS.values()
        },
    ),
)

_STATES = ("held", "differs", "lapsed", "none", "kind unknown")
_OF = Record({"until": Day(), "not_done_since": Day()}, about="until when it held")
COMPETENCE: dict[str, Shape] = {
    "competence": Choice(_STATES, "of the author, for the step's task"),
    "competence_of": _OF,
    "eyesight": Choice(_STATES, "of who checks, tested to the employer's requirement"),
    "eyesight_of": _OF,
}
_GEAR_BY_FIELD = Record({}, patterns={NAME: GEAR})
SEEN = Record(
    {
        "days": ListOf(Day(), 2, 2, "first and last day on which it can have been done"),
        "gear": _GEAR_BY_FIELD,
        "gear_received": _GEAR_BY_FIELD,
        **COMPETENCE,
        "replaces": Record({}, patterns={NAME: Text(80)}, about="field → the entry corrected"),
        "unconfirmed": ListOf(Text(80), 0, 400),
        "reason": Text(200),
        "written_at": WRITTEN_AT,
        "shift": Text(80, about="the shift start in force"),
    },
    about="What was frozen beside it: gear by the field that names it.",
)
