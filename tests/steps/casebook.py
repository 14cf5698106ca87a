"""A case without a database: entries written by hand, folded by the same code as the real ones."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from qrecords.engineering.tables import BUILT_IN, Tables
from qrecords.steps.acts import LOG_SHOT
from qrecords.steps.answers import Absent, Answer
from qrecords.steps.case import Case
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.expected import expected_for
from qrecords.steps.findings import Finding
from qrecords.steps.folding import fold
from qrecords.steps.log_table import LogTable
from qrecords.steps.log_text import read_or_why
from qrecords.steps.procedure import STANDARD, read_procedure
from qrecords.steps.rules import Stage
from qrecords.steps.standard import STEPS, all_findings
from qrecords.steps.work import CHOSEN
from tests.cast import GEAR, JOURNAL_UM, REQUIREMENT, U_HALF_UM
from tests.steps.chosen_sound import chosen_sound

BEFORE_TAPS, AFTER_TAPS = range(19), range(19, 99)
BEGIN = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


@dataclass(frozen=True)
class Line:
    """One entry as the ledger would hand it out."""

    id: str
    kind: str
    payload: Mapping[str, Any]
    leaf: str


SIZED = ("measurement", "bore", "clearance_before", "clearance_after", "housing")
"""Steps whose sizes may be typed as deviations."""
BESIDE: Mapping[str, Any] = {
    "running.turned": ("10", "turns"),
    "running.sound": "quiet",
    "running.aligns": "yes",
}
"""What a sound record says where a procedure asks for it beside."""
DIAL = {"dial": ("dial indicator", U_HALF_UM)}
ORDERED = {"designation": "6212 C3", "serial": "0417", "lot": "L-77", "date_code": "FR26"}
"""The bearing as the order names it."""


@dataclass
class Book:
    """A record in the making; the clock moves on by ten seconds an entry."""

    requirement: dict[str, Any] = field(default_factory=lambda: dict(REQUIREMENT))
    procedure: dict[str, Any] = field(default_factory=lambda: dict(STANDARD))
    gear: dict[str, dict[str, Any]] = field(default_factory=dict)
    lines: list[Line] = field(default_factory=list)
    now: datetime = BEGIN
    competence: str = "held"
    days: tuple[str, str] | None = None
    """Between which days the captures can have been made; the day of the clock if None."""
    received: dict[str, dict[str, Any]] = field(default_factory=dict)
    """Gear, by field, that was another on receipt."""
    logs: dict[str, LogTable | LogUnreadableError] = field(default_factory=dict)
    """Every heating log by its SHA-256."""
    tables: Tables = BUILT_IN

    def __post_init__(self) -> None:
        for key, (kind, document) in {**GEAR, **DIAL}.items():
            known = {"id": key, "kind": kind, "mark": key, "status": "in use", "calibration": f"cal-{key}"}
            self.gear.setdefault(key, known | document)
        self.enter(
            "mounting", {}, {"requirement": self.requirement, "bearing": dict(ORDERED)}, author="fitter"
        )

    def enter(
        self,
        kind: str,
        said: Mapping[str, Any],
        seen: Mapping[str, Any] | None = None,
        *,
        author: str = "fitter",
        files: tuple[Mapping[str, Any], ...] = (),
        prev: str | None = None,
        reason: str | None = None,
    ) -> Line:
        self.now += timedelta(seconds=10)
        name = f"e{len(self.lines)}"
        payload = {
            "mounting": "m1",
            "author": {"person": author, "hash": f"hash of {author}"},
            "at_device": self.now.isoformat(),
            "at_server": self.now.isoformat(),
            "prev": prev,
            "reason": reason,
            "files": list(files),
            "body": {"said": said, "seen": seen or {}},
        }
        leaf = hashlib.sha256(f"{name} {kind} {said}".encode()).hexdigest()
        line = Line(name, kind, payload, leaf)
        self.lines.append(line)
        return line

    def say(
        self, step: str, *, author: str = "fitter", check: bool = False, prev: str | None = None, **given: Any
    ) -> Line:
        """Answers typed into a step; `gear` fields name a key of `gear`; `__` stands for the dot."""
        case = self.case() if step in SIZED else None
        fields: dict[str, Answer] = {}
        for name, raw in given.items():
            key = name.replace("__", ".")
            shape = STEPS[step].field(key)
            if isinstance(raw, Absent):
                fields[key] = raw
                continue
            text, unit = raw if isinstance(raw, tuple) else (str(raw), "")
            near = expected_for(case, step, shape.id) if case else None
            fields[key] = shape.parse(text, unit, near, sure=True)
        frozen = {
            key: self.gear[str(given[key])]
            for key in given
            if not isinstance(given[key], Absent) and str(given[key]) in self.gear
        }
        said = {
            "step": step,
            "role": "check" if check else "work",
            "fields": {key: answer.document() for key, answer in fields.items()},
        }
        days = list(self.days or (self.now.date().isoformat(),) * 2)
        seen = {"days": days, "gear": frozen, "gear_received": self.received, "competence": self.competence}
        return self.enter("capture", said, seen, author=author, prev=prev, reason="changed" if prev else None)

    def tap(self, what: str, after_s: float = 0, **names: str) -> Line:
        self.now += timedelta(seconds=after_s)
        return self.enter("tap", {"what": what, "release": "", "code": "", **names})

    def release(self, hold: str = "fit", **changes: Any) -> Line:
        seen = {"captures": sorted(self.case().standing_captures(hold)), "means": "sign-in"}
        said = {"hold": hold, **{key: value for key, value in changes.items() if key not in seen}}
        seen |= {key: value for key, value in changes.items() if key in seen}
        return self.enter("release", said, seen, author="inspector")

    def photograph(self, *shots: str) -> None:
        for shot in shots or tuple(shot["id"] for shot in self.procedure["photos"]):
            sha256 = hashlib.sha256(shot.encode()).hexdigest()
            file = {"shot": shot, "sha256": sha256, "size": 1, "media": "image/jpeg"}
            self.enter("attachment", {"shot": shot, "from": "camera"}, files=(file,))
            self.enter("file received", {"sha256": sha256})

    def log(self, content: bytes | str, prev: str | None = None, **said: Any) -> Line:
        """A heater's log handed in and received; `said` is what its text does not say."""
        raw = content.encode() if isinstance(content, str) else content
        sha256 = hashlib.sha256(raw).hexdigest()
        file = {"shot": LOG_SHOT, "sha256": sha256, "size": len(raw), "media": "text/csv"}
        stated = {"shot": LOG_SHOT, "from": "file", "log": said}
        line = self.enter("attachment", stated, files=(file,), prev=prev, reason="another" if prev else None)
        self.enter("file received", {"sha256": sha256}, {"media": "text/csv"})
        self.logs[sha256] = read_or_why(raw)
        return line

    def paper(self, kind: str, received: bool = True) -> str:
        """A paper handed in, and received unless it is said not to be; its hash."""
        sha256 = hashlib.sha256(kind.encode()).hexdigest()
        file = {"shot": kind, "sha256": sha256, "size": 1, "media": "application/pdf"}
        self.enter("attachment", {"shot": kind, "from": "file"}, files=(file,), author="engineer")
        if received:
            self.enter("file received", {"sha256": sha256}, {"media": "application/pdf"}, author="engineer")
        return sha256

    def look_elsewhere(self, **changes: Any) -> None:
        seen = {"other_end": [], "other_end_mounting": "", "earlier_heatings": 0, "photos_seen_before": []}
        self.enter("elsewhere", {}, {**seen, **changes})

    def case(self) -> Case:
        return fold(self.lines, read_procedure(self.procedure), self.tables, logs=self.logs)

    def findings(self) -> dict[str, Finding]:
        return {finding.characteristic: finding for finding in all_findings(self.case())}

    def rule(self, rule: str) -> list[Finding]:
        return [finding for finding in all_findings(self.case()) if finding.rule == rule]

    def flags(self) -> dict[str, str]:
        return {n: f.verdict.value for n, f in self.findings().items() if f.verdict.value != "conforming"}


