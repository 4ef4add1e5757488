"""The phone's twin of the trade holds what must be judged without signal, and nothing more."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MOST_SHARE = 80  # per cent of the lines of the server's trade


def lines(folder: Path, ending: str) -> int:
    return sum(
        len(path.read_text().splitlines()) for path in folder.rglob(f"*{ending}") if not path.name.endswith(".test.ts")
    )


def test_the_twin_stays_the_smaller():
    trade = lines(ROOT / "server" / "witnessmark" / "trade", ".py")
    twin = lines(ROOT / "pwa" / "src" / "trade", ".ts")

    assert trade and 0 < twin * 100 <= trade * MOST_SHARE, f"{twin} lines beside {trade}: {twin / trade:.1%}"
