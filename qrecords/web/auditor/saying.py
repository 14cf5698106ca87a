"""An entry in words: what was said, a line each, so that nobody has to read the payload to know it."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext, ngettext
from django.utils.translation import gettext_noop as _

from qrecords.evidence.papers import PDF
from qrecords.steps.folding import UNREADABLE
from qrecords.tracing.record import Line
from qrecords.web import chosen_words
from qrecords.web.auditor.saying_lives import LIVES
from qrecords.web.auditor.saying_log import said_of_log
from qrecords.web.auditor.saying_paper import hand_over, paper_sheet, photo_marks, said_of_paper
from qrecords.web.auditor.saying_people import looked_again, of_who
from qrecords.web.auditor.saying_points import point_act
from qrecords.web.auditor.told import Told
from qrecords.web.deciding_words import PAPERS, proven_words, state_words
from qrecords.web.moments import by_camera
from qrecords.web.names import SHOTS, hold_name, name
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import MINUS, own_unit, with_unit

Body = Mapping[str, Any]

STEPS: Mapping[str, str] = {
    "identification": _("identification"),
    "preparation": _("preparation"),
    "measurement": _("measurement of the journal"),
    "bore": _("bore of the ring"),
    "clearance_before": _("clearance before the fit"),
    "heating": _("heating"),
    "demagnetisation": _("demagnetising"),
    "seating": _("seating"),
    "shoulder_gap": _("shoulder gap"),
    "clearance_after": _("clearance found"),
    "running": _("running check"),
    "protection": _("protection"),
    **chosen_words.STEPS,
}
FIELDS: Mapping[str, str] = {
    "g0": _("clearance G0"),
    "g1": _("clearance G1"),
    "gauge_temp": _("temperature of the gauge"),
    "shaft": _("temperature of the shaft"),
    "bearing": _("temperature of the bearing"),
    "air": _("temperature of the air"),
    "peak": _("peak, inner ring"),
    "peak_outer": _("peak, outer ring"),
    "at_seat": _("temperature at the seat"),
    "setup": _("set-up on the heater"),
    "cross_check": _("cross-check on the inner ring"),
    "ring_temp": _("temperature of the ring"),
    "shaft_temp": _("temperature of the shaft"),
    "master_temp": _("temperature of the master"),
    "master_before": _("on its master before"),
    "master_after": _("on its master after"),
    "edge_burrs": _("burrs, leading edge"),
    "shoulder_burrs": _("burrs, shoulder"),
    "gear_ready": _("gear at hand"),
    "zone": _("zone kept"),
    "wiped": _("wiped clean"),
    "turns": _("turned by hand"),
    "lowest_nm": _("lowest reading heard"),
    "highest_nm": _("highest reading heard"),
    **{name.partition(".")[2]: label for name, label in chosen_words.LABELS.items()},
}
UNITS = {"um": "µm", "": ""}


@dataclass(frozen=True)
class Saying:
    """An entry in words: its kind, and everything it says."""

    kind: str
    told: tuple[Told, ...]


def step_name(step: str) -> str:
    return gettext(STEPS.get(step, step.replace("_", " ")))


def field_name(key: str) -> str:
    """A field as people read it; places of a many-field behind it: `journal A 60°`."""
    head, *places = key.split(".")
    words = gettext(FIELDS.get(head, head.replace("_", " ")))
    return " ".join([words, *(f"{place}°" if place.isdigit() else place for place in places)])


def unit_name(unit: str) -> str:
    """`um from 60 mm` → `µm from 60 mm`."""
    return "µm" + unit[2:] if unit.startswith("um") else unit


def saying(line: Line) -> Saying:
    """What an entry says; an unknown kind, or one of a newer form, names itself and shows what it holds."""
    words = WORDS.get(line.entry.kind)
    try:
        if words is not None:
            kind, told = words(line)
            return Saying(kind, tuple(told))
    except UNREADABLE:
        pass
    return Saying(gettext(line.entry.kind), tuple(_plain(line.said)))


Words = tuple[str, Iterable[Told]]


def _plain(body: Body) -> list[Told]:
    return [Told(field_name(key), _text(value)) for key, value in body.items() if value not in ("", None)]


def _text(value: Any) -> str:
    if isinstance(value, list | tuple):
        return ", ".join(_text(item) for item in value)
    if isinstance(value, dict):
        return "; ".join(f"{field_name(str(key))} {_text(item)}" for key, item in value.items())
    return str(value)


def _opened(line: Line) -> Words:
    seen = line.seen
    told = [Told(field_name(key), value) for key, value in seen["bearing"].items() if value]
    asked = seen["requirement"]
    drawing = gettext("%(drawing)s rev. %(revision)s") % asked
    return gettext("mounting opened"), [
        Told(gettext("number"), seen["number"]),
        Told(gettext("drawing"), drawing),
        *told,
    ]


def _capture(line: Line) -> Words:
    said, marks = line.said, {key: gear["mark"] for key, gear in line.seen.get("gear", {}).items()}
    kind = step_name(said["step"])
    if said["role"] == "check":
        kind = gettext("own check: %(step)s") % {"step": kind}
    told = said_of_paper(said)
    told += [_answer(heading, group, marks) for heading, group in _grouped(said["fields"])]
    told += of_who(line.seen)
    unconfirmed = ", ".join(field_name(key) for key in line.seen.get("unconfirmed", ()))
    told += [Told(gettext("sent later, never confirmed"), unconfirmed)] if unconfirmed else []
    without = line.seen.get("reason") == "none given"
    return kind, told + ([Told(gettext("why it changes"), gettext("no reason given"))] if without else [])


FURTHER_READING = 3
"""Dots in the key of a point's second and third reading: `journal.A.60.2`."""


