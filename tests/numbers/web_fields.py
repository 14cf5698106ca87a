"""The number fields of the pages, found by walking, and a row for each: what is sound there, where it may
lie, and which slips can be true there and are taken."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.queries import case_of
from qrecords.people.models import RoleGrant
from qrecords.people.permissions import Role
from qrecords.steps.procedure import STANDARD
from qrecords.steps.telephone import readings_code, readings_of
from qrecords.web.fitter.screens import SCREENS
from qrecords.web.registers.procedure_form import values_of
from tests.cast import Job, Workshop, start
from tests.kept import kept
from tests.web.desk import make_pictures
from tests.web.fitter_hand import ORDER, SIZES, form_of
from tests.web.test_every_address import PAGES, filled
from tests.web.test_registers_pages import GAUGE

NUMBER = re.compile(r"<input[^>]*inputmode=[^>]*>")
SIGNED = "either sign is a deviation"


@dataclass(frozen=True)
class Row:
    """One number field: a sound value as typed, and its range with its unit as the page says it. `likely` is
    the narrower range that the other numbers let expect (one of several, with bars between); `taken` are
    slips that may be true there, with why nobody is asked. `label` is said where the message stands apart
    from its field; `name` is the input that is filled where a field stands many times; `at` the input beside
    which the page says what two of them contradict."""

    sound: str
    allowed: str
    taken: Mapping[str, str] = field(default_factory=dict)
    label: str = ""
    name: str = ""
    likely: str = ""
    at: str = ""


TEMPERATURE = "0…45 °C"
HOT = "30…150 °C"
COLD = "−20…60 °C"
OFF = "−20…20 µm"
OFF_TAKEN = {
    "10 times": "2 µm off is a fact, which the master check judges",
    "25.4 times": "5 µm off is a fact, which the master check judges",
    "negative": SIGNED,
}
CAPTURES: Mapping[str, Row] = {
    "measurement.master_before": Row("0.2", OFF, OFF_TAKEN, "gauge on its master, off by"),
    "measurement.master_after": Row("0.2", OFF, OFF_TAKEN, "gauge on its master afterwards, off by"),
    "measurement.shaft": Row("20", TEMPERATURE, label="shaft"),
    "measurement.bearing": Row("20", TEMPERATURE, label="bearing"),
    "measurement.gauge_temp": Row("20", TEMPERATURE, label="gauge"),
    "measurement.air": Row("20", TEMPERATURE, label="air"),
    "measurement.master_temp": Row("20", TEMPERATURE, label="master, if it differs"),
    "measurement.plane_at": Row(
        "20",
        "0…2000 mm",
        dict.fromkeys(("10 times", "25.4 times"), "seats are as wide"),
        "from the shoulder to plane A",
        "measurement.plane_at.A",
    ),
    "measurement.journal": Row(
        "18", "−27…68 µm from 60", {"negative": SIGNED}, "journal A at 0°", "measurement.journal.A.0"
    ),
    "bore.bore": Row("-6", "−45…30 µm from 60", {"negative": SIGNED}, "bore A at 0°", "bore.bore.A.0"),
    "clearance_before.g0": Row("30", "11.5…86 µm", label="clearance before, G0"),
    "heating.set_to": Row("95", HOT, label="set to"),
    "heating.own_ceiling": Row("120", "60…200 °C", label="the bearing's own ceiling"),
    "heating.peak": Row("95", HOT, label="peak, by the probe"),
    "heating.peak_outer": Row("85", HOT, label="peak, outer ring"),
    "heating.cross_check": Row("95", HOT, label="cross-check, inner ring"),
    "heating.at_seat": Row("90", HOT, label="ring when it met the seat"),
    "shoulder_gap.ring_temp": Row("21", COLD, label="ring now"),
    "shoulder_gap.shaft_temp": Row("21", COLD, label="shaft now"),
    "demagnetisation.field": Row(
        "0.9",
        "0…39.788736 A/cm",
        {
            "10 times": "9 A/cm is a fact, which the rule of the residual field judges",
            "25.4 times": "23 A/cm is a fact, which the rule of the residual field judges",
        },
        "strongest field, ring cold",
    ),
    "clearance_after.g1": Row("16", "0…86 µm", label="clearance left, G1"),
}
GAP: Mapping[str, Row] = {"more": Row("0.15", "0…0.5 mm", label="gap at 0°")}
OWN: Mapping[str, Row] = {"reading": Row("18", "−27…68 µm from 60", {"negative": SIGNED}, "journal A at 0°")}
DISPLAY: Mapping[str, Row] = {"display": Row("60.018", "54…66 mm", label="Display")}
HEARD = "−27…68 µm from 60"
TELEPHONE: Mapping[str, Row] = {
    "lowest": Row("16", HEARD, {"negative": "heard, and then refused: the readings say otherwise"}, "lowest"),
    "highest": Row("18", HEARD, label="highest", likely="60.016 mm, is above the highest, 59.982 mm"),
}
WANTED = "wide clearances are wanted too; the forecast shows it and is judged by it"
LIMIT = "−2000…2000 µm"
ORDERED: Mapping[str, Row] = {
    "outside": Row("110", "2…3000 mm", likely="63…270 mm"),
    "width": Row("22", "1…1000 mm", likely="5…150 mm"),
    "nominal": Row("60", "1…2000 mm", likely="above that, up to 3000 mm", at="outside"),
    "seat_width": Row("40", "1…2000 mm", likely="6.6…176 mm"),
    "shaft_bore": Row("20", "0…1900 mm", likely="seat of 60 mm; allowed: from 0 to below that"),
    "mass": Row("0.78", "0.001…5000 kg", likely="0.112…2.98 kg"),
    "raceway": Row("72", "1…3000 mm", likely="above d 60, below (d + D)/2 = 85 mm"),
    "stabilised": Row("200", "50…500 °C", {"°F typed as °C": "392 °C: steels are stabilised beyond S4"}),
    "limit_upper": Row("30", LIMIT, likely="−60…83 µm"),
    "limit_lower": Row("11", LIMIT, {"negative": SIGNED}, at="limit_upper"),
    "bore_upper": Row("-4", LIMIT, {"negative": SIGNED}, likely="is below the lower one, -19 µm"),
    "bore_lower": Row("-19", LIMIT, likely="−120…120 µm for a bore of 60 mm", at="bore_upper"),
    "interference_least": Row("11", LIMIT, {"negative": SIGNED}, at="interference_most"),
    "interference_most": Row("45", LIMIT, likely="−60…98 µm", at="interference_least"),
    "roundness": Row("6.5", LIMIT, likely="0…19 µm|above 0, up to 2000 µm"),
    "taper": Row("6.5", LIMIT, likely="0…19 µm|above 0, up to 2000 µm"),
    "gap": Row("30", LIMIT, likely="10…100 µm"),
    "clearance_least": Row("5", LIMIT, {
        "10 times": WANTED, "25.4 times": WANTED, "negative": "a preload may be wanted",
    }),
}  # fmt: skip
FIGURE = "0…1000 µm"
SPANS = "gauges with rods span that"
COARSE = {
    "empty": "not every certificate says it",
    "10 times": "a coarse gauge is accepted with that",
    "25.4 times": "a coarse gauge is accepted with that",
}
YEARS = {"10 times": "ten years is an interval of masters", "empty": "where a due day is given"}
CALIBRATED: Mapping[str, Row] = {
    "expanded_u": Row("1.2", FIGURE, likely="0.3…5 µm"),
    "mpe": Row("4", "0.001…1000 µm", COARSE),
    "interval_months": Row("12", "1…120 months", YEARS),
    "resolution": Row("1", FIGURE, likely="0.1…5 µm"),
    "repeatability": Row("0.3", FIGURE, likely="is more than U, 1.2 µm"),
    "range_low": Row("50", "0…2000 mm", likely="75 mm is not above", at="range_high"),
    "range_high": Row("75", "0…2000 mm", {"10 times": SPANS, "25.4 times": SPANS}),
}
SIZES_DONE = "whoever assesses says up to which size"
ASSESSED: Mapping[str, Row] = {
    "from_mm": Row("10", "0…3000 mm", {"10 times": SIZES_DONE, "25.4 times": SIZES_DONE}),
    "to_mm": Row("400", "0…3000 mm"),
    "jobs": Row("6", "5…1000 supervised jobs", {"10 times": "sixty jobs beside somebody are many, and some"}),
}
MANY = dict.fromkeys(("10 times", "1000 times"), "a store is delivered as many; what came is a fact")
CAME: Mapping[str, Row] = {f"quantity.{n}": Row("6", "1…100000 pieces", MANY) for n in range(1, 9)}


DRAFTED: Mapping[str, Row] = {
    "house_cap_c": Row("110", "60…150 °C"),
    "greased_cap_c": Row("80", "40…120 °C"),
    "field_nt": Row("0.3", "0.05…1 mT"),
    "blade_nm": Row("0.03", "0.01…0.1 mm"),
    "spread_mk": Row("5", "0.5…10 K"),
    "p0-notice": Row("10080", "0…43200 min"),
}
VISIT = {"p0-kind": "witness", "p0-title": "Fit seen", "p0-party": "class surveyor", "p0-c-bore": "yes"}
AT_START: Mapping[str, Row] = {
    "air": Row("19.5", COLD, {"negative": "a hall may be as cold"}, "air of the shop"),
    "humidity": Row("48", "5…100 %", label="relative humidity"),
}
"""Numbers of the climate at shift start."""


@dataclass
class Scene:
    """Somebody with every role, before a job just opened and one measured by somebody else."""

    client: Client
    fresh: Job
    measured: Job


def scene(shop: Workshop) -> Scene:
    fresh, measured = everything_to_fill_in(shop)
    client = Client()
    person = shop.people["inspector"]
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    make_pictures()
    return Scene(client, fresh, measured)


@kept
def everything_to_fill_in(shop: Workshop) -> tuple[Job, Job]:
    """A fresh job and a measured one, and an inspector with every right."""
    for role in Role:
        RoleGrant.objects.create(
            id=new_id(),
            person=shop.people["inspector"],
            role=role.value,
            site=shop.site,
            valid_from=shop.clock,
        )
    fresh, measured = start(shop), start(shop, position="NDE")
    for job in (fresh, measured):
        job.receive()
    measured.measure()
    measured.bore()
    measured.own_reading()
    measured.photograph("micrometer")
    return fresh, measured


@dataclass(frozen=True)
class Door:
    """A form with number fields. `message` finds what is said of an input, `form` gives what is sent besides
    the numbers."""

    rows: Mapping[str, Row]
    address: Callable[[Scene], str]
    form: Callable[[Scene], Mapping[str, str]]
    message: str = 'id="a-{name}"[^>]*>(.*?)</p>'

    def sound(self, at: Scene) -> dict[str, str]:
        """The form as it is sent with everything sound."""
        return {**self.form(at), **{row.name or each: row.sound for each, row in self.rows.items()}}

    def send(self, at: Scene, sound: Mapping[str, str], name: str, typed: str) -> HttpResponse:
        """The sound form with another text in one input."""
        fields = {**sound, self.rows[name].name or name: typed, "entry_id": str(new_id())}
        return at.client.post(self.address(at), fields)  # type: ignore[return-value]


def kind_of(name: str) -> str:
    """`measurement.journal.A.60` is one of many `measurement.journal`."""
    return re.sub(r"^([a-z_]+\.[a-z_0-9]+)\..*", r"\1", name)


def _part(screen: str, part: str) -> Door:
    asked = SCREENS[screen].part(part)
    assert asked is not None
    kinds = dict.fromkeys(kind_of(name) for name in asked.fields)
    rows = {name: CAPTURES[name] for name in kinds if name in CAPTURES}

    def address(at: Scene) -> str:
        return f"{reverse(f'fit-{screen}', args=[at.fresh.mounting.id])}?part={part}"

    return Door(rows, address, lambda at: form_of(at.client.get(address(at))), 'id="q-{name}">(.*?)</p>')


def _heard(at: Scene) -> dict[str, str]:
    case = case_of(at.measured.mounting)
    code = readings_code(case.mounting, readings_of(case))
    return {"number": at.measured.mounting.number, "code": code, "unit": "um"}


def _order(at: Scene) -> dict[str, str]:
    unknown = {"designation": "XQ 77", "clearance_kind": "", "clearance_group": "N"}
    taken = {"mass_from": "measured", "raceway_from": "drawing", "bore_source": "its own sheet"}
    return {**ORDER, **SIZES, **unknown, **taken}


def _gap(at: Scene) -> str:
    return f"{reverse('fit-cold', args=[at.fresh.mounting.id])}?part=gap&warm=1"


def _assessed(at: Scene) -> dict[str, str]:
    people = at.fresh.shop.people
    return {
        "person": str(people["fitter"].id), "assessor": str(people["quality"].id), "task": "measure",
        "basis": "six supervised jobs", "valid_from": "2026-01-01", "valid_to": "2027-01-01",
    }  # fmt: skip


DELIVERED = {
    "supplier": "Corvane", "note": "LS-1", "on": "2026-03-01",
    **{f"designation.{n}": "6212 C3" for n in range(1, 9)},
}  # fmt: skip


def _gauge(at: Scene) -> dict[str, str]:
    return {**GAUGE, "blades": "", "heater_kind": ""}


def _shift(at: Scene) -> dict[str, str]:
    return {"gear": str(at.fresh.shop.gear["micrometer"].id)}


DOORS: Mapping[str, Door] = {
    **{
        f"{screen.name} {part.name}": _part(screen.name, part.name)
        for screen in SCREENS.values()
        for part in screen.parts
        if any(kind_of(name) in CAPTURES for name in part.fields)
    },
    "gap": Door(
        GAP, _gap, lambda at: {**form_of(at.client.get(_gap(at))), "at": "0"},
        'id="q-shoulder_gap.gap.0">(.*?)</p>',
    ),
    "display": Door(
        DISPLAY, lambda at: reverse("read-display", args=[at.measured.mounting.id]), lambda at: {},
        'id="display-wrong"[^>]*>(.*?)</p>',
    ),
    "own measurement": Door(
        OWN, lambda at: reverse("own-measurement", args=[at.measured.mounting.id]),
        lambda at: {"reason": "measured after grinding", "unit": "um from 60 mm"},
        'id="a-journal.A.0"[^>]*>(.*?)</span>',
    ),
    "telephone": Door(
        TELEPHONE, lambda at: reverse("release-by-telephone"), _heard, 'id="not-released">(.*?)</div>'
    ),
    "order": Door(ORDERED, lambda at: reverse("new-mounting"), _order),
    "equipment-new": Door(CALIBRATED, lambda at: reverse("equipment-new"), _gauge),
    "calibration-new": Door(
        CALIBRATED,
        lambda at: reverse("calibration-new", args=[at.fresh.shop.gear["micrometer"].id]),
        _gauge,
    ),
    "procedure-new": Door(
        DRAFTED,
        lambda at: reverse("procedure-new"),
        lambda at: {**values_of(STANDARD), "revision": "B", "reason": "a house cap", **VISIT},
    ),
    "shift start": Door(AT_START, lambda at: reverse("shift-start"), _shift),
    "gauge-check": Door(
        {"off": Row("0.5", OFF, OFF_TAKEN)},
        lambda at: reverse("gauge-check", args=[at.fresh.shop.gear["micrometer"].id]),
        lambda at: {"master": str(at.fresh.shop.gear["master"].id), "when": "after"},
    ),
    "delivery-new": Door(CAME, lambda at: reverse("delivery-new"), lambda at: DELIVERED),
    "competence-new": Door(ASSESSED, lambda at: reverse("competence-new"), _assessed),
}  # fmt: skip


def found(at: Scene) -> set[str]:
    """The number fields of every page that opens, each once however often it stands there."""
    paths = [filled(address, job) for address in PAGES for job in (at.fresh, at.measured)]
    for screen in SCREENS.values():
        here = reverse(f"fit-{screen.name}", args=[at.fresh.mounting.id])
        paths += [f"{here}?part={part.name}&warm=1" for part in screen.parts]
    paths += [reverse("calibration-new", args=[piece.id]) for piece in at.fresh.shop.gear.values()]
    answers = [at.client.get(path) for path in dict.fromkeys(paths) if "sign-out" not in path]
    answers.append(at.client.post(_gap(at), {"blade": "more", "at": "0"}))
    pages = [each.content.decode() for each in answers if each.status_code == 200 and not each.streaming]
    return {kind_of(name) for page in pages for name in numbers_on(page)}


def numbers_on(page: str) -> set[str]:
    """The inputs of a page that want a number."""
    return {named[1] for tag in NUMBER.findall(page) if (named := re.search(r' name="([^"]*)"', tag))}
