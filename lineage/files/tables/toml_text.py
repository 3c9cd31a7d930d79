"""The tables of a TOML text from outside, or in words why it holds none."""

import re
from typing import Any

from trueup.lineage.limits import LONGEST_KEY, MOST_LINES

_WORD = rb"""(?>[A-Za-z0-9_-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+"""
_LONG_KEY = re.compile(
    rb"(?:^|[\[{,])[ \t]*+(?>" + _WORD + rb"\.[ \t]*+){%d}" % LONGEST_KEY, re.MULTILINE
)


class NoTables(Exception):
    """A text that holds no TOML tables; its text ends a sentence."""


def tables_in(content: bytes, largest: int) -> dict[str, Any]:
    """Return the tables of a text of at most so many bytes; raises NoTables."""
    if len(content) > largest:
        raise NoTables(f"it is larger than {largest // 1_000_000} MB")
    if content.count(b"\n") > MOST_LINES:
        raise NoTables(f"it has more than {MOST_LINES:,} lines")
    # A reader looks at all the tables above a key anew, for each word of it.
    if _LONG_KEY.search(content):
        raise NoTables("its tables are nested too deeply")
    import tomli  # noqa: PLC0415  (where a wardrobe was kept, nothing of it is parsed again)

    try:
        return tomli.loads(content.decode("utf-8"))
    except UnicodeDecodeError as error:
        raise NoTables(f"it is not UTF-8 text (byte {error.start})") from None
    except tomli.TOMLDecodeError as error:
        raise NoTables(f"it is not TOML: {error}") from None
    except ValueError:  # Python converts no whole number of thousands of digits
        raise NoTables("it holds a number of thousands of digits") from None
    except RecursionError:
        raise NoTables("its tables are nested too deeply") from None
