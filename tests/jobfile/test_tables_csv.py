from platewright.jobfile.csv_style import CsvStyle
from platewright.jobfile.tables_csv import read_table
from platewright.jobfile.tables_write import style_of, table_bytes
from platewright.model.device import Device
from platewright.model.part import Mount, Part
from platewright.model.wire import End, SizeSystem, Wire, WireSize

HEAD = "part,width_mm,height_mm,depth_mm,mount\n"
PART = Part(part="a", width=12.5, height=90.0, depth=70.0, mount=Mount.SCREWS)


def read(text: str) -> tuple[Part, ...]:
    table = read_table(Part, text.encode(), file="parts.csv")
    assert table.faults == ()
    return table.records


def test_dividers_and_decimal_commas() -> None:
    assert read(HEAD + "a,12.5,90,70,screws\n") == (PART,)
    semicolon = HEAD.replace(",", ";") + "a;12,5;90;70;screws\n"
    assert read(semicolon) == (PART,)
    assert read(semicolon.replace(";", "\t")) == (PART,)
    assert read('part;width_mm;"height_mm";depth_mm;mount\na;12.5;90;70;screws\n') == (PART,)


def test_decimal_commas_are_told() -> None:
    text = HEAD.replace(",", ";") + "a;12,5;90;70;screws\n"
    assert "decimal comma" in read_table(Part, text.encode(), file="p").notes[0]
    assert read_table(Part, text.replace(",", ".").encode(), file="p").notes == ()


def test_a_comma_before_three_digits_is_refused_unless_the_file_shows_what_it_means() -> None:
    text = HEAD.replace(",", ";") + "a;1,200;90;70;screws\n"
    assert "thousands" in read_table(Part, text.encode(), file="p").faults[0].problem
    more = text + "b;1,5;90;70;screws\n"
    assert [part.width for part in read(more)] == [1.2, 1.5]
    dots = read_table(Part, (more + "c;1.200;9;7;screws\n").encode(), file="p")
    assert "thousands" in dots.faults[0].problem


def test_row_numbers_are_those_of_the_spreadsheet() -> None:
    text = HEAD + '"a\nb",1,1,1,screws\n\nc,x,1,1,screws\n'
    faults = read_table(Part, text.encode(), file="p").faults
    assert [fault.row for fault in faults] == [4]


def test_headings_in_any_case_and_blank_rows() -> None:
    assert read("Part, Width_MM ,HEIGHT_mm,depth_mm,mount\n,,,,\na,12.5,90,70,Screws\n") == (PART,)


def test_blank_is_not_zero() -> None:
    text = "part,width_mm,height_mm,depth_mm,mount,heat_w,clear_top_mm\na,12.5,90,70,screws,,0\n"
    (part,) = read(text)
    assert part.heat is None
    assert part.clear_top == 0.0


def test_only_needed_and_used_columns_are_written() -> None:
    wire = Wire(
        number="1", start=End("-Q1", "2"), end=End("-Q2", "1"), size=WireSize("1.5", SizeSystem.MM2)
    )
    assert table_bytes(Wire, [wire]).decode() == "number,from,to,size\n1,-Q1:2,-Q2:1,1.5 mm²\n"
    assert table_bytes(Device, []) == b"tag,part\n"


def test_the_style_of_a_file_is_kept() -> None:
    old = "\ufeff" + (HEAD.replace(",", ";") + "a;12,5;90;70;screws\n").replace("\n", "\r\n")
    style = style_of(Part, old.encode())
    assert style == CsvStyle(
        delimiter=";", decimal_comma=True, newline="\r\n", byte_order_mark=True
    )
    assert table_bytes(Part, [PART], style) == old.encode()


def test_three_decimals_with_a_comma_can_not_be_taken_for_thousands() -> None:
    style = CsvStyle(delimiter=";", decimal_comma=True)
    assert style.number(1.234) == "1,2340"
    assert style.number(-0.0) == "0"
    assert style.number(1e-7) == "0,0000001"
    assert CsvStyle().number(1e-7) == "1e-07"


def test_a_1000_wire_list_is_read_whole() -> None:
    rows = "".join(f"{n},-Q{n}:1,-Q{n}:2,1.5 mm2,black\n" for n in range(1000))
    content = ("number,from,to,size,colour\n" + rows).encode()
    read_table(Wire, content, file="w")
    assert len(read_table(Wire, content, file="w").records) == 1000


def test_a_line_end_inside_a_cell_is_not_the_file_s_own() -> None:
    from platewright.jobfile.csv_style import newline_of

    assert newline_of('a,b\n"two\r\nlines",1\n') == "\n"
    assert newline_of('a,b\r\n"two\nlines",1\r\n') == "\r\n"
