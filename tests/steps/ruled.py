"""The words of the rulebook, and the records its rows are about."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from itertools import pairwise
from typing import Any

from qrecords.steps.answers import Absent
from qrecords.steps.findings import Verdict
from qrecords.steps.procedure import STANDARD
from tests.cast import GEAR, JOURNAL_UM
from tests.steps.casebook import Book, asking, everything, journal_fields, measure, sound
from tests.steps.test_crosschecks import typed_one_by_one

IN, CLOSE, OUT, MISSING, LOOK = (
    verdict.value
    for verdict in (
        Verdict.CONFORMING,
        Verdict.NOT_PROVEN,
        Verdict.NONCONFORMING,
        Verdict.MISSING,
        Verdict.QUERY,
    )
)
NONE = "no finding"
UM = "um from 60 mm"
GOOD = object()
"""In place of an answer: as in the sound record."""


@dataclass(frozen=True)
class Lost:
    """What the rule says where the answer is *not done*, *not possible*, *not applicable*, or not entered."""

    not_done: str
    not_possible: str
    not_applicable: str
    not_entered: str


ASKED = Lost(MISSING, MISSING, MISSING, MISSING)
"""The record is not whole without it."""
UNLESS_NOT_APPLICABLE = Lost(MISSING, MISSING, NONE, MISSING)
"""The procedure knows work to which it does not apply."""
FOLLOWS = Lost(MISSING, MISSING, MISSING, NONE)
"""Worked out from an answer of another rule: that there is none is told of this too; that it is still to come
is told once, of the answer."""
MAY_LACK = Lost(NONE, NONE, MISSING, NONE)
"""Optional by procedure (ruling 9). That it does not apply is another thing than that it was left out."""
SILENT = Lost(NONE, NONE, NONE, NONE)
"""Speaks of two things beside each other: with one alone there is nothing to compare."""
JUDGED = Lost(IN, IN, IN, IN)
"""Judged without it."""
UNPROVEN = Lost(CLOSE, CLOSE, CLOSE, CLOSE)
"""There is a value, and without this nobody knows what it is worth."""


@dataclass(frozen=True)
class Ruled:
    """`told` makes a record with this answer to what the row is about (None: not entered). `bad`, an answer
    or what makes a whole record, gives `verdict`."""

    rule: str
    about: str
    told: Callable[[Any], Book]
    bad: Any
    verdict: str
    lost: Lost
    why: str
    good: str = IN

    def wrong(self) -> Book:
        return self.bad() if callable(self.bad) else self.told(self.bad)

    @property
    def fields(self) -> list[tuple[str, str]]:
        """What the row is about as (step, key), where it is answers of the work."""
        told = self.told.fields if isinstance(self.told, Answering) else ()
        places = [place.split("___") for place in told]
        return [(step, key.replace("__", ".")) for step, key in places]


@dataclass(frozen=True)
class Answering:
    """Sound records in which these fields, as `step___field`, have another answer, and `asked` of the bearing
    is another. `without` is left out where the answer is another: it says the same in another way."""

    fields: tuple[str, ...]
    gear: Mapping[str, dict[str, Any]] | None
    without: tuple[str, ...]
    asked: Mapping[str, Any]
    also: Mapping[str, Any] = field(default_factory=dict)
    """Fields that the procedure asks beside, as `step.field`, with what a sound record says there."""
    whole: bool = False
    """Under the procedure that asks everything."""

    def __call__(self, answer: Any) -> Book:
        changes = {} if answer is GOOD else dict.fromkeys(self.without) | dict.fromkeys(self.fields, answer)
        beside = {name.replace(".", "___"): said for name, said in self.also.items()}
        book = sound(
            self.gear, procedure=everything() if self.whole else asking(*self.also), **{**beside, **changes}
        )
        book.requirement |= self.asked
        return book


def answering(*fields: str, gear: Any = None, without: tuple[str, ...] = (), **asked: Any) -> Answering:
    return Answering(fields, gear, without, asked)


def chosen(*fields: str, gear: Any = None, without: tuple[str, ...] = (), **asked: Any) -> Answering:
    """Answers in a record under the procedure that asks everything."""
    return Answering(fields, gear, without, asked, whole=True)


def beside(name: str, sound_answer: Any) -> Answering:
    """What a procedure asks beside, as `step.field`."""
    return Answering((name.replace(".", "___"),), None, (), {}, {name: sound_answer})


def on_the_ring(key: str) -> Answering:
    """One of the three that a ring or its box may carry beside its marking; the others are not read."""
    others = {"serial", "lot", "date_code"} - {key}
    return answering(f"identification___{key}", without=tuple(f"identification___{each}" for each in others))


def own_reading(answer: Any) -> Book:
    book = sound()
    if answer is GOOD:
        return book
    book.lines = [line for line in book.lines if line.payload["body"]["said"].get("role") != "check"]
    if answer is not None:
        book.say("identification", author="inspector", check=True, marking=answer)
    return book


def second_heating(answer: Any) -> Book:
    """Heated again, with G0 felt again before and this told of the field since."""
    book = sound()
    book.say("clearance_before", g0=("30", "um"), method="feeler")
    book.tap("heater on")
    field = ("0.9", "A/cm") if answer is GOOD else answer
    if field is not None:
        book.say("demagnetisation", field=field)
    return book


def noted(answer: Any) -> Book:
    """Nine readings typed three seconds apart, and whether they were noted first."""
    said = "yes" if answer is GOOD else answer
    return typed_one_by_one(3, **({} if said is None else {"noted_first": said}))


def gauge(mark: str, **changes: Any) -> Callable[[], Book]:
    """A sound record with another state of one gauge."""
    kind, _document = GEAR[mark]
    known = {"id": mark, "kind": kind, "mark": mark, "status": "in use", "calibration": "c"}
    fine = {"resolution": 1000, "expanded_u": 1000, "repeatability": 0, "due": "2099-01-31"}
    return lambda: sound({mark: known | fine | {"blades_nm": [30_000, 50_000]} | changes})


def unreleased() -> Book:
    book = sound()
    for line in book.lines:
        line.payload["body"]["said"].pop("release", None)
    return book


def uncovered_by_release() -> Book:
    book = sound()
    cold = [line for line in book.lines if line.payload["body"]["said"].get("hold") == "cold"]
    book.lines = [line for line in book.lines if line not in cold]
    return book


def unphotographed() -> Book:
    book = sound()
    book.lines = [line for line in book.lines if line.payload["body"]["said"].get("shot") != "seat"]
    return book


def seat_photographed_late() -> Book:
    book = unphotographed()
    book.photograph("seat")
    return book


def paper_without_photo() -> Book:
    book = sound()
    book.enter("paper sheet", {"by": "fitter", "day": "2026-03-02", "from": "camera"})
    return book


def photo_of_another_record() -> Book:
    book = sound()
    book.look_elsewhere(photos_seen_before=[book.case().photos[0].sha256])
    return book


def checked_with_an_old_test() -> Book:
    book = sound()
    for line in book.lines:
        if line.payload["body"]["said"].get("role") == "check":
            line.payload["body"]["seen"]["eyesight"] = "lapsed"
    return book


def lapsed() -> Book:
    book = sound()
    for line in book.lines:
        if line.payload["body"]["said"].get("step") == "measurement":
            line.payload["body"]["seen"]["competence"] = "lapsed"
    return book


def pointed(point: Mapping[str, Any], *acts: Mapping[str, Any]) -> Book:
    """A sound record under a procedure with this point, and what was said there; a hold is released."""
    book = sound(procedure={**STANDARD, "points": [dict(point)]})
    captures = sorted(book.case().standing_captures(point["id"]))
    for act in acts:
        book.enter("point", {"point": point["id"], **act}, {"captures": captures}, author="inspector")
    if point["kind"] == "hold" and point["before"] == "sign-off":
        book.release(point["id"])
    return book


def third_heating() -> Book:
    book = second_heating(GOOD)
    book.tap("heater on")
    return book


def copied() -> Book:
    book = typed_one_by_one(40)
    mine = sorted((a.key, a.base) for a in book.case().many("measurement", "journal"))
    book.look_elsewhere(other_end=[base for _, base in mine], other_end_mounting="m2")
    return book


SOUND_LOG = ((0, 20), (240, 95), (246, 95), (600, 70))
"""As the sound record tells it: 95 °C after four minutes on the heater, then it only cools."""


def logged(*corners: tuple[float, float], power_w: int = 600) -> Book:
    """A sound record with the inner ring's log between these corners (s, °C)."""
    known = {"id": "heater", "mark": "IH-1", "kind": "heater", "heater_kind": "induction", "status": "in use"}
    known |= {"calibration": "c", "expanded_u": 2000, "due": "2099-01-31", "power_w": power_w}
    book = sound({"heater": known})
    rows = [f"{t:g};{a:g}" for t, a in _course(corners or SOUND_LOG)]
    book.log("\n".join(["t [s];T [°C]", *rows]), columns={"inner ring": 2})
    return book


