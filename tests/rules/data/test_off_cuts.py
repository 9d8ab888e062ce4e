"""Off-cuts whose stock no bar of the job bears are told, once, with their labels."""

from dataclasses import replace

import pytest

from platewright.model.offcut import Offcut
from platewright.rules.data.off_cuts import is_one_slip

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


@pytest.mark.parametrize(
    "slip",
    [
        "duct 40x06",
        "duct 4x60",
        "duct 40x600",
        "duct 40x66",
        "DUCT 40x60",
        "duct  40x60",
        "duct 40",
    ],
)
def test_one_slip_off_a_stock_of_this_job_is_asked_about_with_its_row(slip):
    here = with_store(known(), slip, "duct 99x99")
    here = replace(here, job=replace(here.job, offcut_rows=(2, 3, 5)))
    (found,) = told(RULE, here)
    assert known() == "duct 40x60"
    assert f"offcuts.csv, row 3, stock = {slip!r} (K2), is 'duct 40x60' meant?" in found.message
    assert "row 5, stock = 'duct 99x99' (K3)" in found.message
    assert found.message.count("meant?") == 1
    assert f"write 'duct 40x60' for {slip!r}" in found.cure


@pytest.mark.parametrize("other", ["duct 60x80", "duct 40x6", "rail TH15", "", "duct 04x06"])
def test_slips_are_told_from_other_stock_by_one_letter(other):
    # by hand: each letter written wrong, left out, added or changed with its neighbour is a slip
    assert is_one_slip(other, "duct 40x60") == (other == "duct 40x6")


def test_every_single_slip_is_found():
    name, letters = "rail TH35-7.5", "a9 "
    slips = {name[:k] + name[k + 1 :] for k in range(len(name))}
    slips |= {name[:k] + c + name[k:] for k in range(len(name) + 1) for c in letters}
    slips |= {name[:k] + c + name[k + 1 :] for k in range(len(name)) for c in letters}
    slips |= {name[:k] + name[k + 1] + name[k] + name[k + 2 :] for k in range(len(name) - 1)}
    assert all(is_one_slip(slip, name) for slip in slips)
    twos = {slip[:-1] + "##" for slip in slips}
    assert not any(is_one_slip(two, name) for two in twos)
