"""The five screens, their parts in the order of the work, and where a mounting stands among them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.mountings.judging import Judged
from qrecords.steps.felt_cold import warm
from qrecords.steps.findings import Finding
from qrecords.steps.procedure import Procedure
from qrecords.steps.rules import Stage
from qrecords.steps.runs import mounted_run
from qrecords.steps.standard import STEPS
from qrecords.steps.step import Step
from qrecords.steps.transitions import settled, standing_release
from qrecords.steps.waiting import NOT_TAKEN, ending, is_to_come
from qrecords.web.chosen_words import CHOSEN

"""Endings of the messages that only say: nobody has been here yet."""


@dataclass(frozen=True)
class Part:
    """One page of a screen. `asks` are the fields asked there, `folded` those behind *more*, as `step.field`;
    the procedure decides which of them matter."""

    name: str
    label: str
    asks: tuple[str, ...] = ()
    folded: tuple[str, ...] = ()

    @property
    def fields(self) -> tuple[str, ...]:
        return self.asks + self.folded

    def under(self, asked: frozenset[str]) -> "Part | None":
        """The part with what is asked; None where nothing of it is, though it has questions."""
        asks, folded = (tuple(n for n in names if head(n) in asked) for names in (self.asks, self.folded))
        return replace(self, asks=asks, folded=folded) if asks or folded or not self.fields else None


@dataclass(frozen=True)
class Screen:
    name: str
    label: str
    stage: Stage
    parts: tuple[Part, ...]
    hold: str = ""

    def part(self, name: str) -> Part | None:
        return next((part for part in self.parts if part.name == name), None)

    def under(self, procedure: Procedure) -> "Screen":
        """The screen as it is under a procedure: with what its steps ask there."""
        asked = frozenset(
            f"{step}.{field.id}" for step in procedure.steps for field in STEPS[step].asked(procedure)
        )
        parts = (part.under(asked) for part in self.parts)
        return replace(self, parts=tuple(part for part in parts if part))


def head(name: str) -> str:
    """`housing.bore.A.60` is a place of `housing.bore`."""
    return ".".join(name.split(".")[:2])


def part_of_step(step: Step) -> Part:
    """The page of a step that procedures choose: what may be left out is folded, unless that is all of it."""

    def names(*, optional: bool) -> tuple[str, ...]:
        return tuple(
            f"{step.id}.{field.id}{place and '.'}{place}"
            for field in step.fields
            if field.optional == optional
            for place in (field.places or ("",))
        )

    label, wanted, may_lack = CHOSEN[step.id].name, names(optional=False), names(optional=True)
    return Part(step.id, label, wanted, may_lack) if wanted else Part(step.id, label, may_lack)


def _with_chosen(screen: Screen) -> Screen:
    """The screen with the pages of its chosen steps, each before the page that it precedes in the work."""
    parts: list[Part] = []
    for part in screen.parts:
        own = [STEPS[s] for s, words in CHOSEN.items() if words.before == part.name]
        own.sort(key=lambda step: step.row)
        parts += [part_of_step(step) for step in own if step.stage == screen.stage] + [part]
    return replace(screen, parts=tuple(parts))


SCREENS: Mapping[str, Screen] = {
    screen.name: _with_chosen(screen)
    for screen in (
        Screen(
            "receive",
            _("Receive"),
            Stage.RECEIVE,
            (
                Part(
                    "ring",
                    _("ring and seat"),
                    (
                        "identification.marking",
                        "identification.package",
                        "preparation.edge_burrs",
                        "preparation.shoulder_burrs",
                        "preparation.fillet",
                        "preparation.wiped",
                        "preparation.gear_ready",
                        "preparation.zone",
                    ),
                    ("identification.serial", "identification.lot", "identification.date_code"),
                ),
            ),
        ),
        Screen(
            "measure",
            _("Measure"),
            Stage.MEASURE,
            (
                Part(
                    "gauge",
                    _("gauge and temperatures"),
                    (
                        "measurement.gauge",
                        "measurement.master",
                        "measurement.thermometer",
                        "measurement.master_before",
                        "measurement.shaft",
                        "measurement.bearing",
                        "measurement.gauge_temp",
                        "measurement.air",
                    ),
                    (
                        "measurement.master_temp",
                        "measurement.noted_first",
                        *(f"measurement.plane_at.{plane}" for plane in "ABC"),
                    ),
                ),
                Part("readings", _("readings"), ("measurement.journal",)),
                Part(
                    "bore",
                    _("bore and clearance"),
                    ("bore.source", "bore.gauge", "bore.bore"),
                    (
                        "clearance_before.g0",
                        "clearance_before.gauge",
                        "clearance_before.method",
                        "measurement.master_after",
                        "bore.sign_checked",
                    ),
                ),
                Part("fit", _("fit")),
            ),
            hold="fit",
        ),
        Screen(
            "heat",
            _("Heat"),
            Stage.HEAT,
            (
                Part(
                    "set-up",
                    _("set-up"),
                    ("heating.heater", "heating.setup", "heating.probe"),
                    ("heating.set_to", "heating.own_ceiling", "heating.own_ceiling_source"),
                ),
                Part(
                    "after",
                    _("after the heat"),
                    ("heating.peak", "demagnetisation.cycle"),
                    ("heating.peak_outer", "heating.cross_check", "heating.at_seat"),
                ),
            ),
        ),
        Screen(
            "cold",
            _("Check cold"),
            Stage.COLD,
            (
                Part(
                    "seat",
                    _("on the seat"),
                    (
                        "seating.film",
                        "seating.went_home",
                        "seating.dropped",
                        "seating.hammered",
                        "seating.held_by",
                    ),
                ),
                Part(
                    "temperatures",
                    _("temperatures"),
                    ("shoulder_gap.feeler", "shoulder_gap.ring_temp", "shoulder_gap.shaft_temp"),
                ),
                Part("gap", _("gap"), ("shoulder_gap.gap",)),
                Part(
                    "rest",
                    _("field and clearance"),
                    ("demagnetisation.field", "demagnetisation.meter", "demagnetisation.where"),
                    ("clearance_after.g1", "clearance_after.gauge", "clearance_after.method"),
                ),
                Part("hold", _("release")),
            ),
            hold="cold",
        ),
        Screen(
            "close",
            _("Close"),
            Stage.CLOSE,
            (
                Part(
                    "close",
                    _("close"),
                    (
                        "running.turns",
                        "running.turned",
                        "running.sound",
                        "running.aligns",
                        "protection.covered",
                    ),
                    ("running.spot_at", "protection.wrap"),
                ),
            ),
        ),
    )
}
SCREEN_OF_STEP: Mapping[str, str] = {
    **{
        step: screen.name
        for step in STEPS
        for screen in SCREENS.values()
        for part in screen.parts
        if any(field.startswith(f"{step}.") for field in part.fields)
    },
    "clearance_before": "measure",
    "clearance_after": "cold",
    "demagnetisation": "heat",
}


def to_come(findings: Iterable[Finding]) -> list[Finding]:
    """What nobody has entered yet; the photos not taken are told for themselves."""
    return [f for f in findings if is_to_come(f) and ending(f.message) != NOT_TAKEN]


def lacking(judged: Judged, part: Part) -> list[Finding]:
    """What of this part is still to come."""
    heads = {head(name) for name in part.fields}
    return [finding for finding in to_come(judged.findings) if field_of(finding) in heads]


def field_of(finding: Finding) -> str:
    """The field, as `step.field`, whose answer a finding waits for; '' where it waits for no single one."""
    if finding.rule == "journal-readings":
        return "measurement.journal"
    if finding.rule == "shoulder-gap":
        return "shoulder_gap.gap"
    return str(finding.facts.get("field", ""))


def ended(judged: Judged, screen: Screen) -> bool:
    """Nothing of this screen is still to come, its hold point apart."""
    if screen.name == "heat" and mounted_run(judged.case) is None:
        return False
    return not any(lacking(judged, part) for part in screen.parts)


def standing(judged: Judged) -> Screen:
    """The screen where the work goes on: the first that is not ended or whose hold point is not released."""
    for screen in SCREENS.values():
        if not ended(judged, screen) or (screen.hold and not _past(judged, screen)):
            return screen
    return SCREENS["close"]


def _past(judged: Judged, screen: Screen) -> bool:
    """Released, or passed without release, which is a fact and judged."""
    if screen.hold not in judged.case.procedure.holds:
        return True
    if standing_release(judged.case, screen.hold) is not None:
        return True
    if screen.hold == "fit":
        return mounted_run(judged.case) is not None
    return judged.case.said("protection", "covered") is not None


def first_part(judged: Judged, screen: Screen) -> Part:
    """Where to begin on a screen: the first part with something to come, else its last."""
    for part in screen.parts:
        if lacking(judged, part) or (part.name == "temperatures" and waits_to_cool(judged)):
            return part
    return screen.parts[-1]


def waits_to_cool(judged: Judged) -> bool:
    """The ring was too warm when its temperature was told, and nobody decided about that."""
    return any(
        f.rule == "cold-when-checked" and not settled(judged.case, f) for f in judged.findings
    ) and warm(judged.case)


def heats_next(judged: Judged, screen: Screen) -> bool:
    """The heater stands ready and the ring was not pressed home or let go yet: the taps come next, nothing is
    typed."""
    run = mounted_run(judged.case)
    to_tap = run is None or not (run.home or run.let_go)
    return screen.name == "heat" and not any(lacking(judged, part) for part in before_taps(screen)) and to_tap


def before_taps(heat: Screen) -> tuple[Part, ...]:
    """The pages of the heat that come before its taps: all up to the set-up."""
    names = [part.name for part in heat.parts]
    return heat.parts[: names.index("set-up") + 1] if "set-up" in names else ()


def part_after(screen: Screen, part: Part) -> tuple[Screen, Part | None]:
    """The next page of the work; no part: the next screen chooses its own."""
    place = screen.parts.index(part)
    if place + 1 < len(screen.parts):
        return screen, screen.parts[place + 1]
    names = list(SCREENS)
    after = names[min(names.index(screen.name) + 1, len(names) - 1)]
    return SCREENS[after], None


def label(screen: Screen | Part) -> str:
    return gettext(screen.label)
