"""The table of findings and decisions in words: what is to be done about a finding, and what has to be
proven, stated or agreed before it is decided."""

from collections.abc import Sequence

from django.utils.translation import gettext

from qrecords.mountings.judging import Judged
from qrecords.steps.deciding import CONCESSION, REDO
from qrecords.steps.findings import Finding
from qrecords.steps.granting import Offer
from qrecords.steps.runs import is_on
from qrecords.steps.standard import RULES
from qrecords.web.deciding_words import ADVICE, FIRST, state_words


def advice(judged: Judged, finding: Finding) -> str:
    """What the table says is to be done about a finding now; '' where it has no word."""
    rule = RULES.get(finding.rule)
    if rule is None:
        return ""
    said = ADVICE.get(rule.row_of(finding, judged.case).id, ("", ""))[is_on(judged.case)]
    return gettext(said) if said else ""


def first_words(ways: Sequence[Offer]) -> tuple[str, ...]:
    """A line a decision that asks for something first: `concession: the hoop stress worked out – here; the
    clearance left, measured and conforming – lacks; the customer's letter`."""
    return tuple(line for offer in ways if (line := _first(offer)))


def _first(offer: Offer) -> str:
    said = [gettext("%(what)s: here") % {"what": gettext(FIRST[name])} for name in offer.proven]
    said += [gettext("%(what)s: lacks") % {"what": gettext(FIRST[name])} for name in offer.lacking]
    said += [gettext("stated: %(what)s") % {"what": state_words(name)} for name in offer.way.states]
    said += [gettext("the customer agrees by letter")] if offer.customer else []
    if not said:
        return ""
    kinds = {CONCESSION: gettext("concession"), REDO: gettext("done again by the fitter")}
    kind = kinds.get(offer.kind, gettext(offer.kind))
    return gettext("Before %(kind)s: %(first)s") % {"kind": kind, "first": "; ".join(said)}
