"""Validates results files by their schema with an independent validator.

usage: validate_results.py SCHEMA RESULTS...; the exit code is the number of files that are not
valid, with the reasons on stdout.
"""

import json
import sys

import jsonschema


def uneven_rows(results):
    """What a schema cannot say: every row of a lane holds one number a station."""
    stations = len(results["sightlines"]["stations"])
    for target in results["sightlines"]["targets"]:
        for lane in target["lanes"]:
            for key, row in lane.items():
                if isinstance(row, list) and len(row) != stations:
                    yield f"{key} has {len(row)} numbers and there are {stations} stations"


def faults(validator, file_name):
    try:
        with open(file_name, encoding="utf-8") as file:
            results = json.load(file)
    except ValueError as error:
        return [str(error)]
    found = ["/" + "/".join(map(str, error.absolute_path)) + " " + error.message[:200]
             for error in validator.iter_errors(results)]
    return found or list(uneven_rows(results))


def main(schema_file, *results_files):
    with open(schema_file, encoding="utf-8") as file:
        schema = json.load(file)
    jsonschema.Draft7Validator.check_schema(schema)
    validator = jsonschema.Draft7Validator(schema)
    invalid = 0
    for file_name in results_files:
        found = faults(validator, file_name)
        invalid += bool(found)
        for fault in found:
            print(f"{file_name}: {fault}")
    return invalid


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
