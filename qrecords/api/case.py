"""A mounting as the API shows it: what was asked, said, found and decided; numbers in base units."""

from typing import Any

from rest_framework import serializers

from qrecords.api.fields import Answer
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.heating import Plan
from qrecords.mountings.judging import Judged, settled
from qrecords.mountings.models import Mounting
from qrecords.people.queries import names
from qrecords.signoff.actions import shown_leaves
from qrecords.steps.case import Answered, Case
from qrecords.steps.findings import Finding, working_document
from qrecords.steps.fit import heating_plan
from qrecords.steps.requirement import Limits
from qrecords.steps.standard import RULES
from qrecords.steps.telephone import answer_code, readings_code, readings_of
from qrecords.steps.transitions import standing_release, state_of, undecided, voided


class Open(Answer):
    """How many findings of each kind nobody has settled."""

    nonconforming = serializers.IntegerField(source="out")
    not_proven = serializers.IntegerField(source="close")
    missing = serializers.IntegerField()
    query = serializers.IntegerField(source="queries")


class Line(Answer):
    """A mounting in a list."""

    id = serializers.UUIDField()
    number = serializers.CharField()
    site = serializers.UUIDField()
    state = serializers.CharField()
    opened_at = serializers.DateTimeField()
    machine = serializers.CharField(source="journal.machine.name")
    machine_mark = serializers.CharField(source="journal.machine.mark")
    machine_id = serializers.UUIDField(source="journal.machine_id")
    journal = serializers.UUIDField(source="journal_id")
    shaft = serializers.CharField(source="journal.shaft")
    position = serializers.CharField(source="journal.position")
    bearing = serializers.UUIDField(source="bearing_id")
    designation = serializers.CharField(source="bearing.designation")
    serial = serializers.CharField(source="bearing.serial")
    lot = serializers.CharField(source="bearing.lot")
    date_code = serializers.CharField(source="bearing.date_code")
    rebuild = serializers.UUIDField(source="rebuild_id")
    work_order = serializers.CharField(source="rebuild.work_order")
    attempt_of = serializers.UUIDField(source="attempt_of_id", allow_null=True)
    procedure = serializers.CharField(source="procedure_digest")


class OpenLine(Line):
    open = Open(source="*")


class Said(Answer):
    """A standing answer: a value as typed with its base value, or a state with its reason."""

    typed = serializers.CharField(required=False, allow_blank=True)
    unit = serializers.CharField(required=False, allow_blank=True)
    value = serializers.JSONField(required=False)
    state = serializers.CharField(required=False)
    reason = serializers.CharField(required=False, allow_blank=True)
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    check = serializers.BooleanField()


class Working(Answer):
    """A formula with the numbers put in."""

    value = serializers.CharField()
    unit = serializers.CharField(allow_blank=True)
    u = serializers.CharField(allow_blank=True)
    formula = serializers.CharField()
    put_in = serializers.ListField(child=serializers.ListField(child=serializers.CharField(allow_blank=True)))
    assumptions = serializers.ListField(child=serializers.CharField())
    source = serializers.CharField(allow_blank=True)  # type: ignore[assignment]  # the field names it so, DRF keeps them apart
    unconfirmed = serializers.ListField(child=serializers.CharField())


class FoundByRule(Answer):
    """What one rule says of one characteristic. `value`, `u`, limits and `margin` are integers of `unit`."""

    rule = serializers.CharField()
    version = serializers.IntegerField()
    characteristic = serializers.CharField()
    verdict = serializers.CharField()
    settled = serializers.BooleanField()
    message = serializers.CharField()
    facts = serializers.DictField()
    unit = serializers.CharField(allow_blank=True)
    value = serializers.IntegerField(allow_null=True)
    u = serializers.IntegerField(allow_null=True)
    lower = serializers.IntegerField(allow_null=True)
    upper = serializers.IntegerField(allow_null=True)
    margin = serializers.IntegerField(allow_null=True)
    source = serializers.CharField(allow_blank=True)  # type: ignore[assignment]  # the field names it so, DRF keeps them apart
    confirmed = serializers.BooleanField()
    unconfirmed = serializers.ListField(child=serializers.CharField())
    inputs = serializers.ListField(child=serializers.UUIDField())
    hold = serializers.CharField(allow_blank=True)
    may = serializers.ListField(child=serializers.CharField())
    working = Working(allow_null=True)
    digest = serializers.CharField()


