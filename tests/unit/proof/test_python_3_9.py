"""verify.pyz runs where our other rooms need not: on any Python from 3.9 on."""

from __future__ import annotations

import ast
from pathlib import Path

from tests.support.cases import all_cases
from witnessmark.proof import verify

ROOM = Path(verify.__file__).parent
LATER = {"strict", "slots", "kw_only"}


@all_cases("path", sorted(ROOM.glob("*.py")), ids=lambda path: path.name)
def test_the_syntax_is_that_of_python_3_9(path):
    tree = ast.parse(path.read_text(), feature_version=(3, 9))
    used = {keyword.arg for node in ast.walk(tree) if isinstance(node, ast.Call) for keyword in node.keywords}

    assert not used & LATER
    assert path.name == "__init__.py" or "from __future__ import annotations" in path.read_text()