def _grouped(fields: Mapping[str, Body]) -> list[tuple[str, list[tuple[str, Body]]]]:
    """Readings of one plane, or of one ring, stand on one line; what was read again stands with its point."""
    groups: dict[str, list[tuple[str, Body]]] = {}
    for key, answer in fields.items():
        heading, _dot, place = key.rpartition(".")
        if key.count(".") == FURTHER_READING:
            heading, _dot, angle = heading.rpartition(".")
            place = f"{angle}.{place}"
        groups.setdefault(heading or key, []).append((place if heading else "", answer))
    return [(heading, sorted(group, key=_place)) for heading, group in groups.items()]


def _place(one: tuple[str, Body]) -> tuple[int, int, str]:
    """Angles by size, further readings behind the first, other places by name: the payload itself has them
    in the order of its letters."""
    angle, _dot, time = one[0].partition(".")
    return (int(angle), int(time or 1), "") if angle.isdigit() else (0, 0, one[0])


def _placed(place: str, value: str) -> str:
    """`60° 11.2`; a further reading of the point says so: `60° again 11.4`."""
    angle, further, _time = place.partition(".")
    if not angle.isdigit():
        return f"{place} {value}".strip()
    return (gettext("%(angle)s° again") if further else "%(angle)s°") % {"angle": angle} + f" {value}"


def _answer(heading: str, group: list[tuple[str, Body]], marks: Mapping[str, str]) -> Told:
    absent = all("state" in answer for _place, answer in group)
    units = {unit_name(answer["unit"]) for _place, answer in group if "unit" in answer}
    unit = units.pop() if len(units) == 1 else ""
    if any(not own_unit(str(answer["typed"]), "own") for _place, answer in group if "unit" in answer):
        unit = ""
    texts = []
    for place, answer in group:
        value = _one(answer, "" if unit else " ")
        value = marks.get(heading, value) if not place else value
        texts.append(_placed(place, value))
    joined = " · ".join(texts)
    return Told(field_name(heading), f"{joined} {unit}".strip(), quiet=absent)


def answer_of(line: Line, key: str) -> str:
    """One answer of a capture in words; a gauge by its mark."""
    gear: Mapping[str, Body] = line.seen.get("gear", {})
    return str(gear[key]["mark"]) if key in gear else _one(line.said["fields"][key], " ")


def _one(answer: Body, gap: str) -> str:
    if "state" in answer:
        return gettext("%(state)s: %(reason)s") % {
            "state": gettext(answer["state"]),
            "reason": answer["reason"],
        }
    typed = _true_minus(str(answer["typed"]))
    return f"{typed}{gap + own_unit(typed, unit_name(answer['unit'])) if gap else ''}".strip()


def _true_minus(typed: str) -> str:
    """`-12` → `−12`: the figure as it was typed, with the sign of print; words keep their hyphens."""
    return MINUS + typed[1:] if re.fullmatch(r"-\s*[\d.,]+.*", typed) else typed


def _tap(line: Line) -> Words:
    told = said_of_paper(line.said)
    if line.said.get("release"):
        told.append(Told(gettext("relies on the release"), line.said["release"][:16] + "…"))
    if line.said.get("code"):
        told.append(Told(gettext("one-time code"), line.said["code"]))
    named = line.said.get("release") or line.said.get("code") or line.said.get("paper", {}).get("reference")
    if line.said["what"] == "heater on" and not named:
        told.append(Told(gettext("relies on the release"), gettext("none named"), quiet=True))
    return gettext("tap: %(what)s") % {"what": gettext(line.said["what"])}, told


def _attachment(line: Line) -> Words:
    if "log" in line.said:
        return gettext("heating log handed in"), said_of_log(line.said["log"])
    if line.said["shot"] in PAPERS:
        return gettext("paper handed in"), [Told(gettext("paper"), gettext(PAPERS[line.said["shot"]]))]
    shot = gettext(SHOTS.get(line.said["shot"], line.said["shot"]))
    return gettext("photo taken"), [Told(gettext("shot"), shot), Told(gettext("from"), line.said["from"])]


def _received(line: Line) -> Words:
    told = [Told("SHA-256", line.said["sha256"]), Told(gettext("bytes"), str(line.seen["size"]))]
    told += [Told(gettext("camera"), line.seen["camera"])] if line.seen.get("camera") else []
    told += (
        [Told(gettext("taken, by the camera"), by_camera(line.seen["taken_at"]))]
        if line.seen.get("taken_at")
        else []
    )
    media = str(line.seen.get("media", "image/"))
    if media.startswith("image/"):
        return gettext("photo received"), told
    return gettext("paper received") if media == PDF else gettext("heating log received"), told