class HeatingPlan(Answer):
    """What the fitter reads, rounded; or, as `impossible`, why there can be none."""

    set_c = serializers.IntegerField(required=False)
    must_reach_c = serializers.IntegerField(required=False)
    never_above_c = serializers.IntegerField(required=False)
    ceiling = serializers.CharField(required=False)
    ceiling_source = serializers.CharField(required=False)
    carry_s = serializers.IntegerField(required=False, allow_null=True)
    pressing_s = serializers.IntegerField(required=False, allow_null=True)
    working = serializers.DictField(child=Working(), required=False)
    impossible = serializers.CharField(required=False)


class LimitsOf(Answer):
    lower_nm = serializers.IntegerField()
    upper_nm = serializers.IntegerField()
    source = serializers.CharField()  # type: ignore[assignment]  # the field names it so, DRF keeps them apart
    unconfirmed = serializers.ListField(child=serializers.CharField())


class Asked(Answer):
    """What the drawing asks: its document as registered, and the limits that follow."""

    document = serializers.DictField()
    journal = LimitsOf()
    bore = LimitsOf()


class Released(Answer):
    hold = serializers.CharField()
    entry = serializers.UUIDField()
    leaf = serializers.CharField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    means = serializers.CharField()
    voided = serializers.BooleanField()
    answer_code = serializers.CharField(allow_blank=True)


class Tapped(Answer):
    what = serializers.CharField()
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    relies_on = serializers.CharField(allow_blank=True)


class Decided(Answer):
    kind = serializers.CharField()
    digests = serializers.ListField(child=serializers.CharField())
    reason = serializers.CharField()
    conditions = serializers.CharField(allow_blank=True)
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    closes = serializers.CharField(allow_blank=True)


class Pictured(Answer):
    shot = serializers.CharField()
    sha256 = serializers.CharField()
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    camera = serializers.BooleanField()
    received = serializers.BooleanField()
    after_signature = serializers.BooleanField()


class Signed(Answer):
    meaning = serializers.CharField()
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()


class Back(Answer):
    about = serializers.CharField()
    reason = serializers.CharField()
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()


class WholeCase(Line):
    """Everything said of one mounting. `leaves` is what a signature would cover now."""

    requirement = Asked()
    answers = serializers.DictField(child=serializers.DictField(child=Said()))
    checks = serializers.DictField(child=serializers.DictField(child=Said()))
    findings = FoundByRule(many=True)
    heating_plan = HeatingPlan(allow_null=True)
    open = serializers.ListField(child=serializers.CharField())
    readings_code = serializers.CharField(allow_blank=True)
    standing_releases = serializers.DictField(child=serializers.CharField(allow_blank=True))
    releases = Released(many=True)
    taps = Tapped(many=True)
    decisions = Decided(many=True)
    returns = Back(many=True)
    photos = Pictured(many=True)
    signatures = Signed(many=True)
    leaves = serializers.ListField(child=serializers.CharField())
    unread = serializers.ListField(child=serializers.UUIDField())
    people = serializers.DictField(child=serializers.CharField())


