"""Row 15: the clearance of the second row, before the fit: a tilted inner ring shows as two clearances."""

from collections.abc import Callable, Iterable
from dataclasses import replace

from qrecords.steps.case import Case
from qrecords.steps.clearance import rests, u_nm
from qrecords.steps.fields import Field, Quantity
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.measurement import LENGTHS
from qrecords.steps.rules import LOOK, Rule, Stage, absent, standing
from qrecords.steps.step import Step

STEP_ID = "rows_before"
SOURCE = "own arithmetic: 2 u of both"


def rows_agree(first: tuple[str, str], second: tuple[str, str]) -> Callable[[Rule, Case], Iterable[Finding]]:
    """The rule over two rows, each as (step, key): within 2 u of both they are one clearance."""

    def judge(rule: Rule, case: Case) -> list[Finding]:
        one, other = case.value_of(*first), case.value_of(*second)
        rested = [*rests(case, *first), *standing(case, *second)]
        if other is None:
            return absent(rule, case, *second, rule.id, rested)
        u = u_nm(case, first[0], one.base) if one else None
        if one is None or u is None:
            return []
        off, allowed = abs(one.base - other.base), -int(-2 * u * 2**0.5 // 1)
        verdict = Verdict.CONFORMING if off <= allowed else Verdict.QUERY
        facts = {"one_nm": one.base, "other_nm": other.base, "allowed_nm": allowed}
        finding = rule.finding(rule.id, verdict, "", inputs=rested, **facts)
        return [replace(finding, unit="nm", value=off, upper=allowed)]

    return judge


STEP = Step(
    id=STEP_ID,
    version=1,
    row=15,
    stage=Stage.MEASURE,
    fields=(Field("g0_second_row", Quantity("length", LENGTHS, 0, 500_000)),),
    rules=(
        Rule(
            "rows-agree-before",
            1,
            Stage.MEASURE,
            SOURCE,
            rows_agree(("clearance_before", "g0"), (STEP_ID, "g0_second_row")),
            LOOK,
        ),
    ),
)
