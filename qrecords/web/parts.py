"""What the included templates in `templates/parts/` want: one frozen dataclass a part, strings ready to show.

A page builds these from findings and entries, already translated and lettered, and writes for instance
`{% include "parts/verdict.html" with verdict=finding.verdict %}`. Words that never change with the record
(frame words, *not yet sent*) are translated here or in the template.
"""

from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext, pgettext

VERDICTS = ("conforming", "not-proven", "nonconforming", "missing", "query", "unusual")


@dataclass(frozen=True)
class Verdict:
    """One word in its frame. `kind` is one of VERDICTS (underscores are taken as hyphens); `iso` chooses the
    certificate's word in place of the fitter's."""

    kind: str
    iso: bool = False

    def __post_init__(self) -> None:
        object.__setattr__(self, "kind", self.kind.replace("_", "-").replace(" ", "-"))
        if self.kind not in VERDICTS:
            raise ValueError(f"no frame for {self.kind!r}")

    @property
    def word(self) -> str:
        """The word in the frame, in the reader's language."""
        if self.iso:
            return {
                "conforming": gettext("conforming"),
                "not-proven": gettext("not proven"),
                "nonconforming": gettext("nonconforming"),
                "missing": gettext("missing"),
                "query": gettext("query"),
                "unusual": gettext("unusual"),
            }[self.kind]
        return {
            "conforming": pgettext("inside its limits", "in"),
            "not-proven": gettext("too close to call"),
            "nonconforming": pgettext("outside its limits", "out"),
            "missing": gettext("not entered"),
            "query": gettext("look at this"),
            "unusual": gettext("unusual"),
        }[self.kind]


@dataclass(frozen=True)
class Sentence:
    """`lead` is bold (the number first), `rest` the rule; `follows` marks the next step, in second ink;
    `href` is the page on which something can be done about it."""

    lead: str = ""
    rest: str = ""
    follows: bool = False
    href: str = ""


@dataclass(frozen=True)
class Said:
    """A verdict with its sentences: worst reading, distance to the limit, what follows."""

    verdict: Verdict
    sentences: tuple[Sentence, ...]


@dataclass(frozen=True)
class Cell:
    """One cell of a title block. With `upper` and `lower` the limits are stacked behind the value.
    `own_row`: on the phone the cell has a row to itself and no caption (the place is never cut off)."""

    caption: str
    value: str
    strong: bool = False
    upper: str = ""
    lower: str = ""
    unit: str = ""
    own_row: bool = False
    href: str = ""


@dataclass(frozen=True)
class Step:
    """One link of the step strip. `state` is done, here or later; `hold` is '', open or released: the hold
    point at the end of the step. `href` may be empty."""

    label: str
    state: str
    href: str = ""
    hold: str = ""


@dataclass(frozen=True)
class ChainTap:
    """One of the four taps while hot. `time` as shown (`13:58:40`), `moment` as ISO 8601, both empty if to
    come or not made."""

    label: str
    state: str
    time: str = ""
    moment: str = ""


@dataclass(frozen=True)
class Strip:
    """The line on top of every fitter page: who is signed in, the time, what is not yet sent."""

    person: str
    time: str
    unsent: int = 0


@dataclass(frozen=True)
class NavItem:
    """One word in the bar."""

    label: str
    href: str
    here: bool = False


@dataclass(frozen=True)
class Bar:
    """The bar on top of every desktop page."""

    person: str
    role: str
    items: tuple[NavItem, ...]
    home: str = "/"
    sign_out: str = ""
    own_password: str = ""


@dataclass(frozen=True)
class Signature:
    """One row of a signature block: `caption` performed, inspected, concession, sheet. `name` bold, `value`
    plain, `note` small below."""

    caption: str
    name: str = ""
    note: str = ""
    value: str = ""


@dataclass(frozen=True)
class Field:
    """A plain input with its caption above and its unit inside. `value` is given back as it was typed."""

    name: str
    caption: str
    value: str = ""
    unit: str = ""
    numeric: bool = False
    asks: str = ""
    required: bool = False


@dataclass(frozen=True)
class GridCell:
    """One reading. `name` is the input's name; '' shows the value without an input. `standing` is '', out or
    close; `reason` stands in place of a value that was not measured."""

    name: str
    value: str = ""
    label: str = ""
    standing: str = ""
    reason: str = ""
    current: bool = False
    hidden: bool = False
    unit: str = ""
    """Its unit, where that is not the one of the grid."""


@dataclass(frozen=True)
class GridRow:
    """One direction: `caption` such as `0° key`."""

    caption: str
    cells: tuple[GridCell, ...]


@dataclass(frozen=True)
class GridPlane:
    """One measuring plane: `name` A, `distance` `6 mm` from the shoulder."""

    name: str
    distance: str = ""


