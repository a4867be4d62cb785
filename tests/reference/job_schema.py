"""Holds job files against our JSON Schema with a general-purpose validator and Python's own TOML reader.

Input: {"schema": schema, "jobs": {name: text}}. Output: {"schema_faults": [words], "jobs": {name: [path of each fault]}}; a path is the keys
joined by points, down to the key that is not allowed or missing where that is the fault.
"""

import datetime
import json
import sys
import tomllib

from jsonschema import Draft202012Validator
from jsonschema.exceptions import SchemaError


def plain(value):
    """Dates and times as JSON has them: as text."""
    if isinstance(value, dict):
        return {key: plain(below) for key, below in value.items()}
    if isinstance(value, list):
        return [plain(below) for below in value]
    if isinstance(value, (datetime.date, datetime.time)):
        return value.isoformat()
    return value


def paths(error):
    """Where a fault lies, down to the key that is too much or missing."""
    at = [str(part) for part in error.absolute_path]
    if error.validator == "required":
        missing = [key for key in error.validator_value if key not in error.instance]
        return [".".join(at + [key]) for key in missing]
    if error.validator == "additionalProperties":
        known = error.schema.get("properties", {})
        if "patternProperties" in error.schema:
            return [".".join(at)]
        return [".".join(at + [key]) for key in error.instance if key not in known]
    return [".".join(at)]


asked = json.load(sys.stdin)
faults = []
try:
    Draft202012Validator.check_schema(asked["schema"])
except SchemaError as error:
    faults.append(error.message)
validator = Draft202012Validator(asked["schema"])
jobs = {
    name: sorted({path for error in validator.iter_errors(plain(tomllib.loads(text))) for path in paths(error)})
    for name, text in asked["jobs"].items()
}
json.dump({"schema_faults": faults, "jobs": jobs}, sys.stdout)