def case_document(mounting: Mounting, judged: Judged) -> dict[str, Any]:
    """The whole case as JSON-ready values."""
    case = judged.case
    document = {
        "requirement": _asked(case),
        "answers": _answers(case.answers),
        "checks": _answers(case.checks),
        "findings": [finding_document(judged, finding) for finding in judged.findings],
        "heating_plan": _plan(heating_plan(case)),
        "open": [finding.characteristic for finding in undecided(case, judged.findings)],
        "readings_code": _readings_code(case),
        "standing_releases": {hold: _standing(case, hold) for hold in case.procedure.holds},
        "releases": [_release(case, release) for release in case.releases],
        "taps": case.taps,
        "decisions": case.decisions,
        "returns": [_back(about, reason, r) for r in case.returns for about, reason in r.items],
        "photos": case.photos,
        "signatures": case.signatures,
        "leaves": shown_leaves(judged),
        "unread": case.unread,
        "people": names(_everybody(case)),
    }
    line = Line(mounting).data | {"state": state_of(case).value}
    return line | {
        name: field.to_representation(document[name]) if document[name] is not None else None
        for name, field in WholeCase().fields.items()
        if name in document
    }


def _readings_code(case: Case) -> str:
    readings = readings_of(case)
    return readings_code(case.mounting, readings) if readings else ""


def _everybody(case: Case) -> set[str]:
    said = [a.author for part in (case.answers, case.checks) for step in part.values() for a in step.values()]
    acts: tuple[Any, ...] = (
        *case.taps,
        *case.releases,
        *case.decisions,
        *case.photos,
        *case.signatures,
        *case.returns,
    )
    return {*said, *(act.author for act in acts)}


def _limits(limits: Limits) -> dict[str, Any]:
    return {
        "lower_nm": limits.lower_nm,
        "upper_nm": limits.upper_nm,
        "source": limits.source,
        "unconfirmed": limits.unconfirmed,
    }


def _asked(case: Case) -> dict[str, Any]:
    asked = case.requirement
    return {"document": asked.document, "journal": _limits(asked.journal), "bore": _limits(asked.bore)}


def _answers(steps: Any) -> dict[str, dict[str, Any]]:
    return {step: {key: _answer(a) for key, a in answers.items()} for step, answers in steps.items()}


def _answer(answered: Answered) -> dict[str, Any]:
    circumstances = {"entry": answered.entry, "author": answered.author, "at": answered.at}
    return answered.answer.document() | circumstances | {"check": answered.check}


def finding_document(judged: Judged, finding: Finding) -> dict[str, Any]:
    """One finding with everything needed to check it by hand, and what may be decided about it."""
    rule = RULES[finding.rule]
    more = {
        "margin": finding.margin,
        "settled": settled(judged.case, finding),
        "confirmed": rule.confirmed and not finding.unconfirmed,
        "unconfirmed": list(finding.unconfirmed),
        "hold": rule.hold,
        "may": list(rule.decisions(finding, judged.case)),
        "working": working_document(finding.working) if finding.working else None,
    }
    return finding.document() | more


def _plan(plan: Plan | EngineeringError | None) -> dict[str, Any] | None:
    if plan is None:
        return None
    if isinstance(plan, EngineeringError):
        return {"impossible": str(plan)}
    worked = {
        "contact": plan.contact,
        "wanted": plan.wanted,
        "carry": plan.carry,
        "drop": plan.drop,
        "start": plan.start,
        "pressing": plan.pressing and plan.pressing.hold,
    }
    return {
        "set_c": plan.set_c,
        "must_reach_c": plan.must_reach_c,
        "never_above_c": plan.never_above_c,
        "ceiling": plan.ceiling.kind,
        "ceiling_source": plan.ceiling.source,
        "carry_s": plan.carry_s,
        "pressing_s": plan.pressing_s,
        "working": {name: working_document(result) for name, result in worked.items() if result},
    }


def _standing(case: Case, hold: str) -> str:
    release = standing_release(case, hold)
    return release.leaf if release else ""


def _release(case: Case, release: Any) -> dict[str, Any]:
    return {
        "hold": release.hold,
        "entry": release.entry,
        "leaf": release.leaf,
        "author": release.author,
        "at": release.at,
        "means": release.means,
        "voided": voided(case, release),
        "answer_code": answer_code(release.leaf) if release.means == "telephone" else "",
    }


def _back(about: str, reason: str, returned: Any) -> dict[str, Any]:
    return {
        "about": about,
        "reason": reason,
        "entry": returned.entry,
        "author": returned.author,
        "at": returned.at,
    }
