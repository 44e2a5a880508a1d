"""The JSON Schema of job files, made from the document's own types."""

import json

import msgspec

from shop.job import Job
from shop.jobfile import FORMAT, VERSION


def job_schema() -> str:
    """Return the schema of a job file (JSON Schema 2020-12), as docs/job.schema.json holds it."""
    made = msgspec.json.schema(Job)
    for definition in made["$defs"].values():
        definition["description"] = " ".join(definition["description"].split())
    whole = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Facedown job",
        "description": "A kitchen's room, counters, openings and seams; lengths in inches.",
        "type": "object",
        "properties": {
            "format": {"const": FORMAT},
            "version": {"const": VERSION},
            "job": {"$ref": made["$ref"]},
        },
        "required": ["format", "version", "job"],
        "additionalProperties": False,
        "$defs": made["$defs"],
    }
    return json.dumps(whole, indent=1) + "\n"
