"""Sentences for what is found of a heater's own log, and for why one cannot be read."""

from collections.abc import Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.findings import Fact

LOG_FINDINGS: Mapping[str, str] = {
    "log-readable.conforming": _("{samples} samples|read."),
    "log-readable.announced": _("Log handed in,|not yet received."),
    "log-readable.lost": _("The file of the log is not in its place:|what it said is not proven."),
    "log-readable.unread": _("The log cannot be read:|{why} It is kept as it was sent."),
    "log-readable.which-ring": _("Which column is the inner ring?|The log does not say it, and nobody did."),
    "log-readable.which-unit": _("°C or °F?|The log does not say it, and nobody did."),
    "log-readable.ceiling-beyond": _("Never above {cap_mdegc:c}?|No log is judged by such a ceiling."),
    "log-readable.too-few": _("Not two temperatures|that a ring can have stand in this column."),
    "log-ceiling.conforming": _("{peak_mdegc:c} at most,|never above {cap_mdegc:c} ({ceiling})."),
    "log-ceiling.not-proven": _(
        "{peak_mdegc:c} at most,|too close to {cap_mdegc:c} ({ceiling}); above it for "
        "{above_low_ms:s} to {above_high_ms:s}."
    ),
    "log-ceiling.nonconforming": _(
        "{peak_mdegc:c}: {over_mk:k} over {cap_mdegc:c} ({ceiling}),|above it for {above_low_ms:s} to "
        "{above_high_ms:s}."
    ),
    "log-ceiling.off-inner-ring": _(
        "{peak_mdegc:c} beside the inner ring: {over_mk:k} over {cap_mdegc:c} ({ceiling}),|above it for "
        "{above_low_ms:s} to {above_high_ms:s}."
    ),
    "log-ceiling.probe-off": _(
        "The probe came off at {off_ms:s}, at {off_mdegc:c}:|how hot the ring got after that is not proven."
    ),
    "log-ceiling.no-peak": _("Nowhere three samples in a row:|how hot the ring got is not proven."),
    "log-ceiling.hidden": _(
        "{peak_mdegc:c} was seen,|but a gap in the log could hide more than {cap_mdegc:c} ({ceiling})."
    ),
    "log-ceiling.short-run": _(
        "{peak_mdegc:c} was seen,|with too few samples between gaps near {cap_mdegc:c} ({ceiling})."
    ),
    "log-as-typed.conforming": _("{peak_mdegc:c} by the log, {typed_mdegc:c} typed:|the same."),
    "log-as-typed.query": _(
        "{peak_mdegc:c} by the log, {typed_mdegc:c} typed:|{apart_mk:k} apart, up to ({allowed_mk:k}) is "
        "their doubt. Is it the log of this heating?"
    ),
    "log-against-taps.conforming": _(
        "{heated_ms:s} on the heater by the taps:|after that the log only falls."
    ),
    "log-against-taps.query": _(
        "{heated_ms:s} on the heater by the taps,|but the log rises by {rise_mk:k} until {rising_ms:s}. "
        "Is it the log of this heating?"
    ),
    "log-energy.conforming": _(
        "{rise_mk:k} in {took_ms:s}:|{power_w} W need ({least_ms:s}) at least for the inner ring."
    ),
    "log-energy.query": _(
        "{rise_mk:k} in {took_ms:s}:|{power_w} W need ({least_ms:s}) at least for the inner ring. Is it the "
        "log of this bearing?"
    ),
}

UNREAD: Mapping[str, str] = {
    "empty": _("the file is empty."),
    "too-large": _("the file is larger than 2 MB."),
    "not-text": _("it is no text. A log is a line a sample, with commas, semicolons or tabs between."),
    "line-too-long": _("line {line} is longer than 2000 characters."),
    "no-columns": _(
        "no commas, semicolons or tabs stand between its columns; line {line} begins with “{value}”."
    ),
    "time": _(
        "in line {line}, column {column} stands “{value}”. A time is seconds, mm:ss, hh:mm:ss, or date and "
        "time as 2026-03-02T08:15:30."
    ),
    "number": _(
        "in line {line}, column {column} stands “{value}”. A temperature is a number with point or comma."
    ),
    "columns-differ": _("line {line} has other columns than the first sample: {value}."),
    "samples": _("it has {value} samples; 2 to 100 000 are read."),
    "two-kinds-of-comma": _(
        "commas may stand between columns or inside numbers, as in “{value}”. Semicolons or points tell them "
        "apart."
    ),
    "two-decimal-signs": _("numbers have points and commas; in line {line}, column {column} “{value}”."),
    "one-moment": _("every sample has the same time, “{value}”."),
    "no-temperature": _("no column holds temperatures."),
    "too-many-columns": _("it has {value} columns of numbers; 12 are read."),
}


def why_unread(facts: Mapping[str, Fact]) -> str:
    """Why a log cannot be read, with the place, what stands there and what would be read."""
    return gettext(UNREAD.get(str(facts["reason"]), UNREAD["not-text"])).format(**facts)


def why_not(error: LogUnreadableError) -> str:
    """The same of an error."""
    known: dict[str, Fact] = {"line": error.line, "column": error.column, "value": error.value}
    return why_unread(known | {"reason": error.reason})
