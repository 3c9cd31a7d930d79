"""Amounts beyond what is recommended are found, and nothing else is changed by that."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trueup.geometry.changes import ParameterType, kind_named, kinds, parameters, read_change
from trueup.geometry.changes.base import Change
from trueup.geometry.changes.usual import beyond_usual
from trueup.geometry.units import Unit

# Half a pattern, mm: the most, of a positive and of a negative amount. Common practice, no source,
# but for the contouring of a neck near the bust point: dresspatternmaking.com, standard contouring
# amounts, three quarters of an inch at the centre front.
MOST = {
    "sway-back": (19, 19),
    "round-back": (25, 25),
    "high-hip": (25, 25),
    "full-abdomen": (25, 25),
    "hollow-chest": (19, 19),
    "full-arm": (50, 50),
    "pitch-sleeve": (13, 13),
    "lengthen-at": (50, 50),
    "fold-wedge": (25, 25),
    "change-bust": (38, 25),
    "contour-edge": (19, 19),
}
NEEDS = {
    "high-hip": {"side": "left"},
    "lengthen-at": {"level": "waist"},
    "change-bust": {"dart": "front.bust"},
    "contour-edge": {"dart": "front.bust", "edge": "front.neck", "at": "50% from neck-point"},
    "fold-wedge": {
        "edge": "back.centre",
        "at": "50% from neck-centre",
        "ends": "back.side",
        "ends_at": "50% from underarm",
    },
}


def change(name: str, by: float) -> Change:
    values = {**NEEDS.get(name, {}), "by": f"{by}mm"}
    return read_change(kind_named(name), values, Unit.MILLIMETRE)


def low_of(name: str) -> float:
    return float(next(f for f in kind_named(name).__dataclass_fields__.values() if f.name == "by")
                 .metadata["low"])  # fmt: skip


@pytest.mark.parametrize("name", MOST)
def test_as_much_as_is_recommended_is_not_spoken_of_and_more_is(name: str) -> None:
    more, less = MOST[name]
    assert beyond_usual(change(name, more)) == ()
    (found,) = beyond_usual(change(name, more + 0.5))
    assert (found.kind, found.parameter, found.amount, found.most) == (name, "by", more + 0.5, more)
    if low_of(name) < -less:
        assert beyond_usual(change(name, -less)) == ()
        (found,) = beyond_usual(change(name, -less - 0.5))
        assert (found.amount, found.most) == (-less - 0.5, less)


def test_only_what_is_published_has_a_source() -> None:
    sources = {name: beyond_usual(change(name, more + 1))[0] for name, (more, _) in MOST.items()}
    assert {name: each.source for name, each in sources.items() if each.source} == {
        "contour-edge": "dresspatternmaking.com, standard contouring amounts"
    }
    assert sources["contour-edge"].says.what == "beyond-recommended"
    assert sources["sway-back"].says.what == "beyond-usual"


def test_every_kind_that_declares_a_most_is_known_here() -> None:
    declared = {
        name: parameter
        for name, cls in kinds().items()
        for parameter in parameters(cls)
        if parameter.most is not None
    }
    assert declared.keys() == MOST.keys()
    for name, parameter in declared.items():
        assert parameter.type is ParameterType.LENGTH
        assert parameter.most is not None
        assert (parameter.most.of(1.0), parameter.most.of(-1.0)) == MOST[name]


@given(st.sampled_from(sorted(MOST)), st.floats(-40, 40).filter(lambda by: abs(by) > 0.01))
def test_any_amount_is_judged_by_its_own_sign(name: str, by: float) -> None:
    if by <= low_of(name):
        return
    limit = MOST[name][by < 0]
    try:
        found = beyond_usual(change(name, by))
    except Exception:  # more than the kind takes is refused when it is read
        return
    assert bool(found) is (abs(by) > limit + 1e-4) or abs(abs(by) - limit) < 1e-3
