"""A posted capture form: what was typed, field by field, untouched. The step's own parse is the only parse.

Names of inputs: `step.key` holds what was typed (`measurement.journal.A.60`); `unit:step.key` or
`unit:step.field` its unit; `sure:step.key` the text that was confirmed after a doubt; `mean:step.key` a meant
value taken over from the question; `absent:step.key` a state and a reason divided by a bar.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from qrecords.mountings.actions.recording import Given, Typed
from qrecords.steps.answers import Absent, State
from qrecords.steps.fields import Quantity
from qrecords.steps.standard import STEPS

OTHER = "other"
SMALL = ("measurement.master_before", "measurement.master_after", "clearance_before.g0", "clearance_after.g1")
"""Lengths that are typed in µm unless somebody chooses otherwise."""


@dataclass(frozen=True)
class Sent:
    """One form as it came. Empty for a page that is only looked at."""

    fields: Mapping[str, str] = field(default_factory=dict)

    def text(self, name: str) -> str | None:
        """What stands in an input now; None if the form did not hold it. A meant value replaces it."""
        return self.fields.get(f"mean:{name}", self.fields.get(name))

    def unit(self, name: str) -> str:
        """The unit of one input: its own, else its field's, else the first the field knows."""
        step, _, key = name.partition(".")
        head = key.split(".", 1)[0]
        own = self.fields.get(f"unit:{name}") or self.fields.get(f"unit:{step}.{head}")
        if own:
            return own
        if f"{step}.{head}" in SMALL:
            return "um"
        form = STEPS[step].by_id[head].form if head in STEPS[step].by_id else None
        return form.units[0] if isinstance(form, Quantity) else ""

    def sure(self, name: str) -> bool:
        text = self.text(name)
        return bool(text) and self.fields.get(f"sure:{name}") == text

    @property
    def reason(self) -> str:
        return self.fields.get("reason", "").strip()

    def names(self) -> Iterator[str]:
        """The inputs of steps, in the order of the form."""
        for name in self.fields:
            step, dot, _ = name.partition(".")
            if dot and step in STEPS and ":" not in name:
                yield name

    def absent(self) -> Iterator[tuple[str, Absent]]:
        """Honest answers that there is no value: *not done* or *not possible*, with the reason."""
        for name, said in self.fields.items():
            kind, colon, about = name.partition(":")
            state, bar, reason = said.partition("|")
            if kind == "absent" and colon and bar and state in list(State):
                if reason == OTHER:
                    reason = self.fields.get("other_reason", "").strip() or OTHER
                yield about, Absent(State(state), reason[:200])

    def given(self) -> dict[str, dict[str, Given]]:
        """By step and key; what was left blank is not given."""
        found: dict[str, dict[str, Given]] = {}
        for name in self.names():
            text = (self.text(name) or "").strip()
            if text:
                step, _, key = name.partition(".")
                found.setdefault(step, {})[key] = Typed(text, self.unit(name), self.sure(name))
        for name, answer in self.absent():
            step, _, key = name.partition(".")
            if step in STEPS:
                found.setdefault(step, {})[key] = answer
        return found

    @property
    def confirmed(self) -> list[tuple[str, str]]:
        """What was confirmed as it stands, kept for the next time this form is shown."""
        sure = "sure:"
        return [
            (name.removeprefix(sure), text) for name, text in self.fields.items() if name.startswith(sure)
        ]
