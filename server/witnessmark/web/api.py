"""The description of the API, with errors in the one shape of this server."""

from __future__ import annotations

from flask_smorest import Api

from witnessmark.web.common_schemas import ErrorAnswer, own_description


class DescribedApi(Api):
    """Registers blueprints and answers /api/openapi.json; `web.errors` makes the errors it describes."""

    ERROR_SCHEMA = ErrorAnswer

    def _init_spec(self, **given):
        super()._init_spec(**given)
        self.ma_plugin.converter.add_attribute_function(own_description)
