"""What the page of the heater's log shows: each log with its picture and verdict, or the questions of one."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.engineering.heating import Plan
from qrecords.evidence.intake import LOG_MEDIA
from qrecords.evidence.queries import of_mounting
from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.steps.acts import LogFile
from qrecords.steps.case import Case
from qrecords.steps.findings import TO_DO_FIRST, Verdict
from qrecords.steps.fit import ceiling, heating_plan
from qrecords.steps.heating_log import PROBES, RINGS, ring_logs
from qrecords.steps.heatings import heatings
from qrecords.steps.log_table import LogTable
from qrecords.web import heat_logs, parts
from qrecords.web.fitter import verdicts
from qrecords.web.fitter.log_form import UNITS, LogForm
from qrecords.web.fitter.page import Moment
from qrecords.web.pictures.heat_curve import HeatCurve
from qrecords.web.showing import FIGURES, show

PROBE_WORDS = {
    "taken off": "I took it off, the heater was off",
    "came off": "it came off while heating",
    "not known": "nobody knows",
}


@dataclass(frozen=True)
class ShownLog:
    """One log as the page shows it: when it was handed in, its picture, the words below, the verdict."""

    handed_in: str
    curve: HeatCurve | None
    caption: str
    said: tuple[parts.Said, ...]


def shown_logs(judged: Judged, at: Moment) -> list[ShownLog]:
    """Every standing log, the newest first, with what its rules say."""
    found: list[ShownLog] = []
    for view in heatings(judged.case):
        logs = ring_logs(view)
        for file in (f for f in view.log_files if not f.replaced):
            found.append(_shown(judged, view, heat_logs.of_file(logs, file), file, at, len(found)))
    return found[::-1]


def _shown(
    judged: Judged, view: Case, logs: tuple[Any, ...], file: LogFile, at: Moment, number: int
) -> ShownLog:
    plan = heating_plan(view)
    must_be = round(plan.must_reach_c * 1000) if isinstance(plan, Plan) else None
    own = [f for f in judged.findings if f.rule in heat_logs.LOG_RULES and file.entry in f.inputs]
    told = [f for f in own if f.verdict != Verdict.CONFORMING or f.rule == "log-ceiling"]
    told.sort(key=lambda finding: TO_DO_FIRST.index(finding.verdict))
    handed = gettext("handed in {when}").format(when=at.day(file.at))
    if file.after_signature:
        handed += " · " + gettext("after signature")
    return ShownLog(
        handed,
        heat_logs.draw(logs, FIGURES, f"log-{number}", must_be_mdegc=must_be) if logs else None,
        heat_logs.caption(logs, FIGURES) if logs else "",
        tuple(verdicts.grouped(show(judged, finding) for finding in told)),
    )


def log_tab(mounting: Mounting, *, here: bool = False) -> tuple[str, str, bool]:
    """The way to the page of the log, among the pages of its screen."""
    return gettext("the heater's log"), reverse("heating-log", args=[mounting.id]), here


def log_beside(judged: Judged) -> dict[str, Any]:
    """For the page after the heat: the newest log's picture."""
    newest = heat_logs.newest_log(judged.case)
    return {
        "log_curve": heat_logs.draw(newest, FIGURES, "log", size=(460, 200)) if newest else None,
        "log_caption": heat_logs.caption(newest, FIGURES) if newest else "",
    }


def _unsaid(mounting: Mounting, judged: Judged) -> list[str]:
    """Where to say of each log that came what its text does not say; two queries."""
    told = {file.sha256 for file in judged.case.log_files}
    here = [sha256 for sha256, file in of_mounting(mounting.id).items() if file.media == LOG_MEDIA]
    return [reverse("say-of-log", args=[mounting.id, sha]) for sha in here if sha not in told]


def logs_context(mounting: Mounting, judged: Judged, at: Moment) -> dict[str, Any]:
    """The page that lists the logs and takes another one."""
    logs = shown_logs(judged, at)
    return _page(mounting) | {
        "logs": logs,
        "unsaid": _unsaid(mounting, judged),
        "here": reverse("heating-log", args=[mounting.id]),
    }


def ask_context(
    mounting: Mounting,
    judged: Judged,
    at: Moment,
    table: LogTable,
    sha256: str,
    form: LogForm,
    sent: Mapping[str, str],
) -> dict[str, Any]:
    """The questions of one log, its course above them."""
    unit = sent.get("unit") or form.unit or "°C"
    chosen = next((c.place for c in form.columns if c.ring), form.columns[0].place)
    column = table.column(chosen)
    points = tuple(
        (second, round((value - 32) / 1.8 * 1000) if unit == "°F" else round(value * 1000))
        for second, value in zip(table.times_s, column.values if column else (), strict=False)
        if value is not None and -200 <= value <= 2000
    )
    cap = round(ceiling(judged.case).cap_c * 1000)
    return _page(mounting) | {
        "here": reverse("say-of-log", args=[mounting.id, sha256]),
        "form": form,
        "asked_once": bool(sent),
        "course": heat_logs.course(points, cap, FIGURES, "course") if len(points) > 1 else None,
        "lasts": gettext("{n} samples over {s} s").format(
            n=len(table.times_s), s=FIGURES.plain(round(table.times_s[-1] - table.times_s[0]))
        ),
        "rings": [(ring, gettext(ring)) for ring in RINGS],
        "units": UNITS,
        "probes": [(word, gettext(PROBE_WORDS[word])) for word in PROBES],
        "others": [(file.entry, f"{at.day(file.at)}, {file.sha256[:8]}…") for file in form.others],
    }


def _page(mounting: Mounting) -> dict[str, Any]:
    after = reverse("fit-heat", args=[mounting.id]) + "?part=after"
    return {
        "part": {"label": gettext("the heater's log")},
        "back": after,
        "part_nav": [
            (gettext("set-up"), reverse("fit-heat", args=[mounting.id]) + "?part=set-up", False),
            (gettext("after the heat"), after, False),
            log_tab(mounting, here=True),
        ],
    }
