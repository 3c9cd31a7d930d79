"""Hypothesis strategies that spoil a sound example here and there."""

from collections.abc import Sequence

from hypothesis import strategies as st

_BITS = (
    *(
        b"",
        b"0",
        b"-1",
        b"9e9",
        b"1e308",
        b"-1e-320",
        b"nan",
        b"inf",
        b"99999999999999999999",
        b"true",
    ),
    *(b'"', b"'", b"[", b"]", b"[[", b"{", b"}", b"=", b".", b",", b"#", b"\n", b"\r", b"\0", b" "),
    *(b"<", b">", b"&", b"/>", b"<g>", b"]]>", b"<!--", b"Z", b"M", b"C", b"A 1 1 0 0 0 9 9", b"%"),
    *(
        b"mm",
        b"in",
        b"cm",
        b"%",
        b"0mm",
        b"1/0",
        b"-0.0",
        b"5000cm",
        b"front.",
        b"front.bust",
        b"sleeve",
    ),
    *(
        b"\xff",
        b"\xc3\x28",
        "\u202e".encode(),
        "½".encode(),
        "漢".encode(),
        b"\x1b[31m",
        b"\\u0000",
    ),
    *(
        b"1979-05-27",
        b"0001-01-01",
        b"9999-12-31",
        b"07:32:00",
        b"1979-05-27T00:32:00.999999-07:00",
    ),
    *(
        b"format",
        b"[[steps]]\n",
        b"[[parents]]\n",
        b"[[conflicts]]\n",
        b"kind",
        b"village",
        b"blouse",
    ),
    *(b"x" * 300, b"[" * 60, b"<g>" * 60, b"9" * 400, b"a." * 100),
)


@st.composite
def spoilt(draw: st.DrawFn, seeds: Sequence[bytes]) -> bytes:
    """Draw a sound example with up to six places cut out, repeated, moved or written over."""
    content = bytearray(draw(st.sampled_from(seeds)))
    for _ in range(draw(st.integers(0, 6))):
        at = draw(st.integers(0, len(content)))
        end = min(len(content), at + draw(st.sampled_from([0, 0, 1, 1, 2, 5, 9, 40, 200])))
        match draw(st.sampled_from(["bit", "bit", "bit", "copy", "byte", "line", "cut"])):
            case "bit":
                content[at:end] = draw(st.sampled_from(_BITS))
            case "copy":
                other = draw(st.sampled_from(seeds))
                start = draw(st.integers(0, len(other)))
                content[at:at] = other[start : start + draw(st.integers(1, 200))]
            case "byte":
                content[at:end] = draw(st.binary(max_size=4))
            case "line":
                lines = bytes(content).split(b"\n")
                line = draw(st.integers(0, len(lines) - 1))
                where = draw(st.integers(0, len(lines)))
                lines.insert(where, lines.pop(line) if draw(st.booleans()) else lines[line])
                content = bytearray(b"\n".join(lines))
            case "cut":
                del content[at:]
    return bytes(content)


def anything(seeds: Sequence[bytes]) -> st.SearchStrategy[bytes]:
    """Draw spoilt examples, and now and then any text or bytes at all."""
    texts = st.text(max_size=60).map(lambda text: text.encode("utf-8", "surrogatepass"))
    return st.one_of(spoilt(seeds), spoilt(seeds), spoilt(seeds), texts, st.binary(max_size=60))
