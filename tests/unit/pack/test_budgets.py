"""The factor k and the budgets of a sheet as the pack says them."""

from __future__ import annotations

from witnessmark.pack import budgets


def a_figure(k: str = "2.00", standing: str = "within", u: str = "0.0012", **more) -> dict:
    line = {
        "source": "permissible error",
        "words": "gauge 4, permissible error \u00b1 0.002 mm",
        "u": u,
        "share": "100.0",
    }
    none = {"source": "temperature", "words": "not taken: size as read, not counted", "u": "0", "share": "0.0"}
    figure = {
        "words": "ovality", "value": "0.018", "unit": "mm", "u": u, "U": "0.0024", "k": k, "budget": [line, none],
        "now": [{"standing": standing}], "then": None,
    }  # fmt: skip
    return figure | more


def places(*figures: dict) -> list[dict]:
    return [{"name": f"bore {number}", "figures": [one]} for number, one in enumerate(figures, 1)]


def test_a_factor_that_all_figures_share_is_said_once():
    read = places(a_figure(), a_figure())
    assert budgets.common_factor(read) == "2.00"
    [(_, said)] = budgets.factor_words(read, "2.00")
    assert said == "k = 2.00 times the standard uncertainty, about 95 %"


def test_a_factor_of_few_repeats_is_announced_and_the_commonest_stays_the_sheet_s():
    read = places(a_figure(), a_figure("2.87"), a_figure())
    [(_, said)] = budgets.factor_words(read, budgets.common_factor(read))
    assert said.startswith("k = 2.00") and said.endswith("it stands beside the figure")


def test_a_sheet_without_any_uncertainty_says_no_factor():
    read = places(a_figure(""))
    assert (budgets.common_factor(read), budgets.factor_words(read, "")) == ("", [])


def test_figures_within_their_limits_have_no_budget_and_equal_ones_share_it():
    read = places(
        a_figure(standing="outside"), a_figure(), a_figure(standing="not proven"), a_figure("2.87", "outside")
    )
    found = budgets.budgets(read)
    assert [one["of"] for one in found] == [["bore 1, ovality", "bore 3, ovality"], ["bore 4, ovality"]]
    assert [line["u"] for line in found[0]["lines"]] == ["0.0012", ""]


def test_a_figure_that_was_outside_when_it_was_read_has_its_budget_too():
    assert budgets.budgets(places(a_figure(then=[{"standing": "outside"}])))
    assert not budgets.budgets(places(a_figure(standing="outside", budget=[])))
