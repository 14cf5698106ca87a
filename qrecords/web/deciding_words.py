"""The table of findings and decisions in words: by row what is to be done before the ring is on and after,
what has to be proven or stated first, and the papers."""

from collections.abc import Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.findings import Fact

ADVICE: Mapping[str, tuple[str, str]] = {
    "journal-undersize": (
        _("Build up and grind; measure anew, the inspector measures it himself. Old readings stay."),
        _("The bearing comes off and is not used again; then the journal is built up."),
    ),
    "journal-oversize": (
        _("Polish or grind on a machine, by who is qualified; measure every plane anew."),
        _("Conceded only with the clearance left proven and the hoop stress looked at."),
    ),
    "journal-far-oversize": (
        _("Polish or grind on a machine, by who is qualified; measure every plane anew."),
        _("More than 10 µm over nothing is conceded: the bearing comes off."),
    ),
    "journal-not-proven": (
        _("A better instrument, or the same point repeated by a second person."),
        _("The engineer decides on the interference with U both ways."),
    ),
    "burr": (
        _("Stone it off, take the photo again; the inspector looks."),
        _("The ring is on: the engineer's."),
    ),
    "fillet": (_("Cut it anew, or a spacer with a chamfer."), _("A concession is not advised.")),
    "marking": (
        _("Quarantine: not opened, not mounted. Another bearing than the drawing's is a substitute."),
        _("It comes off; it is scrap if any force went through the rolling elements."),
    ),
    "dropped": (
        _("Quarantine, then scrap. No looking fine: raceway, dimensions and noise are a laboratory's."),
        _("Scrap."),
    ),
    "clearance-left": (
        _("A bearing of another clearance group."),
        _("It comes off, another bearing goes on."),
    ),
    "end-play": (_("Shim or nut; old and new value stay."), _("Shim or nut; old and new value stay.")),
    "tight-spot": (_("Clean it if it is open, else it is scrap."), _("It comes off.")),
    "overheat-10": (
        _("Let it cool, feel it, measure G0 again."),
        _("Accepted with the curve of the heat beside it; the engineer is told."),
    ),
    "overheat-more": (
        _("Let it cool, measure G0 again; hardness or an engineer's argument."),
        _("Conceded with the curve of the heat beside it."),
    ),
    "overheat-unstable": (_("Scrap."), _("Scrap.")),
    "overheat-greased": (
        _("The engineer's within the bearing's own data; over them, or with seal or grease harmed, scrap."),
        _("The engineer's within the bearing's own data; over them, or with seal or grease harmed, scrap."),
    ),
    "overheat-own-data": (_("Over the bearing's own data: scrap."), _("Over the bearing's own data: scrap.")),
    "ring-difference": (
        _("Let it cool slowly, turn it, feel it; G0 again, heat slower."),
        _("Closed by “not turned while hot” and a smooth running check."),
    ),
    "heated-again": (
        _("After full cooling, field and G0 measured again; twice at most, the third asks the engineer."),
        _("Field and G0 are measured again; the third heating is the engineer's."),
    ),
    "stuck": (
        _("Stop. Never hammer or flame. Pull on the inner ring alone with a rated, guarded puller, or call."),
        _("If force went through the rolling elements it is scrap."),
    ),
    "shoulder-gap": (
        "",
        _(
            "Never tap it cold: a press or hydraulic nut on the inner ring with the inspector there, or heat "
            "it off and seat it again. The engineer's if it stays."
        ),
    ),
    "residual-field": (
        _("Demagnetise, measure again; three tries."),
        _("A portable coil, the whole shaft, measured again; the engineer's if it stays."),
    ),
    "lost-before-heat": (_("Measure again, without exception."), ""),
    "lost-after-mounting": (
        "",
        _("Never from memory: its bounds from the limits, G1 as a cross-check; conceded, or it comes off."),
    ),
    "photo": (
        _("Take it again."),
        _("Take it again if it can still be seen; else say what else shows it. It stays missing for ever."),
    ),
    "gauge-expired": (
        _("With a gauge in date. Calibrated in tolerance since, it is noted and closed."),
        _("Calibrated in tolerance since, it is noted and closed."),
    ),
}
"""Row of the table → what is to be done before the ring is on, and after."""
FIRST: Mapping[str, str] = {
    "g1-proven": _("the clearance left, measured and conforming"),
    "stress-shown": _("the hoop stress worked out"),
    "fit-both-ways": _("the interference with U both ways"),
    "clearance-found": _("the clearance left as a cross-check"),
    "clearance-again": _("G0 felt again on the cooled ring"),
    "gap-again": _("the gap felt again after pressing"),
    "field-again": _("the field measured again after the portable coil"),
    "heating-curve": _("the curve of the heat"),
    "laboratory-report": _("the laboratory's report"),
    "calibrated-since": _("the certificate of its calibration since"),
    "own-data": _("the bearing's own ceiling with its source, at or above the peak"),
    "turns-smoothly": _("turned by hand, smooth"),
    "bounded-fit": _("the bounds of the interference"),
}
STATES: Mapping[str, str] = {
    "no-temper-colour": _("no temper colour anywhere on the bearing"),
    "seal-sound": _("seal, grease and cage are not harmed"),
    "inner-ring-alone": _("pulled and pushed on the inner ring alone"),
    "inspector-present": _("the inspector was there"),
}
PAPERS: Mapping[str, str] = {
    "customer-letter": _("letter of the customer"),
    "laboratory-report": _("report of the laboratory"),
    "heating-curve": _("curve of the heat"),
    "calibration-certificate": _("certificate of calibration"),
    "engineers-argument": _("the engineer's argument"),
}
REFUSED_PAPER: Mapping[str, str] = {
    "empty": _("it is empty."),
    "too-large": _("it is larger than 10 MB."),
    "not-a-paper": _("it is neither a PDF nor a photograph: JPEG, PNG, WebP and HEIC are."),
    "not-a-photo": _("it is neither a PDF nor a photograph: JPEG, PNG, WebP and HEIC are."),
    "locked": _("it is a PDF that asks for a password: nobody could read it in years."),
    "damaged": _("it broke off on its way, or is no whole PDF."),
    "too-many-pixels": _("it has more than 60 million pixels."),
    "too-many-scans": _("it is built in a way that a picture is not."),
    "digest-differs": _("other bytes came than were announced. Send it again."),
}


def state_words(name: str) -> str:
    return gettext(STATES[name])


def proven_words(proven: Mapping[str, Mapping[str, Fact]]) -> str:
    """What was proven before a decision, each proof once: `the hoop stress worked out, 42 MPa`."""
    told = dict.fromkeys(key.partition(".")[0] for facts in proven.values() for key in facts)
    every = {key: value for facts in proven.values() for key, value in facts.items()}
    return "; ".join(_proof(name, every) for name in told)


def _proof(name: str, facts: Mapping[str, Fact]) -> str:
    """One proof with its figures: lengths in µm, temperatures in °C, stresses in MPa."""
    figures = []
    for key, value in facts.items():
        fact = key.removeprefix(f"{name}.")
        if fact == key or isinstance(value, str):
            continue
        unit, per = next((u for end, u in FIGURES.items() if fact.endswith(end)), ("", 1))
        figures.append(f"{value / per:g} {unit}".strip())
    words = gettext(FIRST[name])
    return f"{words} ({', '.join(figures)})" if figures else words


FIGURES: Mapping[str, tuple[str, int]] = {
    "_nm": ("µm", 1000),
    "_mdegc": ("°C", 1000),
    "_mpa": ("MPa", 1),
}
"""Ending of a fact → its unit, and how many base units make one."""
