from platewright.foundation.tag_order import tag_order


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
