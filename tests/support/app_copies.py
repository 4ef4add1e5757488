"""The web application on many folders: its routes and their description are made once, which is what takes long."""

from __future__ import annotations

import copy

from flask import Flask

from witnessmark.config import Settings
from witnessmark.db import db, prepare
from witnessmark.sync.founding import open_workshop


def app_on(settings: Settings, pattern: Flask) -> Flask:
    """`create_app(settings)` in a twentieth of the time, from one that it made and that has served nobody yet.

    For settings that differ from the pattern's in their folder alone.
    """
    app = copy.copy(pattern)
    app.config = copy.copy(pattern.config)
    app.config.update(WITNESSMARK=settings, SQLALCHEMY_DATABASE_URI=settings.database)
    app.extensions = {name: extension for name, extension in pattern.extensions.items() if name != "sqlalchemy"}
    app.teardown_appcontext_funcs = []
    db.init_app(app)
    with app.app_context():
        prepare(db.engine)
        assert open_workshop(settings, db.engine), "no workshop was founded in this folder"
    return app
