"""The description of the API, with errors told in our one shape."""

from __future__ import annotations

from flask_smorest import Api

from witnessmark.web.schemas import ErrorAnswer


class DescribedApi(Api):
    """Registers blueprints and answers /api/openapi.json; `web.errors` makes the errors it describes."""

    ERROR_SCHEMA = ErrorAnswer
