"""Wheel build hook: builds the phone and office apps and the bill of materials, and puts them into the wheel."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from tempfile import TemporaryDirectory

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class BuildApps(BuildHookInterface):
    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict) -> None:
        """Runs before a wheel is made; an editable install builds too, and reads pwa/dist in place."""
        if self.target_name != "wheel":
            return
        dist = self._module("pwa/build_app.py").build()
        if version == "editable":
            return
        build_data["force_include"][str(dist)] = "witnessmark/shipped/pwa"
        # For the length of the build: it lies where nothing else of the sources does.
        self._folder = TemporaryDirectory()
        bill = Path(self._folder.name) / "bill_of_materials.json"
        bill.write_text(self._module("server/parts/bill.py").as_json(self.metadata.version))
        build_data["force_include"][str(bill)] = "witnessmark/shipped/bill_of_materials.json"

    def _module(self, path: str):
        spec = importlib.util.spec_from_file_location(Path(path).stem, Path(self.root) / path)
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        return module
