"""The facts of every rule as JSON Schema: a shape of a finding for each rule, told by name."""

from typing import Any, Literal

from pydantic import TypeAdapter

from ..finding import Rule, Verdict, rules
from .stored_finding import SAID

TEXTS = (*SAID, "topic", "stage", "subject", "area", "room", "section", "edition", "fingerprint")
"""What of a finding is text."""
LIMIT = {
    "type": "object",
    "description": "A limit that the verdict rests on: its figure with its unit, and where it is.",
    "required": ["name", "value", "unit", "section", "edition"],
    "properties": {
        "name": {"type": "string"},
        "value": {
            "description": "null for a table",
            "anyOf": [
                {"type": "number"},
                {"type": "boolean"},
                {"type": "string"},
                {"type": "array", "items": {"anyOf": [{"type": "string"}, {"type": "number"}]}},
                {"type": "null"},
            ],
        },
        "unit": {"type": "string"},
        "section": {"type": "string"},
        "edition": {"type": "string"},
    },
}

VERDICT: dict[str, Any] = {
    "description": "What the figures say of a subject.",
    "type": "string",
    "enum": [verdict.value for verdict in Verdict],
}


def finding_schemas(refs: str = "#/components/schemas/{model}") -> dict[str, Any]:
    """Every shape that a finding has, by name; `Finding` is one of them by its `rule`.

    What a rule declares has `Fact` before its name, so that no shape of the API has the same.
    """
    found = [rule for _, rule in sorted(rules().items())]
    adapters: list[tuple[str, Literal["serialization"], TypeAdapter[Any]]] = []
    for rule in found:
        adapters.append((rule.id, "serialization", TypeAdapter(rule.facts)))
    declared = refs.replace("{model}", "Fact{model}")
    facts, shared = TypeAdapter.json_schemas(adapters, ref_template=declared)
    schemas: dict[str, Any] = {}
    for name, schema in shared.get("$defs", {}).items():
        schemas[f"Fact{name}"] = _untitled(schema)
    schemas["FindingLimit"] = LIMIT
    schemas["FindingVerdict"] = VERDICT
    mapping = {}
    for rule in found:
        name = f"{_camel(rule.id)}Finding"
        schemas[name] = _finding(rule, _untitled(facts[(rule.id, "serialization")]), refs)
        mapping[rule.id] = _at(refs, name)
    schemas["Finding"] = {
        "description": "What a rule says of one subject, with the facts that the rule declares.",
        "oneOf": [{"$ref": ref} for ref in mapping.values()],
        "discriminator": {"propertyName": "rule", "mapping": mapping},
    }
    return schemas


def _finding(rule: Rule, facts: Any, refs: str) -> dict[str, Any]:
    """The shape of one rule's findings."""
    properties: dict[str, Any] = {
        "rule": {"type": "string", "const": rule.id},
        "version": {"type": "integer"},
        "verdict": {"$ref": _at(refs, "FindingVerdict")},
        "known": {"type": "string"},
        "working": {"type": "array", "items": {"type": "string"}},
        "amended": {"type": "array", "items": {"type": "string"}},
        "limits": {"type": "array", "items": {"$ref": _at(refs, "FindingLimit")}},
        "facts": facts,
    }
    for name in TEXTS:
        properties[name] = {"type": "string"}
    return {
        "type": "object",
        "description": rule.title,
        "required": sorted(properties),
        "properties": properties,
    }


def _untitled(schema: Any) -> Any:
    """The schema without the titles that repeat names: clients would take them for its name."""
    if isinstance(schema, list):
        return [_untitled(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    kept = {}
    for name, value in schema.items():
        if name != "title" or not isinstance(value, str):
            kept[name] = _untitled(value)
    return kept


def _at(refs: str, name: str) -> str:
    """Where a shape of that name is."""
    return refs.replace("{model}", name)


def _camel(rule_id: str) -> str:
    return "".join(part.capitalize() for part in rule_id.split("-"))
