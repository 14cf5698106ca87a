"""How often each rule says something of sound work."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import product

from qrecords.steps.findings import Verdict
from qrecords.steps.standard import RULES, all_findings
from tests.everyday.shop import FITTERS, SORTS
from tests.everyday.work import Mounting, NotToBeHeatedError

PROCESSES = (1.0, 1.33)
GUARDED = frozenset(
    {"journal-size", "journal-roundness", "journal-taper", "bore-in-class", "clearance-in-group"}
)
"""Rules whose *not proven* is the guard band doing its work: a size within 1.65 u of its limit, which
somebody measures once more. Its rate is told, not bounded."""


@dataclass
class Count:
    mountings: int = 0
    not_heated: int = 0
    fired: Counter[tuple[str, Verdict]] = field(default_factory=Counter)

    def share(self, rule: str, verdict: Verdict) -> float:
        return self.fired[rule, verdict] / self.mountings


def jobs(count: int, inch: bool, cp: float, seed: int) -> Iterator[Mounting]:
    """Every fitter at every sort in turn."""
    turns = [(sort, fitter) for sort, fitter in product(SORTS, FITTERS)]
    for n in range(count):
        sort, fitter = turns[n % len(turns)]
        yield Mounting(seed + n, sort, fitter, inch, cp)


def counted(count: int, inch: bool, cp: float, seed: int = 1) -> Count:
    """What fired, by rule and verdict, a mounting once."""
    result = Count()
    for mounting in jobs(count, inch, cp, seed):
        try:
            found = all_findings(mounting.whole().case())
        except NotToBeHeatedError:
            result.not_heated += 1
            continue
        result.mountings += 1
        result.fired.update({(f.rule, f.verdict) for f in found if f.verdict != Verdict.CONFORMING})
    return result


def table(counts: dict[str, Count]) -> str:
    """Rule × group of mountings in percent; rules that never fired are counted below."""
    fired = sorted({key for count in counts.values() for key in count.fired})
    head = "| rule | says | " + " | ".join(counts) + " |"
    lines = [head, "|---" * (len(counts) + 2) + "|"]
    for rule, verdict in fired:
        shares = (f"{count.share(rule, verdict):.1%}" for count in counts.values())
        lines.append(f"| {rule} | {verdict.value} | " + " | ".join(shares) + " |")
    silent = len(RULES) - len({rule for rule, _ in fired})
    return "\n".join([*lines, "", f"{silent} of {len(RULES)} rules said nothing."])
