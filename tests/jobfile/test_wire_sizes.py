import pytest

from platewright.jobfile.quantities import Unreadable
from platewright.jobfile.wire_sizes import read_wire_size
from platewright.model.job import Practice

US, IEC = Practice.NORTH_AMERICA, Practice.IEC


@pytest.mark.parametrize(
    ("text", "practice", "expected"),
    [
        ("14 AWG", IEC, "14 AWG"),
        ("14AWG", IEC, "14 AWG"),
        ("AWG 14", IEC, "14 AWG"),
        ("#14", IEC, "14 AWG"),
        ("14 ga", IEC, "14 AWG"),
        ("14", US, "14 AWG"),
        ("0", US, "1/0 AWG"),
        ("1/0 AWG", US, "1/0 AWG"),
        ("4/0", US, "4/0 AWG"),
        ("0000 AWG", US, "4/0 AWG"),
        ("30 AWG", US, "30 AWG"),
        ("1.5 mm2", US, "1.5 mm²"),
        ("1.5 mm²", US, "1.5 mm²"),
        ("2.50 mm2", US, "2.5 mm²"),
        ("1.5", IEC, "1.5 mm²"),
        ("16", IEC, "16 mm²"),
        ("16", None, "16 mm²"),
    ],
)
def test_sizes_as_shops_write_them(text: str, practice: Practice | None, expected: str) -> None:
    assert str(read_wire_size(text, practice)) == expected


def test_decimal_comma_as_the_file_has_it() -> None:
    assert str(read_wire_size("1,5 mm²", US, comma=True)) == "1.5 mm²"
    with pytest.raises(Unreadable, match="decimal comma"):
        read_wire_size("1,5 mm²", US)


@pytest.mark.parametrize(
    "text", ["31 AWG", "5/0 AWG", "014 AWG", "1.5", "0 mm2", "-1 mm2", "thick", "1/2"]
)
def test_what_is_no_size_in_north_america(text: str) -> None:
    with pytest.raises(Unreadable):
        read_wire_size(text, US)
