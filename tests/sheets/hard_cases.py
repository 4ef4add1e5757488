"""Cases that once broke a sheet, or told the two sides apart. All of it is invented."""

from __future__ import annotations

from tests.sheets.cases import CASES, case
from tests.sheets.said import BORE, V6, Workshop

__all__ = ["CASES"]


@case
def readings_with_as_many_digits_as_can_be_typed() -> Workshop:
    shop = Workshop()
    gauge = shop.gauge()
    shop.size("cylinder_bore", "nominal", ["9999999999999999.125"])
    for value in ("86.000000000000001", "86.000000000000002"):
        shop.read("cylinder_bore", "bore/1", "top/thrust", value, gauge=gauge)
    shop.read("cylinder_bore", "bore/1", "top/axial", "999999999999999.999999999999999", "m", gauge=gauge)
    return shop


@case
def readings_called_as_every_object_is() -> Workshop:
    shop = Workshop()
    for name in ("__proto__", "constructor", "tostring"):
        shop.read("", "bore/1", name, "86.020", quantity="diameter")
        shop.read("cylinder_bore", "bore/1", name, "86.020")
    return shop


@case
def a_share_of_compression_written_with_a_nought_too_many() -> Workshop:
    shop = Workshop(V6)
    shop.rules(compression_share="75.0")
    for cylinder, dry in enumerate(("12.1", "11.9", "8.2"), 1):
        shop.read("compression_cold", f"bore/{cylinder}", "dry", dry, "bar", quantity="compression")
    return shop


@case
def scatter_that_is_next_to_nothing() -> Workshop:
    shop = Workshop()
    gauge = shop.gauge(resolution="0.000000000000001")
    shop.read_all("cylinder_bore", "bore/1", BORE, gauge=gauge)
    for value in ("86.062000000000001", "86.062000000000009"):
        shop.read("cylinder_bore", "bore/1", "top/thrust", value, gauge=gauge)
    return shop
