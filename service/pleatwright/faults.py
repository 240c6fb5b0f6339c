"""What is wrong with a request, in words a person can act on.

A calculation that cannot be done raises `Impossible` with every `Fault` it found. A fault names the figure by
its path of field names, so that whoever holds the request can point at it; this module knows nothing of HTTP, nor
of the units the request was made in.
"""

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct, field
from msgspec.structs import replace

Path = tuple[str | int, ...]


class Fault(Struct, frozen=True):
    """One thing that is wrong, and what would put it right.

    `where` is the path of field names and list places to the figure at fault. `detail` says what is wrong and
    what to do. `seen` is the figure as given and `allowed` what it may be. Where these three speak of lengths they
    hold a name in braces, and `lengths` has its value in grid units, so that the reader's own units can be used.
    """

    where: Path
    detail: str
    seen: str | None = None
    allowed: str | None = None
    lengths: Mapping[str, int | Fraction] = field(default_factory=dict)

    def under(self, prefix: Path) -> "Fault":
        """Return the same fault, seen from further out.

        >>> Fault(("width",), "too wide").under(("windows", 0, "rod")).where
        ('windows', 0, 'rod', 'width')
        """
        return replace(self, where=prefix + self.where)


class Impossible(ValueError):
    """The figures are well formed, and no panel, layout or cut can be made from them."""

    def __init__(self, *faults: Fault) -> None:
        super().__init__("; ".join(fault.detail for fault in faults))
        self.faults = faults


def json_pointer(path: Path) -> str:
    """Write a path as a JSON Pointer [RFC 6901, section 3].

    >>> json_pointer(("windows", 0, "rod/track"))
    '/windows/0/rod~1track'
    """
    # Hardly any has a character to escape, and every figure that is assumed has one.
    plain = "/".join(map(str, path))
    if "~" not in plain and plain.count("/") == len(path) - 1:
        return f"/{plain}"
    return "".join("/" + str(part).replace("~", "~0").replace("/", "~1") for part in path)
