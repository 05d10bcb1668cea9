"""Looks at sealed files with programs that share nothing with the project: Python's json, hashlib and jsonschema.

usage: schema_check.py SCHEMA FILE...
For each file: the digest of its body is right, its text is what sorted, compact JSON gives, and the schema accepts it.
Exit code 0 when all is so, 1 when not (each failure on a line), 77 when jsonschema is not installed.
"""

import hashlib
import json
import sys

try:
    import jsonschema
except ImportError:
    sys.exit(77)


def complaints(schema, name):
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
    for error in jsonschema.Draft7Validator(schema).iter_errors(doc):
        found.append("/" + "/".join(map(str, error.absolute_path)) + ": " + error.message[:200])
    return found


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        schema = json.load(file)
    jsonschema.Draft7Validator.check_schema(schema)
    failed = False
    for name in sys.argv[2:]:
        for complaint in complaints(schema, name):
            print(f"{name}: {complaint}")
            failed = True
    sys.exit(1 if failed else 0)


main()
