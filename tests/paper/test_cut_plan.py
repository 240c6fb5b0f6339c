"""The cut plan: cuts, pattern and flaws where the reply has them along each piece."""

import pytest

from pleatwright.lengths import from_units, parse_length
from pleatwright.paper.drawings import cut_plan, layer_plan


@pytest.fixture
def shelf(job):
    """A job cut from pieces on the shelf, with flaws, of a half-drop pattern."""
    job["windows"][0]["rod"]["width"] = "96"
    job["fabrics"]["Teasel, rust on oat"] |= {
        "drop_match": "1/2",
        "bolts": [
            {
                "label": "A",
                "length": "520",
                "lot": "7",
                "phase": "6",
                "flaws": [{"start": "140", "end": "143"}, {"start": "300"}],
            },
            {"label": "B", "length": "420", "lot": "7", "flaws": [{"start": "12"}]},
        ],
    }
    return job


def places(sheet, unit):
    """Where the edges of each cut are along its piece, by the cut's number; pieces are drawn in one strip here."""
    left = min(x for _, x, *_ in sheet.lines("piece end"))
    found = {}
    for of, x, *_ in sheet.lines(r"cut \d+ edge"):
        found.setdefault(int(of.split()[1]), []).append((x - left) / unit)
    return {number: sorted(edges) for number, edges in found.items()}


def test_cuts_from_pieces_with_flaws_are_where_the_reply_has_them(estimated, sheet_of, shelf):
    fabric = estimated(shelf).materials.fabrics[0]
    sheet = sheet_of(cut_plan(fabric, "in"))
    unit = 25.4 / sheet.scale
    cuts = [cut for bolt in fabric.shelf.bolts for cut in bolt.cuts]
    drawn = places(sheet, unit)
    assert drawn.keys() == {cut.cut for cut in cuts}
    assert len(cuts) == 5
    for cut in cuts:
        assert drawn[cut.cut] == pytest.approx([cut.start, cut.end], abs=0.03)
    assert sorted(int(word.text) for _, word in sheet.words(r"cut \d+ number")) == sorted(drawn)
    assert [rectangle[3] for rectangle in sheet.rectangles("cloth")] == pytest.approx(
        [bolt.length * unit for bolt in fabric.shelf.bolts], abs=0.003
    )
    assert {rectangle[4] for rectangle in sheet.rectangles("cloth")} == {round(54 * unit, 3)}
    left = sheet.rectangles("cloth")[0][1]
    flaws = {of: (x - left, width) for of, x, _, width, _ in sheet.rectangles("flaw .*")}
    assert flaws == {
        "flaw 140 to 143": pytest.approx((140 * unit, 3 * unit), abs=0.003),
        "flaw 300": pytest.approx((300 * unit, 0), abs=0.003),
        "flaw 12": pytest.approx((12 * unit, 0), abs=0.003),
    }
    assert sorted(word.text for _, word in sheet.words("flaw")) == ["flaw 12", "flaw 140 to 143", "flaw 300"]
    titles = [word.text for _, word in sheet.words("piece")]
    assert titles[0].startswith("Piece A, lot 7: 520 long, 262 3/4 left over")


def test_each_cut_starts_at_its_phase_of_the_pattern(estimated, sheet_of, shelf):
    fabric = estimated(shelf).materials.fabrics[0]
    sheet = sheet_of(cut_plan(fabric, "in"))
    unit = 25.4 / sheet.scale
    lines = sheet.strokes("pattern")
    assert len({round(start[1]) for start, _ in lines}) == 2, "in both pieces"
    checked = 0
    for bolt, (_, left, top, *_) in zip(fabric.shelf.bolts, sheet.rectangles("cloth"), strict=True):
        starts = [(start[0] - left) / unit for start, _ in lines if start[1] == top]
        for cut in bolt.cuts:
            since = min((cut.start - at) % fabric.vertical_repeat for at in starts)
            # Cuts start on the divisions of the rule; the pattern does not.
            away = min(abs(since - cut.phase), fabric.vertical_repeat - abs(since - cut.phase))
            assert away < 0.09, cut
            checked += cut.phase > 0
    assert checked, "a half-drop has cuts that start within the repeat"


def test_a_run_starts_at_the_phase_of_its_first_cut(estimated, sheet_of, job):
    job["fabrics"]["Teasel, rust on oat"]["motif"] = {"at": "5", "height": "4", "below_heading": "6"}
    fabric = estimated(job).materials.fabrics[0]
    first = fabric.sequence[0]
    assert first.phase
    sheet = sheet_of(cut_plan(fabric, "in"))
    unit = 25.4 / sheet.scale
    _, left, top, *_ = sheet.rectangles("cloth")[0]
    lines = sorted((start[0] - left) / unit for start, _ in sheet.strokes("pattern") if start[1] == top)
    assert lines[0] == pytest.approx(first.start + fabric.vertical_repeat - first.phase, abs=0.03)
    assert lines[1] - lines[0] == pytest.approx(fabric.vertical_repeat, abs=0.03)


def test_halves_are_where_they_are_on_the_cloth(estimated, sheet_of, shelf):
    sheet = sheet_of(cut_plan(estimated(shelf).materials.fabrics[0], "in"))
    ((split, _, at, *_),) = sheet.lines(r"cut \d+ split")
    halves = {
        "left" if "(left half)" in word.text else "right": word.y
        for _, word in sheet.words(f"{split.removesuffix(' split')} for")
    }
    # The cut's top is at the left of the paper: turned with its top away from you, its left half is the lower one.
    assert halves["right"] < at < halves["left"]


def test_a_run_is_written_as_the_tape_shows_it(estimated, sheet_of):
    reply = estimated("cloth/estimate-twelve-windows")
    for fabric in reply.materials.fabrics:
        if fabric.shelf and fabric.shelf.bolts:
            continue
        drawing = cut_plan(fabric, reply.units)
        sheet = sheet_of(drawing)
        written = {parse_length(word.text, reply.units) for _, word in sheet.words("along")}
        ends = {from_units(at, reply.units) for cut in fabric.sequence for at in (cut.start, cut.end)}
        assert written == ends
        numbers = sorted(int(word.text) for _, word in sheet.words(r"cut \d+ number"))
        assert numbers == sorted(cut.cut for cut in fabric.sequence)
        assert len(drawing.breaks) == len(sheet.words("piece")) - 1 > 3
        total = sum(rectangle[3] for rectangle in sheet.rectangles("cloth"))
        unit = {"in": 25.4, "cm": 10, "mm": 1}[reply.units] / sheet.scale
        assert total == pytest.approx(fabric.run_length * unit, abs=0.01), "the strips make up the run"


def test_what_lies_between_cuts_is_hatched(estimated, sheet_of):
    fabric = estimated("estimate").materials.fabrics[0]
    assert "Hatched: lost" in sheet_of(cut_plan(fabric, "in")).word("notes")
    plain = estimated("headings/estimate-rods").materials.fabrics[0]
    assert "Hatched" not in sheet_of(cut_plan(plain, "in")).word("notes")


def test_layers_are_cut_in_one_run(estimated, sheet_of):
    reply = estimated("estimate")
    (layer,) = reply.materials.layers
    sheet = sheet_of(layer_plan(layer, "in"))
    assert sheet.word("heading") == f"Cut plan, lining, {layer.cuts} cuts"
    drawn = {of for of, _ in sheet.words(r"cut \d+ number")}
    assert drawn == {f"cut {cut.cut} number" for cut in layer.sequence}
    assert layer.quantity in sheet.words("piece")[0][1].text
