"""Seating: film, what happened on the way, how the ring was held and how long it was pressed home."""

from dataclasses import replace

from qrecords.engineering.cooling import pressing_time
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.fits import stress_raceway_mm
from qrecords.engineering.result import Result
from qrecords.steps.case import Answered, Case
from qrecords.steps.fields import Choice, Field
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.fit import cold_fit, fit_doubts, inputs_of
from qrecords.steps.heating import met_seat_c, no_meeting, peak_rests
from qrecords.steps.heatings import each_heating, mounted_heating
from qrecords.steps.measurement import celsius
from qrecords.steps.rules import ENGINEER, Rule, Stage, absent, choice_rule, standing
from qrecords.steps.runs import TAP_DOUBT_MS, mounted_run
from qrecords.steps.step import Step

STEP_ID = "seating"
_NO_YES = Choice(("no", "yes"))
HELD_FIRMLY = ("nut", "clamp", "sleeve")


def needed_ms(case: Case) -> tuple[int, Result] | None:
    """Milliseconds the ring had to be pressed, with the working: twice the time to grip, and 5 s. From the
    temperature at the seat if it was read, else from the peak, which asks for longer (ruling 14)."""
    fit, shaft_c, hot = cold_fit(case), celsius(case, "shaft"), met_seat_c(case)
    if fit is None or shaft_c is None or hot is None:
        return None
    raceway = stress_raceway_mm(fit.bore_mm, float(case.requirement.outside_mm))
    try:
        found = pressing_time(fit.bore_mm, raceway, fit.interference_mean_um, hot, shaft_c)
    except EngineeringError:
        return None
    return round(found.hold.value * 1000), found.hold


def _held_firmly(rule: Rule, held: Answered, pressed_ms: int | None, taps: list[str]) -> Finding:
    """A nut, clamp or sleeve holds by itself; how long it was pressed before is told where it was tapped."""
    if pressed_ms is None:
        return rule.finding("pressed home", Verdict.CONFORMING, "held", inputs=[held, *taps], by=held.word)
    facts: dict[str, Fact] = {"by": held.word, "pressed_ms": pressed_ms}
    finding = rule.finding("pressed home", Verdict.CONFORMING, "held-after", inputs=[held, *taps], **facts)
    return replace(finding, unit="ms", value=pressed_ms, u=TAP_DOUBT_MS // 2)


def _pressed(rule: Rule, case: Case) -> list[Finding]:
    """Too short is not proven. A tap that was not made is a bracket of time and no finding; a nut, clamp or
    sleeve holds by itself. Of the heating the ring is on with; from an earlier one it came off again. A ring
    that is stuck was pressed, but not home."""
    case = mounted_heating(case)
    run = mounted_run(case)
    if run is None or run.is_stuck:
        return []
    held = case.value_of(STEP_ID, "held_by")
    pressed, need = run.pressed_ms, needed_ms(case)
    taps = [tap.entry for tap in (run.home, run.let_go) if tap]
    if held is not None and held.word in HELD_FIRMLY:
        return [_held_firmly(rule, held, pressed, taps)]
    if pressed is None:
        return []
    if need is None:
        return no_meeting(rule, case, "pressed home", standing(case, STEP_ID, "held_by"))
    needed, working = need
    verdict = Verdict.CONFORMING if pressed + TAP_DOUBT_MS >= needed else Verdict.NOT_PROVEN
    warmth = [*peak_rests(case), *standing(case, "heating", "at_seat")]
    inputs: list[Answered | str] = [*inputs_of(case), *standing(case, STEP_ID, "held_by"), *warmth, *taps]
    finding = rule.finding("pressed home", verdict, inputs=inputs, pressed_ms=pressed, needed_ms=needed)
    finding = replace(finding, unit="ms", value=pressed, u=TAP_DOUBT_MS // 2, lower=needed, working=working)
    return [replace(finding, unconfirmed=fit_doubts(case))]


def _dropped(rule: Rule, case: Case) -> list[Finding]:
    """A bearing that fell on a hard floor is not looked at and found fine: it is scrap, or a laboratory's."""
    found = case.value_of(STEP_ID, "dropped")
    tapped = [tap.entry for tap in case.taps if tap.what == "dropped"]
    if found is None and not tapped:
        return absent(rule, case, STEP_ID, "dropped", "not dropped")
    fell = bool(tapped) or (found is not None and found.word == "yes")
    inputs: list[Answered | str] = [*tapped, *([found] if found else [])]
    verdict = Verdict.NONCONFORMING if fell else Verdict.CONFORMING
    return [rule.finding("not dropped", verdict, inputs=inputs)]


def _went_home(rule: Rule, case: Case) -> list[Finding]:
    found, run = case.value_of(STEP_ID, "went_home"), mounted_run(case)
    stuck = [tap.entry for tap in (run.events if run else ()) if tap.what == "stuck"]
    if found is None and not stuck:
        return absent(rule, case, STEP_ID, "went_home", "went home")
    bad = bool(stuck) or (found is not None and found.word == "stuck")
    verdict = Verdict.NONCONFORMING if bad else Verdict.CONFORMING
    return [rule.finding("went home", verdict, inputs=[*stuck, *([found] if found else [])])]


FILMS = ("thin oil", "anti-fretting paste", "dry")
STEP = Step(
    id=STEP_ID,
    version=1,
    row=24,
    stage=Stage.COLD,
    task="mount",
    fields=(
        Field("film", Choice(FILMS)),
        Field("went_home", Choice(("in one move", "in stages", "stuck"))),
        Field("dropped", _NO_YES),
        Field("hammered", _NO_YES),
        Field("held_by", Choice(("hand", "nut", "clamp", "sleeve"))),
    ),
    rules=(
        each_heating(
            choice_rule(
                "seat-film", Stage.COLD, STEP_ID, "film", FILMS, "common practice, no source", version=2
            )
        ),
        each_heating(
            Rule(
                "went-home",
                2,
                Stage.COLD,
                "US Army TM 10-3930-643-34 §2-14",
                _went_home,
                ENGINEER,
                row="stuck",
            )
        ),
        each_heating(
            Rule(
                "not-dropped",
                2,
                Stage.COLD,
                "common practice, no source",
                _dropped,
                ("concession", "scrap"),
                row="dropped",
            )
        ),
        each_heating(
            choice_rule(
                "not-hammered",
                Stage.COLD,
                STEP_ID,
                "hammered",
                ("no",),
                "US Army TM 10-3930-643-34 §2-14: push on the tight ring only",
                may=("concession", "scrap"),
                version=2,
            )
        ),
        each_heating(
            choice_rule(
                "held",
                Stage.COLD,
                STEP_ID,
                "held_by",
                ("hand", *HELD_FIRMLY),
                "common practice, no source",
                version=2,
            )
        ),
        Rule("pressed-home", 6, Stage.COLD, "own model: gap conduction, checked by finite volumes", _pressed),
    ),
)
