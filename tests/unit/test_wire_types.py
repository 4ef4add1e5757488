"""The apps' types of what the server answers are those that its description gives now."""

from __future__ import annotations

import importlib.util

from tests.support.one_at_a_time import ROOT, one_at_a_time


def test_the_apps_types_are_those_of_the_servers_description():
    """Judge: openapi-typescript. When this fails: python pwa/wire_types.py, then npm run check in pwa."""
    spec = importlib.util.spec_from_file_location("wire_types", ROOT / "pwa" / "wire_types.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    with one_at_a_time("build"):
        wanted = module.generated()
    assert module.TYPES.read_text(encoding="utf-8") == wanted
