"""What each part of a screen shows besides the frame: its questions, picture, verdict, next tap."""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext

from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.steps.bore import from_class
from qrecords.steps.runs import mounted_run
from qrecords.steps.shoulder_gap import wanted_angles
from qrecords.steps.standard import RULES, STEPS
from qrecords.web import parts
from qrecords.web.chosen_words import CHOSEN
from qrecords.web.door import person_of
from qrecords.web.fitter import before_heat, fitting, gaps, hot, readings, verdicts
from qrecords.web.fitter.asking import Ask, asks
from qrecords.web.fitter.gear import at_hand
from qrecords.web.fitter.holding import hold, rests_on
from qrecords.web.fitter.left import left, page_of
from qrecords.web.fitter.log_page import log_beside, log_tab
from qrecords.web.fitter.page import Moment, title_block
from qrecords.web.fitter.screens import Part, Screen, label, lacking, to_come
from qrecords.web.fitter.sent import GIVEN_BACK, Sent
from qrecords.web.fitter.shots import shots
from qrecords.web.fitter.words import REASONS, field_label
from qrecords.web.heat_logs import LOG_RULES
from qrecords.web.names import name
from qrecords.wording.figures import own_unit

JOURNAL_RULES = ("journal-size", "journal-roundness", "journal-taper", "one-temperature")
RULES_OF_PART: dict[str, tuple[str, ...]] = {
    "ring": (
        "ring-marking",
        "as-ordered",
        "package-intact",
        "edge-burrs",
        "shoulder-burrs",
        "fillet-clears",
        "wiped-clean",
        "gear-ready",
        "zone-kept",
    ),
    "gauge": ("gauge-in-date", "gauge-fine-enough", "master-check", "one-temperature"),
    "readings": (*JOURNAL_RULES, "journal-readings"),
    "bore": ("bore-in-class", "clearance-in-group", "clearance-forecast"),
    "set-up": ("heater-named", "set-up", "probe-on-inner-ring"),
    "after": (
        "peak-temperature",
        *LOG_RULES,
        "ring-difference",
        "slid-on",
        "demagnetised",
        "released-before-heat",
    ),
    "seat": ("went-home", "not-dropped", "not-hammered", "pressed-home", "held"),
    "temperatures": ("cold-when-checked",),
    "gap": ("shoulder-gap", "gap-plane"),
    "rest": ("residual-field", "clearance-found", "clearance-as-forecast"),
    "close": ("turns-freely", "runs-quietly", "aligns-itself", "covered", "cold-released"),
    **{step: tuple(rule.id for rule in STEPS[step].rules) for step in CHOSEN},
}
TELLING = ("readings", "bore", "after", "gap", "rest")
"""Parts that say their verdict even when it is *in*; elsewhere in is quiet."""
PADDED = ("gauge", "after", "temperatures", "rest")
"""Parts whose numbers are typed on the page's own pad."""
TEMPLATES = {
    "readings": "readings",
    "bore": "bore",
    "fit": "fit",
    "gap": "gap",
    "hold": "hold_cold",
    "close": "close",
}


def said_of(judged: Judged, part: str, follows: str = "") -> parts.Said | None:
    """The verdict of one part."""
    rules = RULES_OF_PART.get(part, ())
    own = sorted((f for f in judged.findings if f.rule in rules), key=lambda f: rules.index(f.rule))
    return verdicts.said(judged, own, follows, quiet=part not in TELLING)


def said_before(judged: Judged, part: str) -> parts.Said | None:
    """The verdict of the page that was just sent, for the top of the one it led to; what is still missing
    there is left to that page, and what follows from bore and readings, if it is in, to the fit."""
    said = said_of(judged, part)
    left = ("missing", "conforming") if part == "bore" else ("missing",)
    return None if said is None or said.verdict.kind in left else said