@dataclass(frozen=True)
class ReadingGrid:
    """Planes across, directions down. `corner` is the word over the directions (*shoulder*)."""

    caption: str
    planes: tuple[GridPlane, ...]
    rows: tuple[GridRow, ...]
    corner: str = ""
    small: bool = False
    whole: bool = False
    """Whole sizes, not deviations: longer figures, set smaller."""


@dataclass(frozen=True)
class Keypad:
    """`unit_lines` says what one typed figure means (`µm`, `from 80`); `digits` after which it goes on by
    itself, 0 for never; `next_word` is what the last key says;
    `mark` is the decimal sign; `deviation_digits` is `digits` while deviations are typed."""

    unit_lines: tuple[str, ...] = ()
    mark: str = ","
    digits: int = 0
    next_word: str = ""
    deviation_digits: int = 0


@dataclass(frozen=True)
class Tap:
    """A button of a form, or a link if `href` is given. `kind` is '', next, choose or waits."""

    label: str
    kind: str = ""
    name: str = ""
    value: str = ""
    href: str = ""
    chosen: bool = False
    wide: bool = False


@dataclass(frozen=True)
class Blade:
    """One blade: `value` as sent, `none` for *this one does not go in*."""

    label: str
    value: str
    none: bool = False
    chosen: bool = False


@dataclass(frozen=True)
class HotTap:
    """The one filled field while hot. `act` is heater-on, lifted-off, home or let-go; `holding` while the
    pressing seconds run (quiet outline) until the moment `until` (ISO 8601), then the line is `at_zero`."""

    act: str
    word: str
    line: str
    holding: bool = False
    until: str = ""
    at_zero: str = ""


@dataclass(frozen=True)
class Undo:
    """The undo of the last tap, full width, until the moment `until`; `seconds` is what is left of it now,
    `till` the clock's time at its end, for a page that does not count."""

    label: str
    entry: str
    until: str = ""
    seconds: str = ""
    till: str = ""


@dataclass(frozen=True)
class Working:
    """How a worked-out figure came about: `formula` in letters, `numbers` put in, `result`, what it takes for
    granted, how far it reaches, where the formula comes from, and what no second source confirms."""

    summary: str
    formula: str
    numbers: str
    result: str
    source: str
    unconfirmed: tuple[str, ...] = ()
    inputs: tuple[tuple[str, str], ...] = ()
    assumptions: str = ""
    validity: str = ""


@dataclass(frozen=True)
class HeatingPlan:
    """The heating plan in one line; each value has its unit and is rounded to the safe side."""

    set_to: str
    must_be: str
    never_above: str
    carry: str
    press: str
    working: Working | None = None


@dataclass(frozen=True)
class FindingRow:
    """One row of a findings table. `symbol` is a name in `parts/symbol.html`; `found` bold; `margin` with its
    multiple of u."""

    symbol: str
    characteristic: str
    limit: str
    found: str
    margin: str
    verdict: Verdict
    href: str = ""
    decision: str = ""


@dataclass(frozen=True)
class ComparisonRow:
    """This end, the other end, last time, margin, × u. `same` where the earlier value is the same and is not
    written again."""

    caption: str
    values: tuple[str, ...]
    margin: str = ""
    times_u: str = ""


@dataclass(frozen=True)
class Comparison:
    """The comparison table: `heads` name the columns, the first is this end."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[ComparisonRow, ...]


@dataclass(frozen=True)
class Photo:
    """A photograph beside its number. `caption` says plane, device, time; `alt` what is seen; `enlarge` the
    address of the whole picture."""

    src: str
    alt: str
    caption: str
    enlarge: str = ""
    width: int = 640
    height: int = 360
    drawn: Any = None
    """What is drawn over a copy of it (marked.Drawn)."""
    draw: str = ""
    """Where one draws on it."""


@dataclass(frozen=True)
class SheetBlock:
    """The title block at the foot of a certificate (ISO 7200). Signatures are (name, moment); `ledger` says
    where the proof stands, `hashes` are its figures; `mark` is the workshop mark on the machine's plate."""

    owner: str
    document_type: str
    status: str
    title: str
    number: str
    language_and_sheet: str
    performed: tuple[str, str]
    inspected: tuple[str, str]
    mark: str = ""
    concession: tuple[str, str] = ("", "")
    amendment: str = "0"
    ledger: str = ""
    hashes: str = ""


@dataclass(frozen=True)
class Safety:
    """The foot of a page that guides work. `first` is a sentence of this step; `scheme` the machine's
    statutory scheme and who releases it, '' if none; `worked_out` if the page shows figures in ( )."""

    first: str = ""
    scheme: str = ""
    long_hold: bool = False
    cautions: tuple[str, ...] = field(default=())
    worked_out: bool = True
    notice: str = ""
    """What the page itself shows before its tap; the rest then stands open at the foot."""