def journal_fields(readings: Mapping[str, tuple[str, ...]], unit: str) -> dict[str, tuple[str, str]]:
    return {
        f"journal__{plane}__{at}": (text, unit)
        for plane, texts in readings.items()
        for at, text in zip(("0", "60", "120"), texts, strict=False)
    }


def measure(book: Book, temperatures_c: str = "20", **changes: Any) -> Line:
    nominal = book.requirement["nominal_mm"]
    given: dict[str, Any] = {
        "gauge": "micrometer",
        "master": "master",
        "master_before": ("0", "um"),
        "thermometer": "thermometer",
        "shaft": (temperatures_c, "°C"),
        "bearing": (temperatures_c, "°C"),
        "gauge_temp": (temperatures_c, "°C"),
        "air": (temperatures_c, "°C"),
        **journal_fields(JOURNAL_UM, f"um from {nominal} mm"),
        **changes,
    }
    return book.say("measurement", **{key: value for key, value in given.items() if value is not None})


def asking(*also: str) -> dict[str, Any]:
    """The standard procedure where these fields, as `step.field`, are asked beside."""
    return {**STANDARD, "also": list(also)}


def everything() -> dict[str, Any]:
    """The standard procedure with every step that a procedure can choose, and every field asked beside."""
    optional = {f"{step.id}.{field.id}" for step in STEPS.values() for field in step.fields if field.optional}
    also = sorted(name for step in STEPS.values() for name in step.switched())
    may_lack = sorted({*STANDARD["optional"], *optional})
    return {**STANDARD, "steps": list(STEPS), "optional": may_lack, "also": also}