def part_context(
    request: HttpRequest,
    mounting: Mounting,
    judged: Judged,
    screen: Screen,
    part: Part,
    sent: Sent,
    moment: Moment,
) -> dict[str, Any]:
    """The context of one part; `template` names the page that shows it."""
    follows = verdicts.heat_waits() if screen.hold == "fit" else ""
    here = reverse(f"fit-{screen.name}", args=[mounting.id])
    context: dict[str, Any] = {
        "template": TEMPLATES.get(part.name, "part"),
        "part": part,
        "here": f"{here}?part={part.name}",
        "try": f"{here}?part={part.name}&try=1",
        "said": said_of(judged, part.name, follows),
        "lacking": [name(finding.characteristic) for finding in lacking(judged, part)],
        "part_nav": [
            *((label(each), f"{here}?part={each.name}", each == part) for each in screen.parts),
            *([log_tab(mounting)] if screen.name == "heat" else []),
        ],
        "shots": shots(mounting, judged, part.name),
        "reasons": [(value, gettext(words)) for value, words in REASONS],
        "changing": bool(sent.fields.get("reason") or sent.fields.get("changing")),
    }
    match part.name:
        case "readings":
            return context | _readings(judged, sent, request.GET.get("again", ""))
        case "fit":
            return context | _fit(mounting, judged, moment, sent.fields.get("marking", ""))
        case "gap":
            return context | _gap(mounting, judged, sent, request.GET)
        case "hold":
            return context | {
                "hold": hold(judged, "cold", moment),
                "rests_on": rests_on(judged, "cold"),
                "dial": gaps.dial(judged.case, "", field_name=""),
            }
        case "close":
            context |= _close(mounting, judged)
    return context | _asked(request, mounting, judged, part, sent, moment)


def _asked(
    request: HttpRequest, mounting: Mounting, judged: Judged, part: Part, sent: Sent, moment: Moment
) -> dict[str, Any]:
    size_nm = judged.case.requirement.nominal_nm
    gear = at_hand(mounting, person_of(request), datetime.now(UTC), size_nm)
    folded = asks(judged, part.folded, sent, gear)
    asked = asks(judged, tuple(n for n in part.asks if n != "bore.bore"), sent, gear)
    found: dict[str, Any] = {
        "asked": asked,
        "folded": folded,
        "folded_open": any(each.value and not each.note for each in folded),
    }
    if part.name in PADDED or _only_numbers(part, asked):
        found |= _padded(asked, sent)
    if part.name == "bore":
        surface = readings.bore_surface(judged.case)
        source = sent.text("bore.source") or (judged.case.value_of("bore", "source") and "known")
        found |= {
            "grid": readings.grid(judged, surface, sent, "", current=False),
            "own_units": readings.own_units(judged, surface, sent),
            "units": readings.unit_options(judged, surface, sent),
            "unit_name": surface.head,
            "class_line": fitting.class_line(judged.case),
            "from_class": from_class(judged.case),
            "bore_open": bool(source) and not from_class(judged.case),
        }
    if part.name == "set-up":
        found |= {
            "plan": fitting.plan_line(judged.case),
            "no_plan": fitting.no_plan(judged.case),
            "next_word": gettext("next: the heater"),
            "unprepared": before_heat.unprepared(mounting, judged),
        }
    if part.name == "after":
        run = mounted_run(judged.case)
        found |= log_beside(judged)
        found["run"] = hot.chain(judged.case, moment, over=True) if run else ()
        found["undo"] = hot.undo(judged.case, str(person_of(request).id), datetime.now(UTC), moment)
    return found


def _only_numbers(part: Part, asked: tuple[Ask, ...]) -> bool:
    """The page of a chosen step that asks numbers and nothing else before its *more*."""
    return part.name in CHOSEN and len(asked) > 1 and all(each.kind == "number" for each in asked)


def _padded(asked: tuple[Ask, ...], sent: Sent) -> dict[str, Any]:
    """Numbers on the page's own pad, and the one that is not measured."""
    numbers = [each for each in asked if each.kind == "number"]
    first = next((each.name for each in numbers if not each.value and not each.absent), "")
    absent = sent.fields.get("not_measured", "")
    absent = first if absent == "1" else absent
    about = next((each for each in numbers if each.name == absent), None)
    return {
        "template": "padded",
        "gears": [each for each in asked if each.kind == "gear"],
        "others": [each for each in asked if each.kind not in ("gear", "number")],
        "numbers": numbers,
        "first_number": first,
        "keypad": parts.Keypad((), "."),
        "absent_name": about.name if about else "",
        "absent_label": about.label if about else "",
    }


