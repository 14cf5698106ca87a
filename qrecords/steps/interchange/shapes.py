"""One description of a document, from which its published JSON Schema (2020-12) is made and by which it is
read: a shape knows its `schema` and the `faults` of a value.

An entry as a ledger holds it (`stored`) may say more than this program knows: there new names and words pass,
as they do where the record itself is folded. What somebody wrote by hand may not: a name that is not known is
probably misspelt.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from qrecords.steps.interchange.faults import Fault, below
from qrecords.steps.interchange.plain_shapes import (
    Choice,
    Definitions,
    Shape,
    described,
    kind_of,
    matches,
    meant,
    not_of,
)


@dataclass(frozen=True)
class ListOf:
    item: Shape
    least: int = 0
    most: int = 1000
    about: str = ""

    def schema(self, named: Definitions) -> dict[str, Any]:
        schema = {"type": "array", "items": self.item.schema(named), "maxItems": self.most}
        return described(schema | ({"minItems": self.least} if self.least else {}), self.about)

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        yield from not_of(value, at, "array")
        if not isinstance(value, list) or (stored and not value):
            return
        if not self.least <= len(value) <= self.most:
            yield Fault(at, "length", f"{len(value)} of them", "", f"{self.least} to {self.most}")
            return
        for place, item in enumerate(value):
            yield from self.item.faults(item, below(at, place), stored=stored)


@dataclass(frozen=True)
class Record:
    """An object. `stored` names what a ledger's own entry always has; `patterns` gives members by the form of
    their names, `examples` shows such names; one of `either` has to be there. Members not named here are
    refused unless it is `open`."""

    fields: Mapping[str, Shape]
    required: tuple[str, ...] = ()
    stored: tuple[str, ...] = ()
    patterns: Mapping[str, Shape] = field(default_factory=dict)
    either: tuple[str, ...] = ()
    open: bool = False
    examples: tuple[str, ...] = ()
    about: str = ""

    def schema(self, named: Definitions) -> dict[str, Any]:
        schema: dict[str, Any] = {
            "type": "object",
            "properties": {name: shape.schema(named) for name, shape in self.fields.items()},
        }
        if self.required:
            schema["required"] = list(self.required)
        if self.patterns:
            schema["patternProperties"] = {name: s.schema(named) for name, s in self.patterns.items()}
        if self.either:
            schema["anyOf"] = [{"required": [name]} for name in self.either]
        if not self.open:
            schema["additionalProperties"] = False
        return described(schema, self.about)

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        yield from not_of(value, at, "object")
        if not isinstance(value, dict):
            return
        for name in dict.fromkeys((*self.required, *(self.stored if stored else ()))):
            if name not in value:
                yield Fault(below(at, name), "missing", "", "", "", "is not given")
        if self.either and not any(name in value for name in self.either):
            yield Fault(
                below(at, self.either[0]), "missing", "", "", " or ".join(self.either), "is not given"
            )
        for name, item in value.items():
            shape = self.fields.get(name) or self._by_pattern(name)
            if shape is not None:
                yield from shape.faults(item, below(at, name), stored=stored)
            elif not self.open and not stored:
                yield self._unknown(name, at)

    def _by_pattern(self, name: str) -> Shape | None:
        return next((shape for pattern, shape in self.patterns.items() if matches(pattern, name)), None)

    def _unknown(self, name: str, at: str) -> Fault:
        alike = [example for example in self.examples if example.split(".")[0] == name.split(".")[0]]
        if alike:
            form = next(pattern for pattern in self.patterns if matches(pattern, alike[0]))
            return Fault(below(at, name[:60]), "unknown", "", "", f"as {alike[0]}; {form}")
        allowed = (*self.fields, *(self.examples or (pattern.strip("^$") for pattern in self.patterns)))
        why = meant(name, tuple(self.fields))
        return Fault(below(at, name[:60]), "unknown", "", "", ", ".join(allowed)[:400], why)


@dataclass(frozen=True)
class Either:
    """What may be written in several ways, told apart by their JSON types: type → shape."""

    ways: Mapping[str, Shape]
    about: str = ""

    def schema(self, named: Definitions) -> dict[str, Any]:
        return described({"anyOf": [shape.schema(named) for shape in self.ways.values()]}, self.about)

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        shape = self.ways.get(kind_of(value))
        if shape is None:
            yield from not_of(value, at, *self.ways)
        else:
            yield from shape.faults(value, at, stored=stored)


@dataclass(frozen=True)
class Null:
    def schema(self, named: Definitions) -> dict[str, Any]:
        return {"type": "null"}

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        yield from not_of(value, at, "null")


@dataclass(frozen=True)
class Anything:
    about: str = ""

    def schema(self, named: Definitions) -> dict[str, Any]:
        return described({}, self.about)

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        return iter(())


@dataclass(frozen=True)
class HasName:
    """Two kinds of object, told apart by whether a member of this name is there."""

    name: str
    there: Shape
    lacking: Shape

    def schema(self, named: Definitions) -> dict[str, Any]:
        there = {"required": [self.name]}
        return {"if": there, "then": self.there.schema(named), "else": self.lacking.schema(named)}

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        there = isinstance(value, dict) and self.name in value
        yield from (self.there if there else self.lacking).faults(value, at, stored=stored)


@dataclass(frozen=True)
class ByWord:
    """Several kinds of object, told apart by the word under one name."""

    name: str
    kinds: Mapping[str, Shape]

    def schema(self, named: Definitions) -> dict[str, Any]:
        cases = [
            {
                "if": {"properties": {self.name: {"const": word}}, "required": [self.name]},
                "then": s.schema(named),
            }
            for word, s in self.kinds.items()
        ]
        known = {"properties": {self.name: {"enum": list(self.kinds)}}, "required": [self.name]}
        return {"type": "object"} | known | {"allOf": cases}

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        yield from not_of(value, at, "object")
        if not isinstance(value, dict):
            return
        if self.name not in value:
            yield Fault(below(at, self.name), "missing", "", "", ", ".join(self.kinds), "is not given")
            return
        word = value[self.name]
        yield from Choice(tuple(self.kinds)).faults(word, below(at, self.name), stored=stored)
        if isinstance(word, str) and word in self.kinds:
            yield from self.kinds[word].faults(value, at, stored=stored)


@dataclass(frozen=True)
class Named:
    """A shape that stands once among the definitions of a schema."""

    name: str
    shape: Shape

    def schema(self, named: Definitions) -> dict[str, Any]:
        if self.name not in named:
            named[self.name] = {}  # taken, while its own parts are written
            named[self.name] = self.shape.schema(named)
        return {"$ref": f"#/$defs/{self.name}"}

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        yield from self.shape.faults(value, at, stored=stored)


def published(shape: Shape, name: str, title: str, about: str) -> dict[str, Any]:
    """A whole JSON Schema document. `name` is where the API serves it, relative to wherever it stands."""
    named: Definitions = {}
    body = shape.schema(named)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"/api/v1/schemas/{name}/",
        "title": title,
        "description": about,
        **body,
        "$defs": dict(sorted(named.items())),
    }
