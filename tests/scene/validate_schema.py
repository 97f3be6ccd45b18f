# An independent validator reads the schema: every shipped and sampled scene passes, bad ones do not.
import json
import pathlib
import subprocess
import sys

import jsonschema

source, binary, program = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2]), sys.argv[3]
failures = []


def expect(condition, what):
    if not condition:
        failures.append(what)


schema = json.loads((source / "src/scene/scene.schema.json").read_text(encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)


def first_error(document):
    error = jsonschema.exceptions.best_match(validator.iter_errors(document))
    return error and "/".join(map(str, error.absolute_path)) + ": " + error.message[:200]


subprocess.run([program, "--test-case=sample scenes for the validator"], check=True,
               stdout=subprocess.DEVNULL)
samples = sorted((binary / "sample-scenes").glob("*.scene.json"))
expect(len(samples) >= 26, "the test program wrote its samples")
shipped = sorted((source / "assets-demo").rglob("*.scene.json"))
expect(shipped, "there are shipped scenes")
for path in samples + shipped:
    error = first_error(json.loads(path.read_text(encoding="utf-8")))
    expect(error is None, f"{path.name}: {error}")

# What the reader refuses the schema refuses too, unless only the whole document shows it.
refused = accepted = 0
for line in (source / "tests/scene/bad/cases.tsv").read_text(encoding="utf-8").splitlines():
    if line.startswith("#"):
        continue
    name, _, _, verdict = line.split("\t")
    raw = (source / "tests/scene/bad" / (name + ".json")).read_bytes()
    if verdict == "no JSON":
        continue
    error = first_error(json.loads(raw.decode("utf-8")))
    if verdict == "refuses":
        refused += 1
        expect(error is not None, f"{name}: the schema accepts it")
    else:
        accepted += 1
        expect(error is None, f"{name}: the schema refuses it: {error}")
expect(refused >= 30, "there are bad scenes for the schema")

# Texts of lengths, angles and ratios.
for kind, good, bad in [
    ("length", ["1600", "1600 mm", "160 cm", "1.6 m", "5' 3\"", "5 ft 3 1/2 in", "5'-3 1/2\"",
                "63.5\"", "63 1/2 in", "-2 in", "5\u2032 3\u2033", 1600, -1e7],
     ["", "tall", "5 yards", "1,600", "1600 kg", 1.1e7, True, None, []]),
    ("length_positive", ["1 mm", 0.001], ["-1 mm", 0, -1]),
    ("length_not_negative", ["0", 0], ["-1 mm", -0.001]),
    ("angle", ["90", "90 deg", "-12.5\u00b0", 0], ["north", "90 rad", 36001]),
    ("ratio", ["12:1", "12", "1:2", "7:2", 12], ["12 to 1", "-12:1", 0, "1:2:3"]),
]:
    kind_validator = jsonschema.Draft202012Validator(
        {"$ref": "#/$defs/" + kind, "$defs": schema["$defs"]})
    for value in good:
        expect(kind_validator.is_valid(value), f"{kind}: {value!r} is refused")
    for value in bad:
        expect(not kind_validator.is_valid(value), f"{kind}: {value!r} is accepted")

# Skeletons and poses: the shipped ones pass, and each fault of these does not.
for kind, folder, faults in [
    ("skeleton", "skeletons", [{"stature": 0}, {"segments": []}, {"regions": [{"name": "x"}]},
                               {"solid": []}, {"joints": [{"name": "a", "segment": "b"}]}]),
    ("pose", "poses", [{"angles": [{"joint": "waist", "axis": "turn", "angle": 361}]},
                       {"stance": "lying"}, {"angles": [{"joint": "waist", "axis": "turn"}]}]),
]:
    text = (source / f"src/figure/{kind}.schema.json").read_text(encoding="utf-8")
    jsonschema.Draft202012Validator.check_schema(json.loads(text))
    figure_validator = jsonschema.Draft202012Validator(json.loads(text))
    files = sorted((source / "src/figure/data" / folder).glob("*.json"))
    expect(len(files) >= 4, f"there are shipped {folder}")
    for path in files:
        data = json.loads(path.read_text(encoding="utf-8"))
        error = jsonschema.exceptions.best_match(figure_validator.iter_errors(data))
        expect(error is None, f"{path.name}: {error and error.message[:200]}")
        expect(data["name"] + ".json" == path.name, f"{path.name} is named {data['name']}")
    for fault in faults:
        expect(not figure_validator.is_valid({**data, **fault}), f"{kind}: accepted {fault}")

for failure in failures:
    print("failed:", failure)
print(f"{len(samples)} samples, {len(shipped)} shipped scenes, {refused} refused, "
      f"{accepted} left to the reader")
sys.exit(1 if failures else 0)
