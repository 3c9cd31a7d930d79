from trueup.geometry.pieces.side import Side, side_of, sided, unsided
from trueup.geometry.sides.naming import names_at, names_wanted, read_at


def test_a_name_with_a_side_and_without() -> None:
    assert sided("front.neck", Side.LEFT) == "left-front.neck"
    assert sided("front.neck", None) == "front.neck"
    assert unsided("left-front.neck") == "front.neck"
    assert unsided("leftover") == "leftover"
    assert unsided("left-") == "left-"
    assert unsided("back-seam") == "back-seam"
    assert side_of("right-front") is Side.RIGHT
    assert side_of("front") is None


def test_what_was_read_of_both_is_read_of_each() -> None:
    assert read_at({"front.neck": 1.0}, "left-front.neck") == 1.0
    assert read_at({"front.neck": 1.0, "left-front.neck": 2.0}, "left-front.neck") == 2.0
    assert read_at({"left-front.neck": 2.0}, "front.neck") is None


def test_what_is_read_apart_is_found_under_both_names() -> None:
    found = {"left-front.neck": 1.0, "right-front.neck": 2.0, "back.neck": 3.0}
    assert names_at(found, "front.neck") == ("left-front.neck", "right-front.neck")
    assert names_at(found, "back.neck") == ("back.neck",)
    assert names_at(found, "collar.neck") == ("collar.neck",)


def test_what_one_side_alone_has_is_wanted_on_both() -> None:
    found = {"left-front.side", "right-front.neck", "right-front.side", "back.neck"}
    both = ("left-front.neck", "right-front.neck")
    assert names_at(found, "front.neck") == ("right-front.neck",)
    assert names_wanted(found, "front.neck") == both
    assert names_wanted(found, "back.neck") == ("back.neck",)
    assert names_wanted({"right-pocket.mouth"}, "pocket.mouth") == ("right-pocket.mouth",)