def sound(
    gear: Mapping[str, dict[str, Any]] | None = None,
    /,
    *,
    procedure: Mapping[str, Any] = STANDARD,
    **changes: Any,
) -> Book:
    """A whole sound record. A change is `step___field=answer`; None leaves the field out."""
    wanted: dict[str, dict[str, Any]] = {}
    for name, answer in changes.items():
        step, key = name.split("___", 1)
        wanted.setdefault(step, {})[key] = answer
    book = Book(gear=dict(gear or {}), procedure=dict(procedure))

    def say(step: str, **given: Any) -> None:
        merged = {key: value for key, value in (given | wanted.get(step, {})).items() if value is not None}
        if merged:
            book.say(step, **merged)

    def chosen(*stages: Stage, rows: range = range(99)) -> None:
        """What the procedure's chosen steps say on these screens."""
        for step in book.procedure["steps"]:
            if step in CHOSEN and STEPS[step].stage in stages and STEPS[step].row in rows:
                say(step, **chosen_sound(step))

    of_order = {key: ORDERED[key] for key in ("serial", "lot", "date_code")}
    say("identification", marking="6212 C3", package="intact", **of_order)
    say(
        "preparation", edge_burrs="removed", shoulder_burrs="none", fillet="clears the ring", wiped="yes",
        gear_ready="yes", zone="yes",
    )  # fmt: skip
    measure(book, **wanted.get("measurement", {}))
    unit = f"um from {book.requirement['nominal_mm']} mm"
    bore = {f"bore__{plane}__{at}": ("-6", unit) for plane in "AB" for at in ("0", "60", "120")}
    say("bore", source="measured", gauge="bore_gauge", **bore)
    say("clearance_before", g0=("30", "um"), method="feeler")
    chosen(Stage.RECEIVE, Stage.MEASURE)
    book.photograph("marking", "package", "seat", "micrometer")
    released = book.release("fit")
    chosen(Stage.HEAT, rows=BEFORE_TAPS)
    say("heating", heater="heater", setup="on the core leg", probe="inner ring")
    book.photograph("probe")
    book.tap("heater on", release=released.leaf)
    book.tap("lifted off", after_s=240)
    book.tap("home", after_s=6)
    book.tap("let go", after_s=50)
    say("heating", peak=("95", "°C"), peak_outer=("85", "°C"))
    say("demagnetisation", cycle="done", field=("0.9", "A/cm"), where="ring edge", meter="meter")
    say(
        "seating", film="thin oil", went_home="in one move", dropped="no", hammered="no", held_by="hand",
    )  # fmt: skip
    chosen(Stage.HEAT, rows=AFTER_TAPS)
    gaps = {f"gap__{at}": ("0", "mm") for at in (0, 90, 180, 270)}
    say("shoulder_gap", feeler="feeler", ring_temp=("21", "°C"), shaft_temp=("20", "°C"), **gaps)
    say("clearance_after", g1=("16", "um"), method="feeler")
    chosen(Stage.COLD)
    book.photograph("held", "blade", "covered")
    book.release("cold")
    beside = {
        name.partition(".")[2]: BESIDE[name] for name in BESIDE if name in book.procedure.get("also", ())
    }
    say("running", turns="smooth", **beside)
    say("protection", covered="yes")
    chosen(Stage.CLOSE)
    book.say("identification", author="inspector", check=True, marking="6212 C3")
    book.look_elsewhere()
    return book
