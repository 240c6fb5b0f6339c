"""The marking tape read back from its PDF: every mark is where the reply has it, to a tenth of a millimetre.

Places are read off the paper as a maker does: from the end of a strip, whose own place is written below it.
"""

import io
import re
from fractions import Fraction
from itertools import pairwise

import pdfplumber
import pytest

from pleatwright import workroom
from pleatwright.contract.papers import PDF, PaperAsked
from pleatwright.faults import Impossible
from pleatwright.lengths import GRID
from pleatwright.paper.making import MOST_SHEETS, job_paper, panel_paper
from pleatwright.paper.pdf import pages
from pleatwright.paper.tape import sheets_of, tape

POINT = 25.4 / 72
EDGE, MARK, SEAM, FOLD, CENTRE, THIN = 0.55, 0.45, 0.4, 0.28, 0.22, 0.16
NEAR = 0.1
SHEETS = {"a4": (297, 210), "letter": (279.4, 215.9)}


def number(text):
    """The value of 3 1/2, as a maker reads it."""
    return float(sum(Fraction(part) for part in text.split()))


class Strip:
    """A strip as it lies on a page: `start` and `end` as written below it, and its corners on paper, in millimetres."""

    def __init__(self, page, words, x_unit):
        found = re.fullmatch(r"strip (\d+) of (\d+): ([\d /.]+) (?:in|cm|mm) to ([\d /.]+) (?:in|cm|mm)", words)
        self.number, self.count = int(found[1]), int(found[2])
        self.start, self.end = number(found[3]) * x_unit, number(found[4]) * x_unit
        self.way = 1 if self.end > self.start else -1


def near(width, wanted):
    return abs(width * POINT - wanted) < 0.01


def read(data, unit):
    """Return the strips of a tape, and the places on each from the leading edge, by what is there."""
    found = []
    with pdfplumber.open(io.BytesIO(data)) as document:
        for page in document.pages:
            lines = [
                (each["x0"] * POINT, each["top"] * POINT, each["x1"] * POINT, each["bottom"] * POINT, each["linewidth"])
                for each in page.lines
            ]
            level = sorted({(y, x, to) for x, y, to, bottom, width in lines if near(width, EDGE) and bottom - y < 0.01})
            texts = re.findall(
                r"strip \d+ of \d+: [\d /.]+ \w+ to [\d /.]+ (?:in|cm|mm)", page.extract_text().replace("\n", " ")
            )
            assert len(level) == len(texts), "a strip has one upper edge and one line that says its place"
            dots = [
                ((each["x0"] + each["x1"]) / 2 * POINT, (each["top"] + each["bottom"]) / 2 * POINT)
                for each in page.curves
                if each["fill"] and near(each["width"], 2.2)
            ]
            for (top, left, right), words in zip(level, texts, strict=True):
                strip = Strip(page, words, unit)
                strip.left, strip.right, strip.width = left, right, page.width * POINT

                def upright(wanted, strip=strip, top=top, lines=lines):
                    return sorted(
                        {
                            round(strip.start + strip.way * (x - strip.left), 3)
                            for x, y, to, bottom, width in lines
                            if near(width, wanted)
                            and abs(to - x) < 0.01
                            and abs(y - top) < 0.01
                            and -0.01 < x - strip.left < strip.right - strip.left + 0.01
                        }
                    )

                strip.marks, strip.seams, strip.centres = upright(MARK), upright(SEAM), upright(CENTRE)
                strip.pins = sorted(
                    strip.start + strip.way * (x - left)
                    for x, y in dots
                    if top < y < top + 34 and left - 2 < x < right + 2
                )
                found.append(strip)
    return found


def places(strips, kind):
    """Every place of a kind, one where two strips meet once."""
    found = []
    for place in sorted(place for strip in strips for place in getattr(strip, kind)):
        if not found or place - found[-1] > 0.02:
            found.append(place)
    return found


def agree(found, wanted):
    wanted = sorted(set(wanted))
    assert len(found) == len(wanted), (found, wanted)
    assert all(abs(one - other) < NEAR for one, other in zip(found, wanted, strict=True)), (found, wanted)


JOBS = ["estimate", "estimate-metric", "headings/estimate-rods", "estimate-two-layers"]


@pytest.mark.parametrize("sheet", ["a4", "letter", "roll"])
@pytest.mark.parametrize("job", JOBS)
def test_every_mark_is_within_a_tenth_of_a_millimetre_of_the_reply(job, sheet, estimated):
    reply = estimated(job)
    unit = GRID[reply.units] / GRID["mm"]
    for window in reply.windows:
        for panel in window.panels:
            flat = panel.pleats.stations[-1].end * unit

            data = pages("Tape", tape(panel.pleats, panel.pins.pins, panel.side, ["Bay"], reply.units, sheet))
            strips = read(data, unit)
            assert [strip.number for strip in strips] == list(range(1, strips[0].count + 1))
            ends = strips[0].start, strips[-1].end
            assert sorted(round(end, 1) for end in ends) == [0, round(flat, 1)]
            assert (ends[0] > ends[1]) == (panel.side == "left")
            for one, following in pairwise(strips):
                assert abs(one.end - following.start) < NEAR
            for strip in strips:
                assert abs(abs(strip.end - strip.start) - (strip.right - strip.left)) < NEAR
            hooks = panel.pins.pins if panel.pleats.layout == "gathers" else []
            ends = [station.end for station in panel.pleats.stations] + [hook.flat for hook in hooks]
            agree(places(strips, "marks"), [end * unit for end in ends])
            agree(places(strips, "seams"), [seam.at * unit for seam in panel.pleats.seams])
            centres = [station.centre for station in panel.pleats.stations if station.kind == "pleat"]
            if panel.pleats.layout == "points":
                centres = [point.flat for point in panel.pleats.hanging_points if point.flat not in ends]
            agree(places(strips, "centres"), [centre * unit for centre in centres])
            agree(places(strips, "pins"), [pin.flat * unit for pin in panel.pins.pins])


