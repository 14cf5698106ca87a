"""The form of the answer, and its published JSON Schema."""

from functools import cache
from typing import Any

from qrecords.steps.findings import Verdict
from qrecords.steps.interchange.asked import HASH
from qrecords.steps.interchange.plain_shapes import Choice, Flag, Text, Whole
from qrecords.steps.interchange.shapes import Either, ListOf, Named, Null, Record, published
from qrecords.steps.remarks import Kind
from qrecords.steps.transitions import State

NAME, FORM, VERSION = "judgement", "judgement of a mounting case", 1
ABOUT = (
    "What the rules of this program say of a mounting case, and everything that was worked out of it. value, "
    "u, lower, upper and margin are whole numbers of unit; in a working, value and u are text."
)
WORDS = Text(4000)
MANY = ListOf(WORDS, 0, 10_000)
NAMES = "^.{1,120}$"
BASE = Whole(-(2**53) + 1, 2**53 - 1)
BASE_OR_NONE = Either({"integer": BASE, "null": Null()})
FACTS = Record({}, patterns={NAMES: Either({"integer": BASE, "string": WORDS})}, about="the message's values")


def _all(fields: dict[str, Any], about: str = "", optional: tuple[str, ...] = ()) -> Record:
    return Record(fields, required=tuple(name for name in fields if name not in optional), about=about)


WAY = _all(
    {
        "kind": Text(40, about="a decision; redo: done again by the fitter; looked: a query is closed"),
        "by": ListOf(WORDS, 0, 10, "roles"),
        "proven": Record({}, patterns={"^[a-z0-9-]{1,40}$": FACTS}),
        "lacking": ListOf(WORDS, 0, 10, "what has to be proven yet"),
        "states": ListOf(WORDS, 0, 10, "what the decider states"),
        "customer": Flag("the customer agrees by letter"),
    }
)
OWN_COPY = ListOf(
    _all(dict.fromkeys(("row", "where", "approval", "approved_by", "approved_on"), WORDS)),
    0,
    1000,
    "rows of the site's own copy of a standard, with who approved them",
)
RULE = Text(60, 1, about="the slug that names a rule for ever")
VERSIONS = Record({}, patterns={NAMES: Whole(1, 1000)}, about="name → version, of every one there is")
WORKING = Named(
    "working",
    _all(
        {
            "value": WORDS,
            "unit": WORDS,
            "u": Text(40, about="standard uncertainty; empty where none is stated"),
            "formula": WORDS,
            "put_in": ListOf(ListOf(WORDS, 2, 2), 0, 100, "symbol and number put in"),
            "assumptions": MANY,
            "source": WORDS,
            "unconfirmed": MANY,
            "validity": MANY,
            "own_copy": OWN_COPY,
        },
        "A result with its formula, the numbers put in, and how far its model reaches.",
        optional=("validity",),
    ),
)
WORKING_OR_NONE = Either({"object": WORKING, "null": Null()})
FINDING = Named(
    "finding",
    _all(
        {
            "rule": RULE,
            "version": Whole(1, 1000, "", "of the rule"),
            "characteristic": WORDS,
            "verdict": Choice(tuple(verdict.value for verdict in Verdict)),
            "value": BASE_OR_NONE,
            "u": BASE_OR_NONE,
            "lower": BASE_OR_NONE,
            "upper": BASE_OR_NONE,
            "margin": BASE_OR_NONE,
            "unit": WORDS,
            "inputs": MANY,
            "message": Text(200, about="the name of the sentence; facts are its values"),
            "facts": FACTS,
            "source": WORDS,
            "confirmed": Flag("whether somebody read the source"),
            "unconfirmed": MANY,
            "own_copy": OWN_COPY,
            "digest": HASH,
            "settled": Flag("nothing is left to do about it"),
            "hold": WORDS,
            "may": ListOf(WORDS, 0, 10, "what may be decided about it"),
            "row": Text(60, about="the row of the table of findings and decisions"),
            "ways": ListOf(WAY, 0, 20, "what may be done about it"),
            "working": WORKING_OR_NONE,
        },
        "What one rule says of one characteristic.",
    ),
)
LIMITS = _all(
    {"lower_nm": BASE, "upper_nm": BASE, "source": WORDS, "unconfirmed": MANY, "own_copy": OWN_COPY}
)
PLAN = _all(
    {
        **dict.fromkeys(("set_c", "must_reach_c", "never_above_c"), BASE),
        **dict.fromkeys(("ceiling", "ceiling_source"), WORDS),
        **dict.fromkeys(("carry_s", "pressing_s"), BASE_OR_NONE),
        "working": Record({}, patterns={NAMES: WORKING}),
        "impossible": WORDS,
    },
    "What is read at the heater, rounded; or why there can be none.",
    optional=(
        *("set_c", "must_reach_c", "never_above_c", "ceiling", "ceiling_source", "carry_s", "pressing_s"),
        *("working", "impossible"),
    ),
)
POINT = _all(
    {
        **dict.fromkeys(("plane", "direction", "typed"), WORDS),
        **dict.fromkeys(("repeats", "deviation_nm", "correction_nm"), BASE),
    },
    "One place, its repeats averaged, brought to 20 °C.",
)
SURFACE = _all({"mean_nm": BASE, "u_nm": BASE_OR_NONE, "points": ListOf(POINT, 0, 10_000), "inputs": MANY})
REMARK = _all(
    {
        "id": WORDS,
        "kind": Choice(tuple(kind.value for kind in Kind)),
        "facts": FACTS,
        "inputs": MANY,
        "working": WORKING_OR_NONE,
    },
    "What is told beside the findings, and decides nothing.",
)
DOUBT = _all(
    dict.fromkeys(("at", "code", "told", "unit", "allowed", "why"), WORDS),
    "A place of the document, as a JSON pointer, that somebody should look at; it was judged as it stands.",
)
ANSWER = _all(
    {
        "form": Choice((FORM,)),
        "version": Whole(VERSION, VERSION),
        "mounting": WORDS,
        "judged_with": _all(
            {
                "app": WORDS,
                "form": Whole(1, 1000),
                "schemas": VERSIONS,
                "rules": VERSIONS,
            }
        ),
        "procedure": _all(
            {"name": WORDS, "revision": WORDS, "digest": HASH, "given": Flag("by the document")}
        ),
        "tables": _all({"digest": HASH, "own_rows": Whole(0, 100_000)}),
        "state": Choice(tuple(state.value for state in State)),
        "requirement": _all({"document": Record({}, open=True), "journal": LIMITS, "bore": LIMITS}),
        "findings": ListOf(FINDING, 0, 10_000),
        "open": MANY,
        "remarks": ListOf(REMARK, 0, 1000),
        "measured": Record({"journal": SURFACE, "bore": SURFACE}),
        "computed": Record({}, patterns={NAMES: WORKING}, about="every result by its name"),
        "ceiling": _all({**dict.fromkeys(("kind", "cap_c", "aim_c", "source"), WORDS), "confirmed": Flag()}),
        "heating_plan": Either({"object": PLAN, "null": Null()}),
        "impossible": Record({}, patterns={NAMES: _all({"code": WORDS, "why": WORDS})}),
        "unread": ListOf(WORDS, 0, 10_000, "entries of a kind or form that this program cannot read"),
        "doubts": ListOf(DOUBT, 0, 100_000),
    },
)


@cache
def answer_schema() -> dict[str, Any]:
    return published(ANSWER, NAME, "Judgement of a mounting case", ABOUT)
