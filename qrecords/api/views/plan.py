"""The planner as data: the same question as its page asks, the same answer, and nothing is kept."""

from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api import door
from qrecords.api.door import Resource
from qrecords.api.fields import Answer, AsTyped, Body, Text
from qrecords.api.forms import OWN_COPY, UNCONFIRMED, OwnRow, Working
from qrecords.api.operations import Operation
from qrecords.engineering import heating
from qrecords.engineering.tables import BUILT_IN, Tables
from qrecords.mountings.errors import FieldsError
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.steps.errors import FieldError
from qrecords.steps.findings import Verdict, of_rows, working_in_parts
from qrecords.steps.planner.judging import Judged, judged
from qrecords.steps.planner.plan import FitPlan, Left, most_c, needed_c, plan_fit, results
from qrecords.steps.planner.reading import read_asked
from qrecords.wording.asked_back import allowed_of
from qrecords.wording.lettering import Lettering
from qrecords.wording.planned import message_id, told
from qrecords.workshop.tables import tables_for_planning

LONGEST = 120


def _number(told: str) -> AsTyped:
    return AsTyped(required=False, help_text=told)


def _word(told: str) -> Text:
    return Text(required=False, allow_blank=True, max_length=LONGEST, help_text=told)


class PlanQuestion(Body):
    """What is planned. Numbers are text as typed, comma or point, and may have their unit behind them; else
    sizes count in mm, deviations and clearances in µm, or with `lengths` in inch and thou. Bearing or sizes,
    and a class or readings of the journal, are wanted; all else narrows the answer."""

    lengths = _word("mm or in")
    temperatures = _word("C or F")
    bearing = _word("its designation, as 6213 C3")
    nominal = _number("bore d, 1…2000 mm")
    outside = _number("outside diameter D, 2…3000 mm")
    width = _number("width B, 1…1000 mm")
    clearance_kind = _word("the clearance table, where the designation does not tell it; none: measure")
    group = _word("clearance group 2, N, 3, 4 or 5")
    g0 = _number("internal clearance G0, measured")
    other_group = _word("group of another bearing to compare")
    other_g0 = _number("G0 of the other one, measured")
    shaft_class = _word("tolerance class of the journal, as m5")
    journal_low = _number("lowest reading of the journal: deviation, or with mm or in behind it the size")
    journal_high = _number("highest reading of the journal")
    bore_class = _word("class of the bore: Normal, 6, 5, 4 or 2")
    bore = _number("bore, measured: deviation, or with mm or in behind it the size")
    shaft_bore = _number("bore of a hollow shaft; 0: solid")
    seat = _word("ground or turned")
    shaft_temp = _number("temperature of the shaft now")
    air_temp = _number("temperature of the air; the shaft's if left out")
    kind = _word("kind of bearing, which has a ceiling of the house")
    ceiling = _number("the bearing's own ceiling")
    ceiling_source = _word("where the own ceiling is written")
    gauge_u = _number("expanded uncertainty U (k = 2) of the gauge")
    least = _number("least clearance that must be left; 0 if left out")
    evenly = _number("how much hotter the inner ring may be when it leaves the heater")
    habit = _number("a fixed temperature to compare; 110 °C if left out")
    mass = _number("mass of the bearing, kg or lb; estimated if left out")
    mass_from = _word("where the mass was taken from: drawing or measured")
    raceway = _number("raceway diameter of the inner ring; estimated if left out")
    raceway_from = _word("where the raceway was taken from: drawing or measured")
    air_speed = _number("how fast the air moves round the ring, m/s or ft/min; still air if left out")


class PlannedBearing(Answer):
    """One bearing, and what clearance it has left when cold, in µm; null where nobody can tell."""

    name = serializers.CharField()
    group = serializers.CharField()
    measured = serializers.BooleanField()
    worst_low_um = serializers.CharField(allow_null=True)
    worst_high_um = serializers.CharField(allow_null=True)
    probable_low_um = serializers.CharField(allow_null=True)
    probable_high_um = serializers.CharField(allow_null=True)
    least_um = serializers.CharField(allow_null=True)
    below_least = serializers.CharField(
        allow_null=True, help_text="chance of having less than the least, 0…1"
    )


class PlannedHeat(Answer):
    """What to set and what to keep to; null where there is no plan: the verdict on heat says why."""

    set_c = serializers.IntegerField(allow_null=True)
    must_reach_c = serializers.IntegerField(allow_null=True)
    never_above_c = serializers.IntegerField(allow_null=True)
    carry_s = serializers.IntegerField(allow_null=True)
    pressing_s = serializers.IntegerField(allow_null=True)
    needed_c = serializers.CharField(allow_null=True)
    most_c = serializers.CharField(help_text="the ceiling less its guard")
    ceiling = serializers.CharField()
    ceiling_c = serializers.CharField()
    ceiling_source = serializers.CharField()
    ceiling_confirmed = serializers.BooleanField()


