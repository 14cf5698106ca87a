"""While hot: which tap comes next, what the window shows, which seconds run. Nothing is typed here."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.engineering.cooling import carry_drop, time_constant
from qrecords.engineering.heating import Plan
from qrecords.mountings.actions.tapping import UNDO_SECONDS
from qrecords.steps.acts import Tap
from qrecords.steps.case import Case
from qrecords.steps.fit import ring_of
from qrecords.steps.measurement import celsius
from qrecords.steps.runs import EVENTS, TAPS, Run, mounted_run, runs
from qrecords.web import parts
from qrecords.web.fitter.fitting import plan_of
from qrecords.web.fitter.page import Moment
from qrecords.web.pictures.heat_window import LOW, TALL, Cooling, HeatWindow, heat_window
from qrecords.web.pictures.heat_window import Paper as WindowPaper
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import with_unit


def act(what: str) -> str:
    """A tap as buttons send it: `heater on` → `heater-on`."""
    return what.replace(" ", "-")


def tap_of(sent: str) -> str:
    return sent.replace("-", " ")


def made(run: Run | None) -> dict[str, Tap]:
    if run is None:
        return {}
    known = zip(TAPS, (run.heater_on, run.lifted_off, run.home, run.let_go), strict=True)
    return {what: tap for what, tap in known if tap is not None}


def running(case: Case) -> Run | None:
    """The heating that runs, or ran last: what is tapped now belongs to it."""
    every = runs(case)
    return every[-1] if every else None


def standing_event(case: Case) -> str:
    """What happened last, if no tap of the four followed it: it decides what comes next."""
    last = case.taps[-1].what if case.taps else ""
    return last if last in EVENTS else ""


def next_tap(case: Case) -> str:
    """The tap that comes next; *heater on* again once the ring was let go or the heat was stopped."""
    if standing_event(case) == "stopped":
        return TAPS[0]
    taps = made(running(case))
    latest = max((TAPS.index(what) for what in taps), default=-1)
    return TAPS[(latest + 1) % len(TAPS)]


def is_hot(case: Case) -> bool:
    """From *heater on* to *let go*."""
    run = running(case)
    return run is not None and run.let_go is None


def chain(case: Case, moment: Moment, *, over: bool = False) -> tuple[parts.ChainTap, ...]:
    """The four taps with their times: of the heating that runs or comes, or of the one that is `over`."""
    run = mounted_run(case) if over else running(case) if is_hot(case) else None
    taps, coming = made(run), "" if over else next_tap(case)
    found = []
    for what in TAPS:
        tap = taps.get(what)
        if tap is not None:
            found.append(parts.ChainTap(gettext(what), "done", moment.seconds(tap.at), tap.at.isoformat()))
        else:
            found.append(parts.ChainTap(gettext(what), "here" if what == coming else "later"))
    return tuple(found)


@dataclass(frozen=True)
class Count:
    """The largest number of the page with its words, the moment at which it reaches zero and what it says
    then; `till` is that moment as a clock shows it, for a page that does not count."""

    number: str
    words: str
    until: str = ""
    at_zero: str = ""
    till: str = ""


def count(case: Case, plan: Plan | None, now: datetime, moment: Moment) -> Count | None:
    run = running(case)
    if plan is None:
        return None
    if run is None or run.let_go is not None or (run.lifted_off is None and run.home is None):
        return Count(str(plan.set_c), gettext("°C on the heater"))
    if standing_event(case):
        return None  # no seconds run against somebody who was told to stop
    if run.home is not None:
        since, seconds = run.home.at, plan.pressing_s
        words, at_zero = gettext("seconds to press"), gettext("seconds left: let go")
    else:
        assert run.lifted_off is not None  # noqa: S101 - one of the two was found above
        since, seconds = run.lifted_off.at, plan.carry_s
        words, at_zero = gettext("seconds left to carry"), gettext("cooler than planned")
    if seconds is None:
        return None
    until = since + timedelta(seconds=seconds)
    left = max(0, math.ceil((until - now).total_seconds()))
    till = gettext("till {at}").format(at=moment.seconds(until)) if left else ""
    return Count(str(left), words if left else at_zero, until.isoformat(), at_zero, till)


def window(
    case: Case, plan: Plan | None, now: datetime, prefix: str, paper: WindowPaper
) -> HeatWindow | None:
    """Between *never above* and *must still be*; on the way the temperature the ring has at least, worked
    out and rounded down, for it must not flatter. None where the two limits meet."""
    if plan is None or plan.never_above_c <= plan.must_reach_c:
        return None
    run = running(case)
    at_least = cooling = None
    if run is not None and not standing_event(case) and run.lifted_off is not None and run.home is None:
        air_c = celsius(case, "air") or celsius(case, "shaft") or 20.0
        carried = max(0.0, (now - run.lifted_off.at).total_seconds())
        ring, drop = ring_of(case), 0.0
        if plan.set_c > air_c:
            drop = carry_drop(ring, plan.set_c, air_c, carried).value
            since = run.lifted_off.at.isoformat()
            cooling = Cooling(since, plan.set_c, air_c, time_constant(ring).value)
        at_least = math.floor(plan.set_c - drop) * 1000
    return heat_window(
        ceiling_mdegc=plan.never_above_c * 1000,
        must_be_mdegc=plan.must_reach_c * 1000,
        at_least_mdegc=at_least,
        cooling=cooling,
        figures=FIGURES,
        prefix=prefix,
        paper=paper,
    )


def button(case: Case, plan: Plan | None, now: datetime) -> parts.HotTap:
    coming, run = next_tap(case), running(case)
    press = with_unit(str(plan.pressing_s), "s") if plan and plan.pressing_s is not None else ""
    lines = {
        "heater on": gettext("once the ring is cold: tap, then switch on")
        if is_hot(case)
        else gettext("tap, then switch on"),
        "lifted off": gettext("tap when it leaves the heater"),
        "home": gettext("tap, and keep pressing {s}").format(s=press),
        "let go": gettext("keep pressing {s}").format(s=press),
    }
    if coming != "let go" or run is None or run.home is None or plan is None or plan.pressing_s is None:
        return parts.HotTap(act(coming), gettext(coming), lines[coming].strip())
    until = run.home.at + timedelta(seconds=plan.pressing_s)
    holding = now < until
    at_zero = gettext("tap when you let go")
    if not holding:
        return parts.HotTap(act(coming), gettext(coming), at_zero)
    return parts.HotTap(act(coming), gettext(coming), lines[coming], True, until.isoformat(), at_zero)


@dataclass(frozen=True)
class Aside:
    """What comes next where something happened: the big field leads to where the rest is said, and the tap
    that would have come stays at hand beside it (`still`), for the ring may have gone home after all."""

    words: str
    line: str
    still: tuple[tuple[str, str], ...]


def aside(case: Case) -> Aside | None:
    """None while the four taps go on. A heat that was stopped begins again with *heater on*."""
    event = standing_event(case)
    if not is_hot(case) or event in ("", "stopped"):
        return None
    lines = {
        "stuck": gettext("once it is cold and the engineer is called"),
        "dropped": gettext("once it is cold and the engineer is called"),
        "alarm": gettext("once it is safe"),
    }
    coming = next_tap(case)
    return Aside(gettext("say what is"), lines[event], ((act(coming), gettext(coming)),))


def undo(case: Case, author: str, now: datetime, moment: Moment) -> parts.Undo | None:
    """The last tap of this person while it can still be taken back."""
    last = case.taps[-1] if case.taps else None
    if last is None or last.author != author:
        return None
    until = last.at + timedelta(seconds=UNDO_SECONDS)
    left = round((until - now).total_seconds())
    if left <= 0:
        return None
    label = gettext("undo “{tap}”").format(tap=gettext(last.what))
    return parts.Undo(label, last.entry, until.isoformat(), str(left), moment.seconds(until))


def missed(case: Case) -> tuple[tuple[str, str], ...]:
    """Taps behind the next one, for who could not tap in time: a tap not made is a bracket, no finding."""
    if not is_hot(case):
        return ()
    later: Sequence[str] = TAPS[TAPS.index(next_tap(case)) + 1 :]
    if standing_event(case) == "stopped":
        later = [what for what in TAPS[1:] if what not in made(running(case))]
    return tuple((act(what), gettext(what)) for what in later)


def events(case: Case) -> tuple[str, ...]:
    """What was tapped besides the four taps of this heating and still holds: a ring that stuck and went home
    after all is stuck no more. One that fell is not mended by going on."""
    run = running(case)
    told = dict.fromkeys(tap.what for tap in run.events) if run else {}
    last = case.taps[-1].what if case.taps else ""
    return tuple(what for what in told if last in EVENTS or what == "dropped")


def overcome(case: Case, moment: Moment) -> tuple[tuple[str, str], ...]:
    """Those of this heating that a tap followed since, each with its time: past, and said to be."""
    run = running(case)
    still = events(case)
    return (
        tuple((gettext(tap.what), moment.seconds(tap.at)) for tap in run.events if tap.what not in still)
        if run
        else ()
    )


EVENT_WORDS = {
    "stuck": _("Stuck. Stop. Never hammer or flame. Stand clear. Call the engineer."),
    "dropped": _("Dropped. Keep clear, let it cool, do not fit it. Call the engineer."),
    "stopped": _("Stopped. Heater off. The heat can begin again once the ring is cold."),
    "alarm": _("Alarm. Heater off, step back. Tell the inspector what it was."),
}
assert set(EVENT_WORDS) == set(EVENTS)  # noqa: S101 - an event without words must stop the start


def context(case: Case, author: str, now: datetime, moment: Moment) -> dict[str, Any]:
    """Everything the hot page shows of one case."""
    plan = plan_of(case)
    big = count(case, plan, now, moment)
    return {
        "taps": chain(case, moment),
        "window": window(case, plan, now, "window", TALL),
        "low_window": window(case, plan, now, "low", LOW),
        "seconds": big.number if big else "",
        "seconds_words": big.words if big else "",
        "until": big.until if big else "",
        "at_zero": big.at_zero if big else "",
        "till": big.till if big else "",
        "hot": button(case, plan, now),
        "aside": aside(case),
        "undo": undo(case, author, now, moment),
        "undo_s": UNDO_SECONDS,
        "newest_tap": case.taps[-1].entry if case.taps else "",
        "missed": missed(case),
        "events": [gettext(EVENT_WORDS[event]) for event in events(case)] if is_hot(case) else [],
        "overcome": overcome(case, moment) if is_hot(case) else (),
    }
