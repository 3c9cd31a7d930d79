"""What was evaluated, as bytes and back: to be kept in a file, or handed to another process."""

from functools import lru_cache
from typing import TYPE_CHECKING, Any

import msgspec

from trueup.lineage.evaluation.summary import Summary

if TYPE_CHECKING:
    from trueup.geometry.pieces.draft import Draft


def _to_plain(value: Any) -> Any:
    if isinstance(value, complex):
        return (value.real, value.imag)
    raise NotImplementedError(f"no plain form for {type(value)}")


def _from_plain(type_: Any, value: Any) -> Any:
    if type_ is complex:
        real, imag = value
        return complex(real, imag)
    raise NotImplementedError(f"no {type_} from a plain form")


_ENCODER = msgspec.msgpack.Encoder(enc_hook=_to_plain)
_SUMMARIES = msgspec.msgpack.Decoder(Summary)


@lru_cache(maxsize=1)
def _drafts() -> "msgspec.msgpack.Decoder[Draft]":
    # Loaded with the first draft that is read: who reads summaries needs no geometry.
    from trueup.geometry.pieces.draft import Draft  # noqa: PLC0415

    return msgspec.msgpack.Decoder(Draft, dec_hook=_from_plain)


def to_bytes(value: Any) -> bytes:
    """Return a summary, a draft or a record as bytes."""
    return _ENCODER.encode(value)


def read_summary(content: bytes) -> Summary:
    """Return the summary that bytes say; raises msgspec.MsgspecError when they do not."""
    return _SUMMARIES.decode(content)


def read_draft(content: bytes) -> "Draft":
    """Return the draft that bytes say; raises msgspec.MsgspecError, GeometryError otherwise."""
    return _drafts().decode(content)
