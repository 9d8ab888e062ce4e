"""Off-cuts whose stock no bar of the job bears are told, once, with their labels."""

from dataclasses import replace

import pytest

from platewright.model.offcut import Offcut

from ..builders import panel, told, verdict

RULE = "data.off-cuts"


def with_store(*stocks):
    here = panel()
    store = tuple(Offcut(label=f"K{n}", stock=s, length=300) for n, s in enumerate(stocks, 1))
    return replace(here, job=replace(here.job, offcuts=store))


def known():
    """What the cutting itself takes bars of: the first duct of the job's stock."""
    return f"duct {panel().job.settings.stock.ducts[0].name}"


@pytest.mark.parametrize("stock", ["duct 9x9", "rail TH35", "Duct 40x60", ""])
def test_an_unknown_stock_is_told_with_its_labels_in_one_finding(stock):
    here = with_store(known(), stock, "elsewhere", stock)
    assert verdict(RULE, here) == "CAUTION"
    (found,) = told(RULE, here)
    assert f"{stock!r} (K2, K4)" in found.message
    assert "'elsewhere' (K3)" in found.message
    assert "K1" not in found.message


def test_a_misspelt_stock_is_told_with_the_likely_one():
    (found,) = told(RULE, with_store(known().replace("duct ", "duct  ")))
    assert known() in found.cure


def test_stock_of_the_job_passes_and_an_empty_store_is_silent():
    assert verdict(RULE, with_store(known())) == "PASS"
    assert told(RULE, panel())[0].verdict == "NOT_APPLICABLE"
