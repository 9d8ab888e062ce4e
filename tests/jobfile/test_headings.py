import pytest

from platewright.jobfile.columns import columns_of
from platewright.jobfile.headings import split_unit, synonyms, understand
from platewright.model.device import Device
from platewright.model.part import Part
from platewright.model.wire import Wire


def map_of(*texts: str, list_name: str = "devices") -> dict[str, str]:
    return {each.column: each.text for each in understand(texts, list_name, {})}


def test_headings_of_the_trade() -> None:
    found = map_of("Ref des", "Catalog No.", "QTY", "Width (in)", "H [mm]", "Depth, mm", "Watts")
    assert list(found) == ["tag", "part", "quantity", "width", "height", "depth", "heat"]
    wires = map_of("Wire no.", "From", "To", "Gauge", "Color", list_name="wires")
    assert list(wires) == ["number", "start", "end", "size", "colour"]


def test_more_headings_of_wire_lists() -> None:
    for number, size in (("Core no.", "CSA"), ("Conductor No", "C.S.A. (mm²)"),
                         ("Wire label", "Cross-sectional area"), ("Line no", "sq mm")):  # fmt: skip
        found = map_of(number, "From", "To", size, list_name="wires")
        assert found == {"number": number, "start": "From", "end": "To", "size": size}


@pytest.mark.parametrize("unit", ["", " [mm]", " mm"])
def test_b_h_and_t_are_sizes_where_all_three_stand(unit: str) -> None:
    texts = [letter + unit for letter in "BHT"]
    found = map_of("Tag", *texts)
    assert [found.get(size) for size in ("width", "height", "depth")] == texts
    assert map_of("Tag", texts[0], texts[2]) == {"tag": "Tag"}  # two of them may mean anything
    beside = map_of("Tag", *texts, "Width (mm)")
    assert beside["width"] == "Width (mm)"  # the plain word wins


def test_slips_of_the_pen_and_our_own_names() -> None:
    assert map_of("Desigantion", "width_mm", "rail_center_mm") == {
        "tag": "Desigantion",
        "width": "width_mm",
        "rail_center": "rail_center_mm",
    }


def test_the_better_match_wins_and_the_other_is_left() -> None:
    assert map_of("Item", "Device tag")["tag"] == "Item"
    assert map_of("Colour of lid") == {}


def test_a_kept_map_wins() -> None:
    (found,) = understand(["Order no", "Item"], "devices", {"tag": "Order no"})[:1]
    assert (found.column, found.text) == ("tag", "Order no")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Width (in)", ("width", "in")),
        ("W [mm]", ("w", "mm")),
        ("Weight lb", ("weight", "lb")),
        ("Torque (lb-in)", ("torque", "lb-in")),
        ("Section (mm²)", ("section", "mm²")),
        ("Plug in", ("plug", "in")),
        ("Width (approx.)", ("width", "")),
        ("Heat_W", ("heat w", "")),
    ],
)
def test_units_in_headings(text: str, expected: tuple[str, str]) -> None:
    assert split_unit(text) == expected


def test_every_synonym_names_a_column() -> None:
    fields = {each.field for record in (Device, Part) for each in columns_of(record)}
    assert set(synonyms("devices").values()) <= fields | {"quantity"}
    ends = {f"{end}_{what}" for end in ("start", "end") for what in ("device", "terminal")}
    assert set(synonyms("wires").values()) <= {each.field for each in columns_of(Wire)} | ends
