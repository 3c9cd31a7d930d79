"""Amounts bound to measures of the body, as pattern drafts write them."""

from trueup.geometry.amounts.bound import (
    NO_BODY,
    BoundLength,
    bound_in,
    is_bound,
    read_length,
    written_length,
)
from trueup.geometry.amounts.expression import Body

__all__ = [
    "NO_BODY",
    "Body",
    "BoundLength",
    "bound_in",
    "is_bound",
    "read_length",
    "written_length",
]
