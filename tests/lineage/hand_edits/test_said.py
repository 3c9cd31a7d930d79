from trueup.lineage.hand_edits.said import apart, said_by

TEXT = b"""\
# Ada's blouse
format = 1 # beside a value
name = "blouse"

[draft]
bust = "88cm"

[[steps]]
id = "a1"
by = "2mm"
# below a step
# below a step
[[steps]]
id = "b2"
season = { year = 2025 }
"""


def test_a_file_says_its_fields_and_its_comments_by_their_places():
    assert said_by(TEXT) == {
        ("format",): 1,
        ("name",): "blouse",
        ("draft", "bust"): "88cm",
        ("steps", "a1", "id"): "a1",
        ("steps", "a1", "by"): "2mm",
        ("steps", "b2", "id"): "b2",
        ("steps", "b2", "season"): {"year": 2025},
        ("#", "Ada's blouse"): 1,
        ("#", "below a step"): 2,
    }


def test_layout_says_nothing():
    other = TEXT.replace(b"\n", b"\r\n").replace(b'"88cm"', b"'88cm'").replace(b" = ", b"=")
    assert apart(said_by(TEXT) or {}, said_by(other) or {}) == frozenset()


def test_the_order_of_tables_in_a_list_is_no_difference_of_what_they_say():
    first, second, third = TEXT.split(b"[[steps]]\n")
    turned = b"[[steps]]\n".join((first, third, second))
    assert apart(said_by(TEXT) or {}, said_by(turned) or {}) == frozenset()


def test_no_file_says_nothing_and_no_toml_cannot_be_told():
    assert said_by(None) == {}
    assert said_by(b"name = ") is None
    assert said_by(b"\xff") is None