def heard(reading_nm: int) -> str:
    """A reading as it was heard by telephone: the whole size."""
    return with_unit(FIGURES.mm(reading_nm, 3), "mm")


def _release(line: Line) -> Words:
    said = line.said
    count = len(line.seen["captures"])
    told = [Told(gettext("by"), gettext(line.seen["means"]))]
    told += [Told(gettext("rests on"), ngettext("%(n)s capture", "%(n)s captures", count) % {"n": count})]
    if "code" in said:
        told.append(Told(field_name("code"), said["code"]))
        told += [Told(field_name(key), heard(said[key])) for key in ("lowest_nm", "highest_nm")]
    told += of_who(line.seen)
    return gettext("released: %(hold)s") % {"hold": hold_name(said["hold"])}, told


def _decision(line: Line) -> Words:
    said = line.said
    about = ", ".join(name(item["key"].partition("/")[2]) for item in line.seen["findings"])
    told = [Told(gettext("about"), about)]
    told += [Told(gettext("conditions"), said["conditions"])] if said["conditions"] else []
    told += [Told(gettext("holds until"), said["expires"])] if said.get("expires") else []
    told += [Told(gettext("letter of the customer"), said["letter"])] if said.get("letter") else []
    told += [Told(gettext("stated"), state_words(each)) for each in said.get("states", ())]
    proven = proven_words(line.seen.get("proven", {}))
    told += [Told(gettext("proven first"), proven)] if proven else []
    closes = line.seen["closes"]
    told += [Told(gettext("closes the mounting"), gettext(closes))] if closes else []
    told += of_who(line.seen)
    return gettext("decided: %(kind)s") % {"kind": gettext(said["decision"])}, told


def _looked(line: Line) -> Words:
    return gettext("looked at"), [Told(gettext("about"), name(line.seen["key"].partition("/")[2]))]


def _return(line: Line) -> Words:
    return gettext("returned"), [Told(name(item["about"]), item["reason"]) for item in line.said["items"]]


def _withdrawal(line: Line) -> Words:
    return gettext("withdrawn"), []


def _amendment(line: Line) -> Words:
    return gettext("opened for amendment %(number)s") % line.seen, []


def _signature(line: Line) -> Words:
    count = line.said["shown"]["entries"]
    told = [Told(gettext("over"), ngettext("%(n)s entry", "%(n)s entries", count) % {"n": count})]
    told += of_who(line.seen)
    return gettext("signed: %(meaning)s") % {"meaning": gettext(line.said["meaning"])}, told


def occasion_name(occasion: str) -> str:
    """`release fit` → *release, before heat*."""
    word, _space, hold = occasion.partition(" ")
    if word == "release":
        return gettext("release, %(hold)s") % {"hold": hold_name(hold)}
    return gettext(occasion)


def _drawing(line: Line) -> Words:
    asked, stood = line.seen["requirement"], line.seen["stood"]
    return gettext("judged by the right drawing"), [
        Told(gettext("drawing"), f"{asked['drawing']} {asked['revision']}"),
        Told(gettext("judged before by"), f"{stood['drawing']} {stood['revision']}"),
        Told(gettext("judges"), gettext(line.seen["judges"])),
    ]


def _judgement(line: Line) -> Words:
    counted: dict[str, int] = {}
    for finding in line.seen["findings"]:
        counted[finding["verdict"]] = counted.get(finding["verdict"], 0) + 1
    told = [Told(gettext(verdict), str(count)) for verdict, count in counted.items()]
    if line.said["of"] > 1:
        told.append(Told(gettext("part"), gettext("{part} of {of}").format(**line.said)))
    return gettext("judged: %(occasion)s") % {"occasion": occasion_name(line.said["occasion"])}, told


def _elsewhere(line: Line) -> Words:
    seen = line.seen
    other = (
        gettext("%(n)s readings") % {"n": len(seen["other_end"])} if seen["other_end"] else gettext("none")
    )
    return gettext("looked up in other records"), [
        Told(gettext("other end"), other),
        Told(gettext("earlier heatings"), str(seen["earlier_heatings"])),
        Told(gettext("photos seen before"), str(len(seen["photos_seen_before"]))),
    ]


WORDS: Mapping[str, Callable[[Line], Words]] = {
    "mounting": _opened,
    "capture": _capture,
    "tap": _tap,
    "attachment": _attachment,
    "file received": _received,
    "release": _release,
    "decision": _decision,
    "looked": _looked,
    "return": _return,
    "paper sheet": paper_sheet,
    "point": point_act,
    "hand over": hand_over,
    "photo marks": photo_marks,
    "withdrawal": _withdrawal,
    "drawing": _drawing,
    "signature": _signature,
    "amendment": _amendment,
    "judgement": _judgement,
    "elsewhere": _elsewhere,
    "re-review": looked_again,
    **LIVES,
}