class PlanVerdict(Answer):
    """How one result stands and why; facts in nm, m°C, mK, kPa, ppm and mm/s, as the ends of their names say.
    `message` is the id of the sentence, `text` the sentence itself in the units that were asked for; '' where
    the plan says it."""

    about = serializers.CharField()
    verdict = serializers.ChoiceField([verdict.value for verdict in Verdict])
    reason = serializers.CharField()
    facts = serializers.DictField()
    message = serializers.CharField()
    text = serializers.CharField(allow_blank=True)


class PlanAnswer(Answer):
    """The whole plan. `results` holds every worked-out number by its name, with its working in
    the lengths and temperatures that were asked for; its unit says so."""

    bearing = serializers.CharField()
    nominal_mm = serializers.CharField()
    outside_mm = serializers.CharField()
    width_mm = serializers.CharField()
    sizes_source = serializers.CharField()
    sizes_unconfirmed = serializers.ListField(child=serializers.CharField(), help_text=UNCONFIRMED)
    sizes_own_copy = OwnRow(many=True, help_text=OWN_COPY)
    tables = serializers.CharField(help_text="SHA-256 of the tables of the standards that answered")
    bearings = PlannedBearing(many=True)
    heat_for = serializers.CharField(help_text="the bearing that heat and ring difference are for")
    heat = PlannedHeat()
    results = serializers.DictField(child=Working())
    verdicts = PlanVerdict(many=True)


class Plan(Resource):
    operations = {
        "GET": Operation(
            "plan a fit", (Action.READ,), PlanAnswer, query=PlanQuestion, open_by="PLANNER_OPEN"
        ),
        "POST": Operation(
            "plan a fit from a body", (Action.READ,), PlanAnswer, body=PlanQuestion, open_by="PLANNER_OPEN"
        ),
    }

    def get(self, request: Request) -> Response:
        """Fit, clearance left, stress and heat, without a record. Nothing is kept. Guidance only: the law and
        codes where you work, your employer's risk assessment and permit, the makers' instructions and the
        drawing come first."""
        return _answered(self.asked(request), _tables(request))

    def post(self, request: Request) -> Response:
        """The same, the question in the body. Nothing is kept by it either."""
        return _answered(self.said(request), _tables(request))


def _tables(request: Request) -> Tables:
    """Those in force where the asker works; the built-in ones for who is not signed in."""
    person = request.user
    return tables_for_planning(person.id, door.now()) if isinstance(person, Person) else BUILT_IN


def _answered(question: dict[str, Any], tables: Tables) -> Response:
    asked, asks = read_asked(question, tables)
    if asked is None:
        raise FieldsError({name: _worded(error) for name, error in asks.items()})
    plan, letters = plan_fit(asked), Lettering.of(question)
    sizes = asked.sizes
    return Response(
        PlanAnswer(
            {
                "bearing": asked.bearing.name,
                "nominal_mm": f"{sizes.bore_mm.normalize():f}",
                "outside_mm": f"{sizes.outside_mm.normalize():f}",
                "width_mm": f"{sizes.width_mm.normalize():f}",
                "sizes_source": sizes.source,
                **{f"sizes_{name}": texts for name, texts in of_rows(sizes.unconfirmed).items()},
                "tables": asked.tables.digest,
                "bearings": [_bearing(left) for left in plan.left],
                "heat_for": plan.heated_left.candidate.name,
                "heat": _heat(plan),
                "results": {n: working_in_parts(letters.result(r)) for n, r in results(plan).items()},
                "verdicts": [_verdict(each, letters) for each in judged(plan)],
            }
        ).data
    )


def _worded(error: FieldError) -> FieldError:
    """What would be right in words, where that is no range; `why` stays the id of its sentence."""
    return FieldError(error.field, error.typed, error.unit, allowed_of(error), error.why)


def _verdict(judged: Judged, letters: Lettering) -> dict[str, Any]:
    text = " ".join(part for part in told(judged, letters) if part)
    return {**vars(judged), "message": message_id(judged), "text": text}


def _bearing(left: Left) -> dict[str, Any]:
    found = left.forecast
    ends = ("worst_low_um", "worst_high_um", "probable_low_um", "probable_high_um")
    return {
        "name": left.candidate.name,
        "group": left.candidate.group,
        "measured": left.measured,
        **{name: None if found is None else f"{getattr(found, name):.4g}" for name in ends},
        "least_um": None if found is None else f"{found.minimum_um:g}",
        "below_least": None if found is None else f"{found.p_below:.4g}",
    }


def _heat(plan: FitPlan) -> dict[str, Any]:
    heat, needed = plan.heat if isinstance(plan.heat, heating.Plan) else None, needed_c(plan)
    names = ("set_c", "must_reach_c", "never_above_c", "carry_s", "pressing_s")
    return {
        **{name: getattr(heat, name, None) for name in names},
        "needed_c": None if needed is None else f"{needed:.4g}",
        "most_c": f"{most_c(plan):g}",
        "ceiling": plan.ceiling.kind,
        "ceiling_c": f"{plan.ceiling.cap_c:g}",
        "ceiling_source": plan.ceiling.source,
        "ceiling_confirmed": plan.ceiling.confirmed,
    }
