"""What the schemas of several rooms share, and how a shape is described that passes through a view as it is."""

from __future__ import annotations

from marshmallow import Schema, fields


class AsRecorded(fields.Nested):
    """An object described by a schema and passed on untouched: what is in a record is judged by trade/ alone, and is
    answered as it was signed. Coming in, only its being an object is checked here.
    """

    def _serialize(self, nested_obj, attr, obj, **kwargs):
        return nested_obj

    def _deserialize(self, value, attr, data, **kwargs):
        return fields.Dict(keys=fields.String()).deserialize(value, attr, data, **kwargs)


class OneOfShapes(fields.Raw):
    """Any one of several shapes, only described: nothing that comes in is checked by it."""

    def __init__(self, *shapes: type[Schema], **more):
        super().__init__(**more)
        self.shapes = shapes

    def described(self, converter) -> dict:
        return {"oneOf": [converter.resolve_nested_schema(shape) for shape in self.shapes]}


class Row(fields.Raw):
    """A list with a fixed length whose places differ, only described: `places` are OpenAPI types."""

    def __init__(self, *places: str, **more):
        super().__init__(**more)
        self.places = [{"type": place} for place in places]

    def described(self, converter) -> dict:
        length = len(self.places)
        return {"type": "array", "prefixItems": self.places, "minItems": length, "maxItems": length}


def own_description(converter, field, **_) -> dict:
    """For apispec: what a field of this module says of itself."""
    return field.described(converter) if isinstance(field, OneOfShapes | Row) else {}


def string(description: str = "", **more) -> fields.String:
    """A text that is always there."""
    return fields.String(required=True, metadata={"description": description} if description else {}, **more)


def strings(description: str = "", **more) -> fields.List:
    """A list of texts that is always there, perhaps empty."""
    metadata = {"description": description} if description else {}
    return fields.List(fields.String(), required=True, metadata=metadata, **more)


def integer(description: str = "", **more) -> fields.Integer:
    """A whole number that is always there."""
    return fields.Integer(required=True, metadata={"description": description} if description else {}, **more)


def boolean(description: str = "", **more) -> fields.Boolean:
    """True or false, always there."""
    return fields.Boolean(required=True, metadata={"description": description} if description else {}, **more)


def listed(shape: type[Schema], description: str = "", **more) -> fields.List:
    """A list of objects that is always there, perhaps empty."""
    metadata = {"description": description} if description else {}
    return fields.List(fields.Nested(shape), required=True, metadata=metadata, **more)


# What an answer is where no schema of ours makes it: the bytes of a file, a file that is JSON itself, or null where
# work was only put into the queue.
FILE = {"type": "string", "format": "binary"}
JSON_FILE = {"type": "object"}
NOTHING = {"type": "null"}


class ErrorAnswer(Schema):
    code = string()
    message = string()
    where = string()


class IdAndName(Schema):
    id = string()
    name = string()


class Fault(Schema):
    where = string()
    message = string()
    code = string("key of the message in the catalogue of sentences")


class Faults(Schema):
    faults = listed(Fault)


class Statement(Schema):
    """Who said something, and when."""

    position = integer()
    entry = string("id of the entry")
    author = fields.Nested(IdAndName, required=True)
    received = string()