def _readings(judged: Judged, sent: Sent, again: str) -> dict[str, Any]:
    surface = readings.journal_surface(judged.case)
    absent = sent.fields.get("not_measured", "")
    if absent == "1":
        grid = readings.grid(judged, surface, sent, "", current=True)
        absent = next(
            (cell.name for row in grid.rows for cell in row.cells if cell.current), surface.names[0]
        )
    unmeasured = [
        (field_label(f"measurement.{key}"), f"measurement.{key}")
        for key, answered in judged.case.answers.get("measurement", {}).items()
        if key.startswith("journal.") and judged.case.value_of("measurement", key) is None
    ]
    unit = readings.grid_unit(judged, surface, sent)
    figures = readings.deviation_figures(judged.case)
    lines = tuple(unit.replace("um", "µm").removesuffix(" mm").split(" ", 1))
    return {
        "grid": readings.grid(judged, surface, sent, again, current=True),
        "own_units": readings.own_units(judged, surface, sent),
        "units": readings.unit_options(judged, surface, sent),
        "unit_name": surface.head,
        "keypad": parts.Keypad(
            lines, ".", digits=figures if " from " in unit else 0, deviation_digits=figures
        ),
        "absent_name": absent if absent in surface.names else "",
        "absent_label": field_label(absent) if absent in surface.names else "",
        "unmeasured": unmeasured,
        **readings.pictures(judged, newest=bool(sent.fields)),
    }


def _fit(mounting: Mounting, judged: Judged, moment: Moment, typed: str) -> dict[str, Any]:
    of_hold = [f for f in judged.findings if RULES[f.rule].hold == "fit"]
    return {
        "hold": hold(judged, "fit", moment, typed=typed),
        "unprepared": before_heat.unprepared(mounting, judged),
        "rests_on": rests_on(judged, "fit"),
        "fit_picture": fitting.picture(judged.case),
        "fit_probable": fitting.probable(judged.case),
        "fit_sentences": fitting.sentences(judged),
        "plan": fitting.plan_line(judged.case),
        "no_plan": fitting.no_plan(judged.case),
        "coming": [name(finding.characteristic) for finding in to_come(of_hold)],
    }


def _gap(mounting: Mounting, judged: Judged, sent: Sent, asked: Mapping[str, str]) -> dict[str, Any]:
    """The dial; before its first gap the temperatures are asked for while the ring may still be warm."""
    case = judged.case
    chosen = sent.fields.get("at", "") if sent.fields else gaps.next_angle(case, asked.get("at", ""))
    more = sent.fields.get("blade") == gaps.MORE or bool(sent.fields.get(gaps.MORE))
    ring, shaft = (case.value_of("shoulder_gap", key) for key in ("ring_temp", "shaft_temp"))
    third, wait = None, gaps.not_yet_cold(case)
    if ring is not None and shaft is not None and wait != "unknown":
        words = f"{_typed(ring)}, {_typed(shaft)}"
        third = parts.Cell(gettext("ring, shaft"), words)
    begun = bool(gaps.felt_now(case)) or bool(sent.fields) or "at" in asked or "warm" in asked
    return {
        "wait": wait,
        "temperatures_first": bool(wait) and not begun,
        "untried": any(gaps.felt_at(case, at) is None for at in wanted_angles(case)),
        "to_feel": bool(gaps.next_angle(case, "")),
        "dial": gaps.dial(case, chosen),
        "blades": gaps.blades(case, chosen),
        "chosen": chosen,
        "more": more,
        "more_typed": sent.fields.get(gaps.MORE, "")[:GIVEN_BACK],
        "title_block": title_block(mounting, judged, third),
        "out": gaps.out_now(case),
    }


def _typed(answered: Any) -> str:
    typed = answered.answer.typed
    return f"{typed} {own_unit(typed, answered.answer.unit)}".strip()


def _close(mounting: Mounting, judged: Judged) -> dict[str, Any]:
    return {
        "open": verdicts.grouped(
            verdicts.unsettled(judged), lambda finding: page_of(mounting, judged, finding)
        ),
        "left": left(mounting, judged),
    }
