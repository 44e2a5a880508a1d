import json
import re
from pathlib import Path
from typing import Any

import msgspec
import pytest

from shop import plan
from shop.findings import findings
from shop.job import Job
from shop.jobfile import decoded, encoded, read_job
from shop.jobschema import job_schema
from shop.samples import sample_names, sample_path

DOCS = Path(__file__).resolve().parents[2] / "docs"
FORMAT = (DOCS / "job-format.md").read_text(encoding="utf-8")


def test_the_schema_in_the_documents_is_that_of_the_program() -> None:
    kept = (DOCS / "job.schema.json").read_text(encoding="utf-8")
    assert kept == job_schema(), (
        "docs/job.schema.json is stale: write what shop.jobschema.job_schema() returns into it."
    )


def test_the_example_in_the_documents_is_a_job_that_can_be_built() -> None:
    (example,) = re.findall(r"```json\n(.*?)```", FORMAT, re.DOTALL)
    job = decoded(example.encode())
    assert [piece.name for piece in plan.pieces(job)] == ["A", "B"]
    assert not [finding for finding in findings(job) if finding.blocking]
    assert decoded(encoded(job)) == job


def test_every_part_of_a_job_is_in_the_documents() -> None:
    definitions: dict[str, Any] = json.loads(job_schema())["$defs"]
    fields = {field for made in definitions.values() for field in made["properties"]}
    left_out = {field for field in fields if field not in FORMAT}
    assert left_out <= {"depth", "end_overhang", "digest", "next_id"} - {"next_id"}
    assert {field.name for field in msgspec.structs.fields(Job)} == set(
        definitions["Job"]["properties"]
    )


def conforms(value: Any, schema: dict[str, Any], whole: dict[str, Any]) -> bool:
    """Whether a value keeps to the words of JSON Schema that ours uses (2020-12, section 6)."""
    if "$ref" in schema:
        return conforms(value, whole["$defs"][schema["$ref"].split("/")[-1]], whole)
    if "anyOf" in schema:
        return any(conforms(value, one, whole) for one in schema["anyOf"])
    if "const" in schema or "enum" in schema:
        return value in schema.get("enum", [schema.get("const")])
    kind = schema["type"]
    if kind == "object":
        known = schema["properties"]
        return (
            isinstance(value, dict)
            and set(schema.get("required", ())) <= set(value) <= set(known)
            and all(conforms(item, known[key], whole) for key, item in value.items())
        )
    if kind == "array":
        return (
            isinstance(value, list)
            and len(value) <= schema["maxItems"]
            and all(conforms(item, schema["items"], whole) for item in value)
        )
    if kind == "string":
        return isinstance(value, str) and re.search(schema["pattern"], value) is not None
    if kind in ("boolean", "null"):
        return value is None if kind == "null" else isinstance(value, bool)
    low, high = schema.get("minimum", float("-inf")), schema.get("maximum", float("inf"))
    return isinstance(value, int | float) and low <= value <= high


@pytest.mark.parametrize("name", sample_names())
def test_a_sample_keeps_to_the_schema(name: str) -> None:
    whole = json.loads(job_schema())
    sample = json.loads(encoded(read_job(sample_path(name))))
    assert conforms(sample, whole, whole)
    sample["job"]["thickness"] = "thick"
    assert not conforms(sample, whole, whole)
