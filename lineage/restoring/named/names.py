"""The names git keeps: where HEAD stands, and which version each branch and tag stands for.

Read from their files alone, so that one that is damaged hides no other.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

BRANCHES = "refs/heads/"

_ID = re.compile(rb"[0-9a-f]{40}(?:[0-9a-f]{24})?")
_SYMBOLIC = re.compile(rb"ref: *(refs/[^\0\n]+)\n?\s*")
_PACKED = re.compile(rb"(?P<id>[0-9a-f]{40}(?:[0-9a-f]{24})?) (?P<name>refs/[^\0\n]+)")
_FORBIDDEN = re.compile(r"[\x00-\x20\x7f~^:?*\[\\]|\.\.|@\{|//|(^|/)\.|\.(/|$)|\.lock(/|$)|/$")


@dataclass(frozen=True)
class Target:
    """What a name stands for: an id, or another name."""

    id: str | None = None
    name: str | None = None


def is_name(text: str) -> bool:
    """Return whether git would take a text for the full name of a branch, a tag or the like."""
    return text.startswith("refs/") and _FORBIDDEN.search(text) is None


def target_of(content: bytes) -> Target | None:
    """Return what the file of a name says; None where it says nothing that can be used."""
    symbolic = _SYMBOLIC.fullmatch(content)
    if symbolic:
        name = symbolic[1].decode(errors="replace").rstrip()
        return Target(name=name) if is_name(name) else None
    found = _ID.fullmatch(content.rstrip())
    if found is None or not found[0].strip(b"0"):
        return None
    return Target(id=found[0].decode())


@dataclass(frozen=True)
class Packed:
    """The packed names, and whether every line of their file could be read."""

    names: Mapping[str, str]
    lines: tuple[bytes, ...] = ()
    is_sound: bool = True


def packed_names(content: bytes) -> Packed:
    """Return what the file of packed names says; `lines` are those that can be kept."""
    names: dict[str, str] = {}
    kept: list[bytes] = []
    is_sound = content.endswith(b"\n")
    for line in content.splitlines():
        found = _PACKED.fullmatch(line)
        if found and is_name(name := found["name"].decode(errors="replace")):
            names[name] = found["id"].decode()
        elif not (line.startswith(b"# pack-refs ") and not kept) and not (
            line.startswith(b"^") and _ID.fullmatch(line[1:]) and kept
        ):
            is_sound = False
            continue
        kept.append(line)
    return Packed(names, tuple(kept), is_sound)


def packed_without(packed: Packed, names: Iterable[str]) -> bytes:
    """Return the file of packed names without some of them."""
    gone = set(names)
    kept, skipping = [], False
    for line in packed.lines:
        found = _PACKED.fullmatch(line)
        if found:
            skipping = found["name"].decode(errors="replace") in gone
        elif not line.startswith(b"^"):
            skipping = False
        if not skipping:
            kept.append(line)
    return b"".join(line + b"\n" for line in kept)
