"""The certificate of one mounting: from the judgement that was signed, judged by nobody again.

Language, units, zone and template come from the signed entry; names from the versions whose hashes the
entries hold; limits, verdicts and margins from the judgement stored at sign-off; readings from the entries.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.ledger.queries import first_entry
from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.steps.case import Case
from qrecords.steps.findings import Finding
from qrecords.steps.transitions import CLOSED, state_of
from qrecords.tracing.record import Line, Record
from qrecords.web.heading import place
from qrecords.web.moments import moment
from qrecords.web.parts import SheetBlock
from qrecords.web.showing import Shown, show
from qrecords.wording.figures import Figures
from qrecords.workshop.models import Site


@dataclass(frozen=True)
class Fixed:
    """How a certificate is lettered: as the signed entry says, or as the reader asks before there is one."""

    language: str
    zone: str
    template: str = ""

    @property
    def figures(self) -> Figures:
        return Figures.for_language(self.language)


def fixed_by(record: Record, language: str, zone: str) -> Fixed:
    """What the signature fixed; the reader's own language and zone before sign-off."""
    if record.signature is None:
        return Fixed(language, zone)
    shown = record.signature.seen["certificate"]
    return Fixed(shown["language"], shown["zone"], shown["template"])


@dataclass(frozen=True)
class Source:
    """What a certificate is made of: the case as signed and its findings, or, before, as they stand now."""

    record: Record
    case: Case
    findings: tuple[Finding, ...]
    fixed: Fixed
    signed: bool

    @property
    def found(self) -> dict[str, Finding]:
        return {finding.characteristic: finding for finding in self.findings}

    def shown(self) -> list[Shown]:
        """Every finding lettered with the certificate's words; the verdicts are the stored ones."""
        judged = Judged(self.case, self.findings)
        return [show(judged, finding, self.fixed.figures, iso=True) for finding in self.findings]

    def lines(self, kind: str) -> list[Line]:
        """The entries of a kind that the certificate covers, in their order."""
        return [line for line in self.covered if line.entry.kind == kind]

    @property
    def covered(self) -> tuple[Line, ...]:
        """Everything up to and with the signature; late entries stand apart."""
        if not self.signed or self.record.signature is None:
            return self.record.lines
        return self.record.lines[: self.record.lines.index(self.record.signature) + 1]


def source_of(record: Record, now: Judged | None, fixed: Fixed) -> Source:
    """The signed judgement, or `now` for a record nobody has signed."""
    if now is not None:
        return Source(record, now.case, now.findings, fixed, signed=False)
    assert record.signed is not None  # noqa: S101 - the caller asks for `now` before sign-off
    stored = record.counting
    assert stored is not None  # noqa: S101 - every sign-off stores its judgement
    return Source(record, record.signed, stored.findings, fixed, signed=True)


def signature_of(source: Source, meaning: str) -> tuple[str, str]:
    """(name, moment) of the newest signature of this meaning; two dashes where there is none."""
    lines = [line for line in source.lines("signature") if line.said["meaning"] == meaning]
    return _who_and_when(lines, source.fixed.zone)


def _who_and_when(lines: list[Line], zone: str) -> tuple[str, str]:
    return (lines[-1].author, moment(lines[-1].at, zone)) if lines else ("–", "")


def sheet_block(source: Source, number: int, of: int) -> SheetBlock:
    """The title block of one sheet (ISO 7200) with the signatures and the proof."""
    mounting = source.record.mounting
    machine = mounting.journal.machine
    owner = Site.objects.filter(id=mounting.site).values_list("name", flat=True).first() or ""
    conceded = [line for line in source.lines("decision") if line.said["decision"] == "concession"]
    words, hashes = ledger_words(source)
    return SheetBlock(
        owner=owner,
        document_type=gettext("certificate of mounting"),
        status=status_word(source),
        title=title_of(source),
        number=mounting.number,
        mark=machine.mark,
        language_and_sheet=f"{source.fixed.language} · {number}/{of}",
        performed=signature_of(source, "performed"),
        inspected=signature_of(source, "inspected"),
        concession=_who_and_when(conceded, source.fixed.zone),
        ledger=words,
        hashes=hashes,
        amendment=str(source.record.version),
    )


def title_of(source: Source) -> str:
    """Whose machine, which place on it."""
    return sheet_title(source.record.mounting)


def sheet_title(mounting: Mounting) -> str:
    machine = mounting.journal.machine
    return f"{machine.owner}, {machine.name} · {place(mounting)}"


def status_word(source: Source) -> str:
    """*signed off*, *closed as scrapped* and the like; *not signed off* while the record is open."""
    state = state_of(source.case)
    return gettext(state.value) if state in CLOSED else gettext("not signed off")


def ledger_words(source: Source) -> tuple[str, str]:
    """Where the signed entry stands in the log, and its leaf hash in groups of four."""
    signature = source.record.signature
    if signature is None or not source.signed:
        return gettext("ledger: not signed off, so no entry to prove"), "–"
    first = first_entry()
    log = first.payload["body"]["seen"].get("log", "") if first else ""
    facts = {"index": signature.entry.index, "log": log}
    words = gettext("ledger %(log)s: entry %(index)s and its leaf, proved without this software") % facts
    return words, grouped(signature.entry.leaf)


def grouped(leaf: str) -> str:
    """Sixteen groups of four, a dot in the middle."""
    groups = [leaf[place : place + 4] for place in range(0, len(leaf), 4)]
    half = len(groups) // 2
    return f"{' '.join(groups[:half])} · {' '.join(groups[half:])}"


def decision_labels(source: Source) -> list[tuple[str, Line]]:
    """C1, C2 … for concessions, A for what was accepted, D for the rest; in the order of the entries."""
    letters: Mapping[str, str] = {"concession": "C", "accept": "A"}
    counted: dict[str, int] = {}
    labelled = []
    for line in source.lines("decision"):
        letter = letters.get(line.said["decision"], "D")
        counted[letter] = counted.get(letter, 0) + 1
        labelled.append((f"{letter}{counted[letter]}", line))
    return labelled


def labels_by_digest(source: Source) -> dict[str, str]:
    """Which decision answers a finding, by the digest of its numbers."""
    found: dict[str, list[str]] = {}
    for label, line in decision_labels(source):
        for digest in line.said["findings"]:
            found.setdefault(digest, []).append(label)
    return {digest: ", ".join(labels) for digest, labels in found.items()}
