"""What a certificate says in sentences: the answer first, then what was decided and what was not done."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, ngettext

from qrecords.steps.findings import Verdict
from qrecords.steps.new_look_back import PERSON
from qrecords.steps.runs import runs
from qrecords.tracing.record import Line, Record, not_done
from qrecords.web.auditor.saying import field_name
from qrecords.web.deciding_words import proven_words, state_words
from qrecords.web.doubts import other_tables, told
from qrecords.web.from_paper import from_paper
from qrecords.web.heading import unread_line
from qrecords.web.inspector.certificate import Source, decision_labels, labels_by_digest
from qrecords.web.inspector.reviewing import certificate_note
from qrecords.web.inspector.rights import kind_word
from qrecords.web.moments import calendar_day, moment
from qrecords.web.names import SHOTS
from qrecords.web.points import points_note
from qrecords.wording.figures import with_unit

WORTH_SAYING = ("g0", "g1", "peak_outer", "cross_check", "at_seat", "field", "master_after")
"""Optional measurements whose lack a reader should know of; labels and notes are not among them."""


@dataclass(frozen=True)
class Paragraph:
    """A heading and its text, as a decision has them."""

    heading: str
    text: str


def answer(source: Source) -> tuple[str, str]:
    """The one-sentence answer: (bold, rest)."""
    counts = {v: sum(f.verdict == v for f in source.findings) for v in Verdict}
    if not source.signed:
        open_ = counts[Verdict.NONCONFORMING] + counts[Verdict.NOT_PROVEN] + counts[Verdict.MISSING]
        rest = ngettext(
            "%(n)s finding is not conforming as it stands now.",
            "%(n)s findings are not conforming as they stand now.",
            open_,
        )
        return gettext("Not signed off: this is no certificate."), rest % {"n": open_}
    return _signed_words(source), _counted(source, counts)


def _signed_words(source: Source) -> str:
    conceded = sum(label.startswith("C") for label, _ in decision_labels(source))
    if not conceded:
        return gettext("Signed off.")
    words = ngettext("Signed off with %(n)s concession.", "Signed off with %(n)s concessions.", conceded)
    return words % {"n": conceded}


def _counted(source: Source, counts: dict[Verdict, int]) -> str:
    flagged = (Verdict.NONCONFORMING, Verdict.NOT_PROVEN, Verdict.MISSING)
    said = [f"{counts[v]} {gettext(v.value)}" for v in flagged if counts[v]]
    labels = labels_by_digest(source)
    where = sorted({labels[f.digest] for f in source.findings if f.verdict in flagged and f.digest in labels})
    sentences = []
    if said:
        facts = {"findings": ", ".join(said), "where": ", ".join(where)}
        sentences.append(gettext("Findings: %(findings)s, decided in %(where)s;") % facts)
        sentences.append(gettext("all others conforming."))
    else:
        n = counts[Verdict.CONFORMING]
        sentences.append(
            ngettext("%(n)s finding, conforming.", "All %(n)s findings conforming.", n) % {"n": n}
        )
    return " ".join([*sentences, *_queries(source)])


def _queries(source: Source) -> list[str]:
    """Queries are counted apart: those somebody looked at, and those nobody did."""
    asked = [finding for finding in source.findings if finding.verdict == Verdict.QUERY]
    looked = sum(finding.digest in source.case.looked for finding in asked)
    left = len(asked) - looked
    said = []
    if looked:
        words = ngettext("%(n)s query looked at.", "%(n)s queries looked at.", looked)
        said.append(words % {"n": looked})
    if left:
        words = ngettext("%(n)s query nobody looked at.", "%(n)s queries nobody looked at.", left)
        said.append(words % {"n": left})
    return said


MARKS = ("serial", "lot", "date_code")


def bearing_marks(source: Source) -> str:
    """`serial 4471-A · lot L-4471 · date code 2545 · work order WO-7`: as read off the ring, else as ordered;
    the work order is what the owner has on paper."""
    ordered = source.case.opened["bearing"]
    said = []
    for key in MARKS:
        read = source.case.value_of("identification", key)
        word = read.word if read else str(ordered.get(key) or "")
        if word:
            said.append(f"{field_name(key)} {word}")
    order = gettext("work order {order}").format(order=source.record.mounting.rebuild.work_order)
    return " · ".join([*(said or [gettext("neither serial nor lot is known")]), order])


def decisions(source: Source) -> list[Paragraph]:
    """Each decision with who, when, why and on which conditions; then what was looked at."""
    zone = source.fixed.zone
    said = []
    for label, line in decision_labels(source):
        kind = kind_word(line.said["decision"])
        text = " ".join([line.reason, *named_in(line)])
        said.append(Paragraph(f"{label} {kind}, {line.author}, {moment(line.at, zone)}", text))
    for line in source.lines("looked"):
        heading = gettext("Looked at, %(who)s, %(at)s") % {"who": line.author, "at": moment(line.at, zone)}
        said.append(Paragraph(heading, line.reason))
    return said


def named_in(line: Line) -> list[str]:
    """What a decision names beside its argument: conditions, until when it holds, who agreed, what was seen
    and what was proven for it."""
    said, concession = line.said, line.said["decision"] == "concession"
    words = []
    if said["conditions"]:
        words.append(gettext("Condition: %(conditions)s") % {"conditions": said["conditions"]})
    if said.get("states"):
        seen = "; ".join(state_words(each) for each in said["states"])
        words.append(gettext("Stated: %(seen)s.") % {"seen": seen})
    proven = proven_words(line.seen.get("proven", {}))
    if proven:
        words.append(gettext("Proven first: %(what)s.") % {"what": proven})
    if said.get("letter"):
        words.append(
            gettext("The customer agreed by letter, SHA-256 %(hash)s….") % {"hash": said["letter"][:16]}
        )
    if said.get("expires"):
        until = calendar_day(date.fromisoformat(said["expires"]))
        words.append(gettext("Holds until %(day)s.") % {"day": until})
    elif concession:
        words.append(gettext("Holds as long as this mounting stands."))
    return words


def notes(source: Source) -> list[str]:
    """What was not done, at which temperatures, what no second source confirms, what nobody could read."""
    reduced = certificate_note(source.record, source.fixed.zone)
    points = points_note(source.case, source.fixed.zone)
    said = (
        _later_version(source.record),
        reduced,
        from_paper(source.case),
        _undone(source),
        points,
        _looked_back(source),
        _climate(source),
        _tables(source),
        unread_line(source.case),
    )
    return [note for note in said if note]


def _later_version(record: Record) -> str:
    """That another version was signed since, or is being made: what it changes is not on these sheets."""
    if record.signature is None:
        return ""
    if record.version < len(record.sign_offs) - 1:
        words = gettext("As it was signed before amendment %(n)s, which is signed too: see the newest one.")
        return words % {"n": record.version + 1}
    if len(record.case.amendments) > record.version:
        words = gettext("Amendment %(n)s is being made: what it changes is not signed, and not shown here.")
        return words % {"n": record.version + 1}
    return ""


def _undone(source: Source) -> str:
    said = [
        f"{field_name(gap.key)}: {gettext(gap.state)}" + (f" – {gap.reason}" if gap.reason else "")
        for gap in not_done(source.case)
        if gap.state != "not entered" or gap.key in WORTH_SAYING
    ]
    missing = [
        gettext(SHOTS.get(shot.id, shot.id))
        for shot in source.case.procedure.shots
        if not _received(source, shot.id)
    ]
    if missing:
        said.append(gettext("photos: %(shots)s") % {"shots": ", ".join(missing)})
    words = "; ".join(said) if said else gettext("none")
    return gettext("Not done, known at sign-off: %(what)s.") % {"what": words}


def _looked_back(source: Source) -> str:
    """The look-backs that were open when it was signed, as the signature froze them."""
    signed = [line for line in source.lines("signature") if line.said["meaning"] == "inspected"]
    told = [_open_then(each) for line in signed[-1:] for each in line.seen.get("look_backs", ())]
    return gettext("Open at sign-off: %(what)s.") % {"what": "; ".join(told)} if told else ""


def _open_then(told: Mapping[str, str]) -> str:
    """`look-back of MIC-114: not proven`; whose authorisation was wrong is not printed."""
    words = gettext("look-back of %(what)s") % {
        "what": gettext("a person's authorisation") if told["subject"] == PERSON else told["of"]
    }
    return f"{words}: {gettext(told['class'])}" if told["class"] else words


def _received(source: Source, shot: str) -> bool:
    return any(p.shot == shot and p.received and not p.after_signature for p in source.case.photos)


def _climate(source: Source) -> str:
    case, figures = source.case, source.fixed.figures
    said = []
    for key, words in (("shaft", gettext("Shaft %(t)s")), ("air", gettext("air %(t)s"))):
        read = case.value_of("measurement", key)
        if read is not None:
            said.append(words % {"t": with_unit(figures.tenths_of_celsius(read.base), "°C")})
    heated = len(runs(case))
    times = ngettext("Heated once.", "Heated %(n)s times.", heated) % {"n": heated} if heated else ""
    if not said:
        return times
    return f"{', '.join(said)}; {gettext('readings taken to 20 °C.')} {times}".strip()


def _tables(source: Source) -> str:
    rows = dict.fromkeys(each for finding in source.findings for each in finding.unconfirmed)
    said = [f"{each[0].upper()}{each[1:]}." for each in told(rows)]
    if not rows:
        said = [gettext("Every table used is confirmed by a second source.")]
    return " ".join(filter(None, (other_tables(source.case.tables), *said)))
