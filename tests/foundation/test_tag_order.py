from platewright.foundation.tag_order import in_ranges, tag_order


def test_numbers_in_tags_count_as_numbers() -> None:
    tags = ["H10", "H2", "-F3", "-F12", "duct 40x60", "duct 100x60", "H1"]
    assert sorted(tags, key=tag_order) == [
        "-F3",
        "-F12",
        "H1",
        "H2",
        "H10",
        "duct 40x60",
        "duct 100x60",
    ]


def test_any_two_tags_can_be_compared() -> None:
    assert min(["a", "1", "", "1a", "a1", "½"], key=tag_order) == ""


def test_many_tags_are_told_in_ranges() -> None:
    tags = ["H10", "H1", "H2", "H3", "H7", "H8", "H12", "-T1"]
    assert in_ranges(tags) == "-T1,H1..H3,H7,H8,H10,H12"
    assert in_ranges([]) == ""
    assert in_ranges(["H09", "H10", "H11"]) == "H09,H10,H11"  # H09 is another name than H9


def test_numbers_come_before_words_and_a_name_before_what_goes_on_from_it() -> None:
    tags = ["PE", "L1", "2", "10", "1", "-K1", "-K1.2", "-K1A", "104CR"]
    ordered = ["1", "2", "10", "104CR", "-K1", "-K1.2", "-K1A", "L1", "PE"]
    assert sorted(tags, key=tag_order) == ordered
