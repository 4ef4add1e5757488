"""Ties the rooms together into a web application; holds no logic of its own."""

from __future__ import annotations

import gc

from flask import Flask, Request, Response, abort, current_app, request
from werkzeug.utils import cached_property

from witnessmark import config
from witnessmark.config import Settings
from witnessmark.db import db, prepare
from witnessmark.sync import pull
from witnessmark.sync.founding import open_workshop
from witnessmark.trade.ground.sentences import say
from witnessmark.web import (
    certificate,
    check,
    desk,
    engine_types,
    errors,
    fence,
    figures,
    gauges,
    jobs,
    json_bounds,
    limits,
    measuring_rules,
    media,
    office,
    packs,
    people,
    phones,
    procedures,
    spoken,
    static,
    sync,
    tightening,
    timeline,
    torque_tools,
)
from witnessmark.web.api import DescribedApi

BLUEPRINTS = (
    sync.blueprint,
    media.blueprint,
    office.blueprint,
    people.blueprint,
    phones.blueprint,
    engine_types.blueprint,
    jobs.blueprint,
    figures.blueprint,
    gauges.blueprint,
    limits.blueprint,
    procedures.blueprint,
    measuring_rules.blueprint,
    tightening.blueprint,
    torque_tools.blueprint,
    timeline.blueprint,
    spoken.blueprint,
    desk.blueprint,
    check.blueprint,
    packs.blueprint,
    certificate.blueprint,
)


COLLECT_AFTER = (20_000, 20, 20)


class WholeRequest(Request):
    """A request whose body is read in whole or not at all, and only when somebody asks for it: after the door."""

    def get_data(self, *args, **kwargs):
        data = super().get_data(*args, **kwargs)
        # A client that breaks off reaches us as a normal end of stream: count the bytes before reading meaning in them.
        if self.content_length is not None and len(data) != self.content_length:
            abort(400)
        return data

    @cached_property
    def args(self):
        """The query; bytes in it that are no UTF-8 are refused, which werkzeug raises as an error of its own."""
        try:
            return super().args
        except UnicodeDecodeError:
            abort(400)


def create_app(settings: Settings | None = None) -> Flask:
    """The application for one data folder; without settings they are read from the environment.

    Raises SystemExit if no workshop was founded in the folder.
    """
    settings = settings or config.from_environment()
    app = _bare()
    app.config.update(
        WITNESSMARK=settings,
        SQLALCHEMY_DATABASE_URI=settings.database,
        SQLALCHEMY_ENGINE_OPTIONS={"hide_parameters": True},
        MAX_CONTENT_LENGTH=settings.body_bytes,
    )
    # A batch makes tens of thousands of small objects, none of them in circles: looking for such less often is
    # worth a tenth of the time that receiving takes.
    gc.set_threshold(*COLLECT_AFTER)
    db.init_app(app)
    with app.app_context():
        prepare(db.engine)
        if open_workshop(settings, db.engine) is None:
            raise SystemExit(say("server.workshop.none_yet", folder=settings.data))
    _describe(app)
    app.register_blueprint(static.blueprint)
    errors.install(app)
    app.before_request(refuse_a_large_body)
    app.after_request(say_who_answers)
    app.after_request(errors.no_other_file)  # the last registered is the first to run
    return app


def openapi_document() -> dict:
    """What /api/openapi.json answers, made without settings, data folder or database."""
    return _describe(_bare()).spec.to_dict()


def _bare() -> Flask:
    app = Flask("witnessmark", static_folder=None)
    app.request_class = WholeRequest
    app.config.update(
        API_TITLE="witnessmark",
        API_VERSION="1",
        OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/api",
        OPENAPI_JSON_PATH="openapi.json",
    )
    app.json.sort_keys = False
    return app


def _describe(app: Flask) -> DescribedApi:
    api = DescribedApi(app)
    for blueprint in BLUEPRINTS:
        api.register_blueprint(blueprint)
    return api


def refuse_a_large_body() -> None:
    """What is too large is refused by its headers alone, before any of it is read. Only phones send much at once."""
    if not request.is_json:
        return
    limits: Settings = current_app.config["WITNESSMARK"]
    request.max_content_length = limits.push_bytes if request.path == json_bounds.PUSH else limits.json_bytes
    if request.content_length is not None and request.content_length > request.max_content_length:
        abort(413)


def say_who_answers(response: Response) -> Response:
    """Fences in every answer; those of the API name the server, so that a stranger's page is never taken for ours."""
    fence.put_up(response)
    if request.path.startswith("/api/"):
        who = pull.identity(current_app.config["WITNESSMARK"])
        response.headers["Witnessmark-Server"] = who.server
        response.headers["Witnessmark-Epoch"] = who.epoch
        response.headers["Witnessmark-Protocol"] = str(pull.PROTOCOL)
        response.headers.setdefault("Cache-Control", "no-store")
    return response
