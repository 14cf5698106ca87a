"""The case of a mounting, folded once: what is filed never changes, and every page asks for it again."""

from collections import OrderedDict
from collections.abc import Sequence
from threading import Lock

from qrecords.engineering.tables import Tables
from qrecords.ledger.queries import Said
from qrecords.mountings.logs import logs_of
from qrecords.steps.case import Case
from qrecords.steps.folding import fold
from qrecords.steps.procedure import Procedure

KEPT = 64
"""Cases that a process keeps, with what was worked out of them."""
_kept: OrderedDict[object, Case] = OrderedDict()
_turn = Lock()


def folded(entries: Sequence[Said], procedure: Procedure, tables: Tables) -> Case:
    """The case that these very entries tell under a procedure, judged by these tables, with the heating logs
    that are here now. Whatever differs in one of them is another case."""
    logs = logs_of(entries)
    told = tuple(entry.leaf for entry in entries), procedure.digest, tables, frozenset(logs)
    with _turn:
        if told in _kept:
            _kept.move_to_end(told)
            return _kept[told]
    case = fold(entries, procedure, tables, logs=logs)
    with _turn:
        _kept[told] = case
        if len(_kept) > KEPT:
            _kept.popitem(last=False)
    return case


def forget() -> None:
    """Fold anew from here: whoever changes how cases are folded or judged while it runs, as tests do."""
    with _turn:
        _kept.clear()
