"""Reading a bearing's designation as far as DIN 623-1 carries: series, bore code, clearance, stabilisation.

Seal, cage and design letters are the makers' own: they are kept as they stand and have to be asked for, never
inferred. The series and codes below are facts of the trade after DIN 623-1, from memory.
"""

import re
from decimal import Decimal
from typing import NamedTuple

from .errors import DesignationError

LONGEST_DESIGNATION = 48

_KIND_OF_SERIES = {
    **dict.fromkeys(("60", "62", "63", "64", "160", "618", "619", "622", "623", "630"), "deep groove ball"),
    **dict.fromkeys(("70", "72", "73", "718", "719"), "angular contact ball"),
    **dict.fromkeys(("32", "33"), "double row angular contact ball"),
    **dict.fromkeys(("QJ2", "QJ3", "QJ10"), "four-point contact ball"),
    **dict.fromkeys(("12", "13", "22", "23"), "self-aligning ball"),
    **dict.fromkeys(
        ("213", "222", "223", "230", "231", "232", "233", "238", "239", "240", "241"), "spherical roller"
    ),
    **dict.fromkeys(
        ("302", "303", "313", "320", "322", "323", "329", "330", "331", "332"), "tapered roller"
    ),
    **{
        f"{ring}{series}": "cylindrical roller"
        for ring in ("N", "NU", "NJ", "NUP", "NF")
        for series in ("2", "3", "4", "10", "22", "23")
    },
    **dict.fromkeys(("NN30", "NNU49"), "cylindrical roller"),
    **dict.fromkeys(("NA48", "NA49", "NA69"), "needle roller"),
    **dict.fromkeys(("511", "512", "513", "514"), "thrust ball"),
    **dict.fromkeys(("811", "812"), "cylindrical roller thrust"),
    **dict.fromkeys(("292", "293", "294"), "spherical roller thrust"),
}  # fmt: skip

KINDS = tuple(dict.fromkeys(_KIND_OF_SERIES.values()))

_SMALL_BORES_MM = {"00": 10, "01": 12, "02": 15, "03": 17}
_BASIC = re.compile(r"([A-Z]{0,3})\s?([0-9]{2,5})(?:/([0-9]{1,4}))?(?![0-9])(.*)")
_MARK = re.compile(r"[^\s/\-.,;]+")
_CLEARANCE = frozenset(("C1", "C2", "CN", "C3", "C4", "C5"))
_STABILISED_C = {"S0": 150, "S1": 200, "S2": 250, "S3": 300, "S4": 350}
_CLASSES = frozenset(("P0", "P6", "P5", "P4", "P2"))


class Designation(NamedTuple):
    """A designation as read. `asked_for` are the marks nobody but the maker can interpret, as they stand.

    Without a mark the clearance group is CN (DIN 623-1), and `clearance_stated` is False; while there are
    marks in `asked_for` one of them may still hide another group.
    """

    text: str
    basic: str
    series: str
    bore_code: str
    bore_mm: Decimal | None
    kind: str
    clearance_group: str
    clearance_stated: bool
    tolerance_class: str
    stabilisation: str | None
    stable_up_to_c: int | None
    tapered_bore: bool
    asked_for: tuple[str, ...]

    @property
    def separable(self) -> bool:
        """Whether the inner ring comes off the rest and may be heated alone."""
        return self.kind in ("cylindrical roller", "tapered roller", "needle roller")


def parse_designation(text: str) -> Designation:
    """Read a designation such as `6312 C3`, `NU 318`, `22326 C4 S1` or `62/28`.

    Raises DesignationError for a text without a basic designation, of an unknown series, or with a bore code
    DIN 623-1 does not have.
    """
    tidy = " ".join(text.upper().split()) if len(text) <= LONGEST_DESIGNATION else ""
    parts = _BASIC.fullmatch(tidy)
    if parts is None:
        raise DesignationError(text, "no basic designation: a series and a bore code are wanted, as in 6312")
    prefix, digits, after_slash, rest = parts.groups()
    rest = rest or ""
    if prefix + digits not in _KIND_OF_SERIES and after_slash:
        after_slash, rest = None, f"/{after_slash}{rest}"  # the slash parts a maker's mark, as in 6312/2…
    series, bore_code, bore_mm = _series_and_bore(text, prefix, digits, after_slash)
    marks = _MARK.findall(rest)
    groups, codes, classes = (
        [m for m in marks if m in known] for known in (_CLEARANCE, frozenset(_STABILISED_C), _CLASSES)
    )
    if len(set(groups)) > 1 or len(set(codes)) > 1:
        raise DesignationError(text, "two marks contradict each other")
    understood = {*groups, *codes, *classes, "K", "K30"}
    return Designation(
        text=text,
        basic=f"{prefix} {digits}".strip() + (f"/{after_slash}" if after_slash else ""),
        series=series,
        bore_code=bore_code,
        bore_mm=bore_mm,
        kind=_KIND_OF_SERIES[series],
        clearance_group=groups[0] if groups else "CN",
        clearance_stated=bool(groups),
        tolerance_class=classes[0] if classes else "P0",
        stabilisation=codes[0] if codes else None,
        stable_up_to_c=_STABILISED_C[codes[0]] if codes else None,
        tapered_bore="K" in marks or "K30" in marks,
        asked_for=tuple(mark for mark in marks if mark not in understood),
    )


def _series_and_bore(
    text: str, prefix: str, digits: str, after_slash: str | None
) -> tuple[str, str, Decimal]:
    if after_slash:  # bores that are no multiple of 5, and from 500 mm, are written in mm
        return prefix + digits, f"/{after_slash}", Decimal(after_slash)
    if prefix + digits[:-2] in _KIND_OF_SERIES:
        code = digits[-2:]
        if code in ("97", "98", "99"):
            raise DesignationError(text, "bore codes end at 96; larger bores are written behind a stroke")
        return prefix + digits[:-2], code, Decimal(_SMALL_BORES_MM.get(code, int(code) * 5))
    if len(digits) == 3 and not prefix and digits[:2] in ("60", "62", "63") and digits[2] != "0":
        return digits[:2], digits[2], Decimal(digits[2])  # below 10 mm the bore itself
    raise DesignationError(text, "unknown series")
