"""What must not be built on stands among the cautions of its sheet, with the place it is said of."""

from __future__ import annotations

from tests.sheets.hard_cases import CASES
from witnessmark.pack import figures
from witnessmark.trade.measuring import known
from witnessmark.trade.sheets import job_sheets as sheets


def test_a_pin_that_can_touch_its_bore_is_named_among_the_cautions_of_the_pack():
    shop = CASES["a gudgeon pin that stands out"]()
    says = known.known(shop.entries)
    [sheet] = figures.arranged(sheets.sheets(shop.engine, shop.readings, says), shop.engine, says)
    stops = [caution for caution in sheet["cautions"] if "STOP" in caution]
    assert [stop.split(".")[0] for stop in stops] == ["Gudgeon pin 1", "Gudgeon pin 3"]
    assert all("Do not build the engine until the pin has been pressed into position" in stop for stop in stops)
