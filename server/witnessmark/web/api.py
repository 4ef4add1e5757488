"""The description of the API, its blueprints and how their requests are read; errors are in this server's one shape."""

from __future__ import annotations

import flask_smorest
from flask import abort
from flask_smorest import Api
from webargs.flaskparser import FlaskParser

from witnessmark.web import json_bounds
from witnessmark.web.common_schemas import ErrorAnswer, own_description


class DescribedApi(Api):
    """Registers blueprints and answers /api/openapi.json; `web.errors` makes the errors it describes."""

    ERROR_SCHEMA = ErrorAnswer

    def _init_spec(self, **given):
        super()._init_spec(**given)
        self.ma_plugin.converter.add_attribute_function(own_description)


class JsonParser(FlaskParser):
    """Answers 400 to whatever is no JSON, numbers of thousands of digits included, which Python does not convert, and
    refuses what has more structure than a request may have (json_bounds)."""

    def load_json(self, req, schema):
        if req.is_json:
            json_bounds.check(req.get_data(cache=True), req.path)
        try:
            return super().load_json(req, schema)
        except ValueError:
            abort(400)


class Blueprint(flask_smorest.Blueprint):
    ARGUMENTS_PARSER = JsonParser()
