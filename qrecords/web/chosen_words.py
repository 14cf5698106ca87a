"""The words of every step in `chosen/`, together: merged into those of the steps of every mounting."""

from collections.abc import Iterator, Mapping
from importlib import import_module
from pkgutil import iter_modules

from qrecords.web import chosen
from qrecords.web.step_words import StepWords


def _found() -> Iterator[StepWords]:
    for module in iter_modules(chosen.__path__):
        words: StepWords = import_module(f"{chosen.__name__}.{module.name}").WORDS
        yield words


CHOSEN: Mapping[str, StepWords] = {words.step: words for words in _found()}
STEPS: Mapping[str, str] = {step: words.name for step, words in CHOSEN.items()}
LABELS: Mapping[str, str] = {
    f"{step}.{key}": label for step, words in CHOSEN.items() for key, label in words.labels.items()
}
NAMES: Mapping[str, str] = {key: name for words in CHOSEN.values() for key, name in words.names.items()}
WHY: Mapping[str, str] = {rule: text for words in CHOSEN.values() for rule, text in words.why.items()}
FINDINGS: Mapping[str, str] = {id: text for words in CHOSEN.values() for id, text in words.findings.items()}
SHOTS: Mapping[str, str] = {shot: name for words in CHOSEN.values() for shot, name in words.shots.items()}
