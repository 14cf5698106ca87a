"""A posted capture form: what was typed, field by field, untouched. The step's own parse is the only parse.

Names of inputs: `step.key` holds what was typed (`measurement.journal.A.60`), `unit:step.key` or
`unit:step.field` its unit. `sure:` the text that was confirmed after a doubt; `mean:` what was probably
meant, text and unit divided by a bar; `absent:` a state and a reason divided by a bar; `stays:` the same said
a page ago; `words:` another reason in words. `reason` and `reason_words` say why answers change.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

from qrecords.mountings.actions.recording import Given, Typed
from qrecords.steps.answers import Absent, State
from qrecords.steps.fields import Quantity
from qrecords.steps.standard import STEPS

OTHER = "other"
GIVEN_BACK = 60
"""So much of a number is given back: more than any has, so that what was cut is asked back once more."""
SMALL = ("measurement.master_before", "measurement.master_after", "clearance_before.g0", "clearance_after.g1")
"""Lengths that are typed in µm unless somebody chooses otherwise."""


@dataclass(frozen=True)
class Sent:
    """One form as it came. Empty for a page that is only looked at."""

    fields: Mapping[str, str] = field(default_factory=dict)

    def text(self, name: str) -> str | None:
        """What stands in an input now; None if the form did not hold it. A meant value replaces it."""
        meant = self.fields.get(f"mean:{name}")
        return self.fields.get(name) if meant is None else meant.partition("|")[0]

    def unit(self, name: str) -> str:
        """The unit of one input: its own, else its field's, else the first the field knows."""
        step, _, key = name.partition(".")
        head = key.split(".", 1)[0]
        meant = self.fields.get(f"mean:{name}", "").partition("|")[2]
        own = meant or self.fields.get(f"unit:{name}") or self.fields.get(f"unit:{step}.{head}")
        if own:
            return own
        if f"{step}.{head}" in SMALL:
            return "um"
        form = STEPS[step].by_id[head].form if head in STEPS[step].by_id else None
        return form.units[0] if isinstance(form, Quantity) else ""

    def sure(self, name: str) -> bool:
        """Confirmed as it stands: this text by itself, or all that was asked about on the page before."""
        text = self.text(name)
        if text is not None and len(text) > GIVEN_BACK:
            return False  # no number is as long
        asked = self.fields.get(f"asked:{name}") if self.fields.get("sure_all") else None
        return bool(text) and text in (self.fields.get(f"sure:{name}"), asked)

    @property
    def reason(self) -> str:
        return self.fields.get("reason_words", "").strip() or self.fields.get("reason", "").strip()

    def names(self) -> Iterator[str]:
        """The inputs of steps, in the order of the form."""
        for name in self.fields:
            step, dot, _ = name.partition(".")
            if dot and step in STEPS and ":" not in name:
                yield name

    def absent(self) -> Iterator[tuple[str, Absent]]:
        """Honest answers that there is no value: *not done* or *not possible*, with the reason. Words alone
        are a reason too: whoever typed them and pressed Enter has said why. What was said a page ago yields
        to a value typed since."""
        for name, said in self.fields.items():
            kind, _, about = name.partition(":")
            words = self.fields.get(f"words:{about}", "").strip()
            state, bar, reason = said.partition("|")
            stays = kind == "stays" and not (self.text(about) or "").strip()
            if (kind == "absent" or stays) and bar and state in list(State):
                yield about, Absent(State(state), ((reason == OTHER and words) or reason)[:200])
            elif kind == "words" and words and not self.fields.get(f"absent:{about}"):
                yield about, Absent(State.NOT_DONE, words[:200])

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

    def carried(self, asked_back: Collection[str] = ()) -> list[tuple[str, str]]:
        """The answers to questions so far, without which the next sending would ask them again. What is
        `asked_back` now has lost its answer."""
        found = [
            (f"stays:{about}", f"{answer.state}|{answer.reason}")
            for about, answer in self.absent()
            if about not in asked_back
        ]
        found += [(f"sure:{name}", self.text(name) or "") for name in self.names() if self.sure(name)]
        found += [("reason", self.reason)] if self.reason else []
        return found + ([("keep_close", "1")] if self.fields.get("keep_close") else [])
