"""The tables of a TOML text from outside, or in words why it holds none."""

from typing import Any

import tomli


class NoTables(Exception):
    """A text that holds no TOML tables; its text ends a sentence."""


def tables_in(content: bytes, largest: int) -> dict[str, Any]:
    """Return the tables of a text of at most so many bytes; raises NoTables."""
    if len(content) > largest:
        raise NoTables(f"it is larger than {largest // 1_000_000} MB")
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
