from tests.builders import block
from trueup.geometry.changes import kind_named
from trueup.geometry.sides.telling import told_of


def test_a_change_names_what_it_means_on_each_side_it_is_made_on() -> None:
    shorten = kind_named("shorten-shoulder")
    one = shorten(by=5.0, side="left")
    assert told_of(one.meant, block(), one.side) == ("left-front.shoulder", "left-back.shoulder")
    parted = kind_named("lower-neck")(piece="front", by=5.0, side="left").apply(block())
    both = shorten(by=5.0)
    assert told_of(both.meant, parted, None) == (
        "left-front.shoulder",
        "back.shoulder",
        "right-front.shoulder",
    )
    assert told_of(both.meant, block(), None) == both.meant(block())
    assert {"left-sleeve.cap-ease", "right-sleeve.cap-ease"} <= {
        *told_of(both.knock_on, parted, None)
    }
