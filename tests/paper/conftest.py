"""What the tests of papers share: estimates from requests, and drawings read back from their SVG."""

import json
import re
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from pleatwright import workroom
from pleatwright.paper.drawings import svg

EXAMPLES = Path(__file__).parent.parent.parent / "openapi" / "examples"
SVG = "{http://www.w3.org/2000/svg}"
MILLIMETRES = {"in": 25.4, "cm": 10.0, "mm": 1.0}


@dataclass
class Word:
    text: str
    x: float
    y: float
    size: float
    turned: bool
    anchor: str


class Sheet:
    """A drawing as a reader of its SVG finds it: by what the elements say they are of."""

    def __init__(self, source):
        self.source = source
        self.root = ET.fromstring(source)
        *_, self.width, self.height = map(float, self.root.get("viewBox").split())

    def _of(self, tag, of):
        wanted = re.compile(of)
        return [
            each for each in self.root.iter(f"{SVG}{tag}") if wanted.fullmatch(each.get("data-of") or "") is not None
        ]

    def lines(self, of):
        """(of, x1, y1, x2, y2) of each line that is of this; `of` is a regular expression."""
        return [
            (each.get("data-of"), *(float(each.get(key)) for key in ("x1", "y1", "x2", "y2")))
            for each in self._of("line", of)
        ]

    def words(self, of=".*"):
        """Each text that is of this, by what it is of."""
        return [
            (
                each.get("data-of"),
                Word(
                    each.text or "",
                    float(each.get("x")),
                    float(each.get("y")),
                    float(each.get("font-size")),
                    "transform" in each.attrib,
                    each.get("text-anchor", "start"),
                ),
            )
            for each in self._of("text", of)
        ]

    def word(self, of):
        ((_, found),) = self.words(of)
        return found.text

    def all_words(self):
        return [
            (each.text or "", float(each.get("x")), float(each.get("y")), "transform" in each.attrib)
            for each in self.root.iter(f"{SVG}text")
        ]

    def rectangles(self, of):
        return [
            (each.get("data-of"), *(float(each.get(key)) for key in ("x", "y", "width", "height")))
            for each in self._of("rect", of)
        ]

    def points(self, of):
        return [
            [tuple(map(float, pair.split(","))) for pair in each.get("points").split()]
            for tag in ("polyline", "polygon")
            for each in self._of(tag, of)
        ]

    def strokes(self, of):
        """Every line of a path that is of this."""
        return [
            tuple(tuple(map(float, pair.split(","))) for pair in re.split("[ML]", part)[1:])
            for each in self._of("path", of)
            for part in each.get("d").split(" ")
        ]

    def dimension(self, of):
        """The ends of a dimension, and the words on it."""
        (group,) = self._of("g", of)
        line = group.find(f"{SVG}line")
        ends = [float(line.get(key)) for key in ("x1", "y1", "x2", "y2")]
        return ends, "".join(each.text or "" for each in group.iter(f"{SVG}text"))

    @property
    def scale(self):
        """How many times smaller than the cloth, as the foot of the drawing says."""
        small, large = re.search(r"Scale (\S+) : ([^.]*\d(?:\.\d+)?)\. Fig", self.word("scale")).groups()
        return float(large) / float(small)


@pytest.fixture(scope="session")
def sheet_of():
    """Return a drawing read back from its SVG."""
    return lambda drawing: Sheet(svg(drawing))


@pytest.fixture(scope="session")
def estimated(headings, request_reader):
    """Return the estimate of a request: of an example by its name, or of a body."""

    def estimate(given):
        body = (EXAMPLES / f"{given}.json").read_bytes() if isinstance(given, str) else json.dumps(given).encode()
        return workroom.estimate(request_reader.read("estimate", body), headings)

    return estimate


@pytest.fixture
def job():
    """The request of the first example, to be changed."""
    return json.loads((EXAMPLES / "estimate.json").read_text())


@pytest.fixture(scope="session")
def millimetres():
    """Millimetres in one of each unit."""
    return MILLIMETRES