def _course(corners: Sequence[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    for (t1, a), (t2, b) in pairwise(corners):
        yield from ((t1 + n, round(a + (b - a) * n / (t2 - t1), 1)) for n in range(round(t2 - t1)))


def log_alone(answer: Any) -> Book:
    """With a sound log, and without where it was not handed in."""
    return sound() if answer is None or isinstance(answer, Absent) else logged()


def unread_log() -> Book:
    book = sound()
    book.log("%PDF\x00", columns={"inner ring": 2})
    return book


def told_late() -> Book:
    """The journal first told ten minutes after the ring went home."""
    book = sound(**dict.fromkeys(JOURNAL))
    book.now += timedelta(minutes=10)
    measure(book)
    return book


def _heater_of(power_w: int) -> dict[str, dict[str, Any]]:
    known = {"id": "heater", "mark": "IH-1", "kind": "heater", "heater_kind": "induction", "status": "in use"}
    return {
        "heater": known | {"calibration": "c", "expanded_u": 2000, "due": "2099-01-31", "power_w": power_w}
    }


STRONG = _heater_of(600)


def weakly_heated() -> Book:
    return sound(_heater_of(20))


JOURNAL = tuple(f"measurement___{key}" for key in journal_fields(JOURNAL_UM, UM))
PLANE_A = tuple(f"measurement___journal__A__{at}" for at in (0, 60, 120))
BORE = tuple(f"bore___bore__{plane}__{at}" for plane in "AB" for at in (0, 60, 120))
GAPS = tuple(f"shoulder_gap___gap__{at}" for at in (0, 90, 180, 270))
OVEN = {
    "heater": {"id": "heater", "kind": "heater", "mark": "OV-1", "status": "in use", "heater_kind": "oven"}
}
ROLLER = {"clearance_kind": "cylindrical_roller_cyl_bore", "clearance_group": "2"}
WINDOW = {"interference_um": ["13", "48"]}
