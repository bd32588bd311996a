"""JSON documents against their schemas, and every null against its reason."""
import json
import os

from program_case import SOURCE, ProgramCase

try:
    import jsonschema
except ImportError:  # pragma: no cover
    jsonschema = None


def schema(name):
    with open(os.path.join(SOURCE, "tools", "schema", name + ".schema.json"), encoding="utf-8") as file:
        return json.load(file)


class DocumentCase(ProgramCase):
    def valid(self, document):
        """The document, when its schema allows it (where python3-jsonschema is installed) and its nulls are explained."""
        if jsonschema is not None:
            jsonschema.Draft202012Validator(schema(document["document"])).validate(document)
        self.explained(document, document["reasons"])
        return document

    def explained(self, value, reasons, key=""):
        if value is None:
            self.assertTrue(reasons.get(key), f"null {key} has no reason")
        if isinstance(value, dict):
            nearest = value.get("reasons", reasons)
            for name, inner in value.items():
                self.explained(inner, nearest, name)
        if isinstance(value, list):
            for inner in value:
                self.explained(inner, reasons, key)