@pytest.mark.parametrize("sheet", ["a4", "letter", "roll"])
def test_each_page_has_bars_to_check_the_printer_by_of_exactly_100_mm_and_4_in(sheet, estimated):
    panel = estimated("estimate").windows[0].panels[0]
    data = pages("Tape", tape(panel.pleats, panel.pins.pins, panel.side, [], "in", sheet))
    with pdfplumber.open(io.BytesIO(data)) as document:
        for page in document.pages:
            if sheet in SHEETS:
                assert [round(size * POINT, 1) for size in (page.width, page.height)] == list(SHEETS[sheet])
            bars = sorted(
                round((each["x1"] - each["x0"]) * POINT, 2)
                for each in page.lines
                if near(each["linewidth"], FOLD) and each["bottom"] - each["top"] < 0.01
            )
            assert bars == pytest.approx([100.0, 4 * 25.4], abs=0.02)
            words = page.extract_text().split()
            assert {("100", "mm"), ("4", "in")} <= set(pairwise(words))


def test_all_but_the_last_strip_has_a_lap_that_says_what_is_glued_there(estimated):
    panel = estimated("estimate").windows[0].panels[1]
    drawings = tape(panel.pleats, panel.pins.pins, panel.side, [], "in", "a4")
    words = [shape.text for drawing in drawings for shape in drawing.shapes if hasattr(shape, "text")]
    count = int(re.search(r"of (\d+)$", next(each for each in words if each.startswith("Marking tape")))[1])
    assert [each for each in words if each.startswith("glue")] == [
        f"glue strip {each} here" for each in range(2, count + 1)
    ]
    assert [each for each in words if each in ("leading edge", "return edge")] == ["leading edge", "return edge"]
    assert len(drawings) == sheets_of(panel.pleats, "in", "a4")


def test_pleats_pins_and_seams_carry_their_numbers(estimated):
    panel = estimated("estimate").windows[0].panels[0]
    drawings = tape(panel.pleats, panel.pins.pins, panel.side, [], "in", "roll")
    words = [shape.text for drawing in drawings for shape in drawing.shapes if hasattr(shape, "text")]
    assert {f"pin {each}" for each in range(1, panel.pins.pin_count + 1)} <= set(words)
    assert {str(each) for each in range(1, panel.pleats.pleat_count + 1)} <= set(words)
    assert {f"seam {each}" for each in range(1, len(panel.seams) + 1)} <= set(words)


def test_a_page_from_a_roll_is_never_longer_than_a_pdf_page_can_be(estimated, job):
    job["windows"][0]["make_up"] = {"width_count": 30}
    job["windows"][0]["rod"]["width"] = "1300"
    panel = estimated(job).windows[0].panels[0]
    drawings = tape(panel.pleats, panel.pins.pins, panel.side, [], "in", "roll")
    assert len(drawings) > 1
    # ISO 32000-1, annex C.2: 14 400 units, each 1/72 in.
    assert all(drawing.width <= 14_400 * POINT for drawing in drawings)
    agree(
        places(read(pages("Tape", drawings), 25.4), "seams"),
        [seam.at * 25.4 for seam in panel.pleats.seams],
    )


def test_a_tape_that_would_take_a_ream_is_refused_with_what_to_ask_for(estimated, job):
    [window] = job["windows"]
    window["rod"]["width"] = "2000"
    window["make_up"] = {"width_count": 60}
    job["windows"] = [window | {"label": f"Bay {number}"} for number in range(4)]
    reply = estimated(job)
    with pytest.raises(Impossible, match=f"there may be {MOST_SHEETS}: ask for one window"):
        job_paper(reply, {}, PaperAsked(), PDF)
    assert job_paper(reply, {}, PaperAsked(window=2, panel=1), PDF).startswith(b"%PDF")


@pytest.mark.parametrize(("style", "word"), [("eyelet", None), ("wave", None), ("pencil", "hook"), ("goblet", "pin")])
def test_whatever_carries_the_panel_is_numbered(style, word, estimated, job):
    [window] = job["windows"]
    for settled in ("fullness", "hang", "make_up", "pin"):
        window.pop(settled, None)
    window |= {"heading": {"style": style}, "hang": {"drop": "84"}}
    window["rod"].pop("overlap", None)
    panel = estimated(job).windows[0].panels[0]
    drawings = tape(panel.pleats, panel.pins.pins, panel.side, [], "in", "roll")
    words = [shape.text for drawing in drawings for shape in drawing.shapes if hasattr(shape, "text")]
    count = len(panel.pleats.hanging_points)
    assert count > 5
    assert {f"{word} {each}" if word else str(each) for each in range(1, count + 1)} <= set(words)


def test_one_panel_has_as_many_sheets_at_the_most(headings, request_reader):
    body = (
        b"""{"units": "in", "heading": {"style": "rod-pocket"}, "flat_width": "800 yd", "finished_width": "320 yd"}"""
    )
    panel = workroom.pleats_paper(request_reader.read("pleats", body), headings, "right")
    with pytest.raises(Impossible, match=f"there may be {MOST_SHEETS}: print it on a roll"):
        panel_paper(panel, PaperAsked(), PDF)
    assert panel_paper(panel, PaperAsked(sheet="roll"), PDF).startswith(b"%PDF")
