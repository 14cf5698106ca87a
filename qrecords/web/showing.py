"""A finding as a page shows it: named, lettered, with margin in µm and in multiples of u, and its working."""

from dataclasses import dataclass
from decimal import Decimal

from django.utils.translation import gettext

from qrecords.mountings.judging import Judged
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.granting import Offer, offers
from qrecords.steps.rules import Rule
from qrecords.steps.standard import RULES
from qrecords.steps.transitions import settled
from qrecords.web import parts
from qrecords.web.doubts import told
from qrecords.web.lettered import UNITS, number_in, unit_for
from qrecords.web.lettered import Shown as ShownUnit
from qrecords.web.messages import sentence
from qrecords.web.names import name
from qrecords.web.why import why
from qrecords.web.workings import worked_out
from qrecords.wording.figures import ELLIPSIS, Figures, with_unit

FIGURES = Figures(".")
DEVIATIONS = ("journal-size", "bore-in-class")
WORKED_OUT = ("interference", "clearance-forecast", "journal-roundness", "journal-taper", "slid-on")


@dataclass(frozen=True)
class Shown:
    finding: Finding
    name: str
    verdict: parts.Verdict
    lead: str
    rest: str
    limit: str
    found: str
    margin: str
    times_u: str
    source: str
    why: str
    rule: str
    unconfirmed: tuple[str, ...]
    working: parts.Working | None
    ways: tuple[Offer, ...]
    settled: bool
    hidden: bool = False
    """Kept back from a second reader: the finding is named, nothing of what it found."""

    @property
    def rows(self) -> tuple[str, ...]:
        """Only what is said of rows of tables."""
        return told(self.finding.unconfirmed, rows_only=True)

    @property
    def digest(self) -> str:
        return self.finding.digest

    @property
    def said(self) -> parts.Said:
        return parts.Said(self.verdict, (parts.Sentence(self.lead, self.rest),))


def show(judged: Judged, finding: Finding, figures: Figures = FIGURES, *, iso: bool = False) -> Shown:
    """One finding, ready for a template. `iso` chooses the certificate's words."""
    rule = RULES.get(finding.rule)  # an old judgement may name a rule that is no more
    lead, rest = sentence(finding.message, finding.facts, figures)
    return Shown(
        finding=finding,
        name=name(finding.characteristic),
        verdict=parts.Verdict(finding.verdict.value, iso),
        lead=lead,
        rest=rest,
        limit=_limit(finding, figures),
        found=_found(finding, figures),
        margin=_margin(finding, figures),
        times_u=_times_u(finding, figures),
        source=finding.source,
        why=why(finding.rule),
        rule=f"{finding.rule}/{finding.version}",
        unconfirmed=told(finding.unconfirmed),
        working=_working(finding),
        ways=_ways(rule, finding, judged),
        settled=settled(judged.case, finding),
    )


def shown_in(finding: Finding) -> ShownUnit:
    """µm where a µm counts; what is measured in mm, hours or kg is said in them."""
    numbers = (finding.value, finding.lower, finding.upper) if "base_unit" in finding.facts else ()
    return unit_for(finding.unit, *numbers)


def _ways(rule: Rule | None, finding: Finding, judged: Judged) -> tuple[Offer, ...]:
    """What may be done about it; of what conforms nothing is to be done."""
    if rule is None or finding.verdict == Verdict.CONFORMING:
        return ()
    return offers(finding, judged.case)


def _number(finding: Finding, base: int, figures: Figures) -> str:
    if "base_unit" in finding.facts:
        return number_in(shown_in(finding), base, figures)
    _unit, per_unit, places = UNITS[finding.unit]
    letter = figures.signed if finding.rule in DEVIATIONS else figures.plain
    return letter(Decimal(base) / per_unit, places).removesuffix(f"{figures.decimal_sign}0")


def _limit(finding: Finding, figures: Figures) -> str:
    low, high = finding.lower, finding.upper
    if finding.unit not in UNITS or (low is None and high is None):
        return str(finding.facts.get("wanted", ""))
    if low is not None and high is not None:
        both = f"{_number(finding, low, figures)}{ELLIPSIS}{_number(finding, high, figures)}"
        return with_unit(both, shown_in(finding)[0])
    if finding.rule == "shoulder-gap" and high is not None:  # ruling 19: a blade of the limit itself is out
        return gettext("%(blade)s must not go in") % {"blade": with_unit(figures.mm(high, 2), "mm")}
    sign, value = ("≥", low) if low is not None else ("≤", high)
    assert value is not None  # noqa: S101 - one of the two is there
    return f"{sign} {with_unit(_number(finding, value, figures), shown_in(finding)[0])}"


def _found(finding: Finding, figures: Figures) -> str:
    if finding.value is None or finding.unit not in UNITS:
        return str(finding.facts.get("said", finding.facts.get("read", "")))
    if finding.rule == "shoulder-gap":
        return with_unit(figures.mm(finding.value, 2), "mm") if finding.value else gettext("none")
    text = with_unit(_number(finding, finding.value, figures), shown_in(finding)[0])
    return f"({text})" if finding.rule in WORKED_OUT else text


def _margin(finding: Finding, figures: Figures) -> str:
    if finding.margin is None or finding.unit not in UNITS:
        return ""
    _unit, per_unit, places = shown_in(finding)
    return figures.plain(Decimal(finding.margin) / per_unit, max(places, 1))


def _times_u(finding: Finding, figures: Figures) -> str:
    if finding.margin is None or not finding.u:
        return ""
    return figures.plain(Decimal(finding.margin) / finding.u, 1)


def _working(finding: Finding) -> parts.Working | None:
    result = finding.working
    if result is None:
        return None
    spread = "" if result.u is None else f" ± {result.u:.2g}"
    return worked_out(
        summary=name(finding.characteristic),
        formula=result.formula,
        put_in=result.put_in,
        figure=f"{result.value:.4g}{spread}",
        unit=result.unit,
        assumptions=result.assumptions,
        source=result.source,
        unconfirmed=result.unconfirmed,
        validity=result.validity,
    )
