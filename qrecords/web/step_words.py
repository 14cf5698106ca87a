"""What a step that a procedure chooses says to people, all in one place."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class StepWords:
    """`before` is the page of its screen that the step stands before. `labels` name its fields, `names` what
    its rules find, `why` says for each rule what goes wrong where it is broken, `findings` are sentences for
    what the common ones do not say."""

    step: str
    name: str
    before: str
    labels: Mapping[str, str]
    names: Mapping[str, str]
    why: Mapping[str, str]
    findings: Mapping[str, str] = field(default_factory=dict)
    shots: Mapping[str, str] = field(default_factory=dict)
