"""A marking beside the designation of the drawing, character by character: what is alike, what is another
character, what lacks and what is too much."""

from dataclasses import dataclass
from difflib import SequenceMatcher

from qrecords.steps.identification import characters


@dataclass(frozen=True)
class Place:
    """One place of the comparison; '' where the one or the other has no character there."""

    read: str
    wanted: str

    @property
    def alike(self) -> bool:
        return self.read == self.wanted


def side_by_side(read: str, wanted: str) -> tuple[Place, ...]:
    """Both in full, what is alike at one place; case and spacing carry no meaning."""
    one, other = characters(read), characters(wanted)
    found: list[Place] = []
    for _, a, b, c, d in SequenceMatcher(None, one, other, autojunk=False).get_opcodes():
        for place in range(max(b - a, d - c)):
            found.append(Place(one[a:b][place : place + 1], other[c:d][place : place + 1]))
    return tuple(found)
