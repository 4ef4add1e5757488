"""Wheel build hook: builds the phone and office apps and puts them into the wheel."""

from __future__ import annotations

import importlib.util
from pathlib import Path

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class BuildApps(BuildHookInterface):
    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict) -> None:
        """Runs before a wheel is made; an editable install builds too, and reads pwa/dist in place."""
        if self.target_name != "wheel":
            return
        path = Path(self.root) / "pwa" / "build_app.py"
        spec = importlib.util.spec_from_file_location("build_app", path)
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        dist = module.build()
        if version != "editable":
            build_data["force_include"][str(dist)] = "witnessmark/shipped/pwa"
