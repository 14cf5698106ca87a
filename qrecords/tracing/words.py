"""What was written into the search box, word by word: what belongs together is one word.

A designation with its clearance (`6310 C3`, `NU 318`), a number behind what it is called (`WO 26-0777`) and a
workshop mark read out in two groups are one word each; what stands in double quotes is one as it is.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from qrecords.engineering.designation import Designation, parse_designation
from qrecords.engineering.errors import EngineeringError
from qrecords.workshop.marks import ALPHABET, is_mark

LONGEST_WORD, LONGEST_DESIGNATION = 60, 5
LABELS = {
    "wo": "work order",
    "w/o": "work order",
    "lot": "lot",
    "serial": "serial",
    "s/n": "serial",
    "mounting": "mounting",
}
"""Words that say what the number behind them is."""
_GLUED = re.compile(r"w/?o[-.:#]?(\S*\d\S*)", re.IGNORECASE)


@dataclass(frozen=True)
class Word:
    """One word of the question. `doubt` says that it looks like a workshop mark misread.

    `kind` is the only kind of field it can be, where that is clear; `asked` what is looked for there;
    `head` a designation without what is written behind it.
    """

    text: str
    doubt: bool = False
    kind: str = ""
    asked: str = ""
    head: str = ""

    @property
    def wanted(self) -> str:
        return self.asked or self.text

    @property
    def tail(self) -> str:
        """What stands behind the head: `C3`."""
        return self.text[len(self.head) :].strip()


def words_of(text: str) -> list[Word]:
    """The words of a question, in its order."""
    pieces = [(q or p)[:LONGEST_WORD] for q, p in re.findall(r'"([^"]+)"|([^\s"]+)', text)]
    quoted = [bool(q) for q, _ in re.findall(r'"([^"]+)"|([^\s"]+)', text)]
    found: list[Word] = []
    while pieces:
        free = quoted.index(True) if True in quoted else len(quoted)
        taken, word = (1, _plain(pieces[0])) if free == 0 else _first(pieces[:free])
        found.append(word)
        del pieces[:taken], quoted[:taken]
    return found


def _first(pieces: Sequence[str]) -> tuple[int, Word]:
    """The first word of these pieces, and how many of them it takes."""
    first, second = pieces[0], pieces[1] if len(pieces) > 1 else ""
    label = LABELS.get(first.lower().rstrip(".:#"))
    if label and any(sign.isdigit() for sign in second):
        return 2, Word(f"{first} {second}", kind=label, asked=second)
    if glued := _GLUED.fullmatch(first):
        return 1, Word(first, kind="work order", asked=glued[1])
    for count in (1, 2):
        mark = "".join(pieces[:count]).replace("-", "").upper()
        if is_mark(mark) and len(pieces) >= count:
            return count, Word(" ".join(pieces[:count]), kind="workshop mark", asked=mark)
    return _designation(pieces) or (1, _plain(first))


def _plain(text: str) -> Word:
    upper = text.upper()
    shaped = len(upper) == 7 and set(upper) <= set(ALPHABET) and not upper.isdigit()
    return Word(text, doubt=shaped and not is_mark(upper))


def _designation(pieces: Sequence[str]) -> tuple[int, Word] | None:
    """A designation of several pieces: its basic part, and the marks behind it that DIN and ISO know."""
    basic = next((n for n in (1, 2) if len(pieces) >= n and _parsed(pieces[:n])), 0)
    if not basic:
        return None
    read, taken = _parsed(pieces[:basic]), basic
    while taken < min(len(pieces), LONGEST_DESIGNATION):
        longer = _parsed(pieces[: taken + 1])
        if read is None or longer is None or longer.asked_for != read.asked_for:
            break
        taken += 1
    if taken == 1:
        return None
    return taken, Word(" ".join(pieces[:taken]), kind="designation", head=" ".join(pieces[:basic]))


def _parsed(pieces: Sequence[str]) -> Designation | None:
    try:
        return parse_designation(" ".join(pieces))
    except EngineeringError:
        return None
