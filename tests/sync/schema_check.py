"""Looks at sealed files with programs that share nothing with the project: Python's json, hashlib and jsonschema.

usage: schema_check.py take|refuse SCHEMA FILE...
take: the digest of each file's body is right, its text is what sorted, compact JSON gives, and the schema takes it.
refuse: digest and text are right all the same, and the schema does not take it.
Exit code 0 when all is so, 1 when not (each failure on a line), 77 when jsonschema is not installed.
"""

import hashlib
import json
import sys

try:
    import jsonschema
except ImportError:
    sys.exit(77)


def complaints(schema, name, take):
    with open(name, "rb") as file:
        raw = file.read()
    found = []
    doc = json.loads(raw)
    start, joint = len(b'{"body":'), raw.rindex(b',"seal":')
    if hashlib.sha256(raw[start:joint]).hexdigest() != doc["seal"]["digest"]:
        found.append("digest")
    # Names are ASCII and numbers short, so this is what RFC 8785 asks for.
    text = json.dumps(doc, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    if text.replace(".0,", ",").replace(".0}", "}").encode() != raw:
        found.append("canonical text")
    errors = list(jsonschema.Draft7Validator(schema).iter_errors(doc))
    if take:
        found += ["/" + "/".join(map(str, e.absolute_path)) + ": " + e.message[:200] for e in errors]
    elif not errors:
        found.append("taken by the schema")
    return found


def main():
    with open(sys.argv[2], encoding="utf-8") as file:
        schema = json.load(file)
    jsonschema.Draft7Validator.check_schema(schema)
    failed = False
    for name in sys.argv[3:]:
        for complaint in complaints(schema, name, sys.argv[1] == "take"):
            print(f"{name}: {complaint}")
            failed = True
    sys.exit(1 if failed else 0)


main()
