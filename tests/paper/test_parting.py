"""A tall drawing parted for paper: nothing is lost, nothing stands twice, and nothing is cut through."""

import pytest

from pleatwright.paper.drawings import panel_flat, parted
from pleatwright.paper.drawings.shapes import Text


@pytest.fixture
def tall(estimated, job):
    job["windows"][0]["rod"]["width"] = "700"
    [window] = estimated(job).windows
    return panel_flat(window, window.panels[0], "in")


def words(drawing):
    return [(shape.text, shape.at[0]) for shape in drawing.shapes if isinstance(shape, Text)]


def test_a_drawing_that_fits_stays_as_it_is(tall):
    assert parted(tall, tall.height) == [tall]


@pytest.mark.parametrize("tallest", [150.0, 200.0, 320.0])
def test_parts_are_no_taller_than_asked_and_hold_all_of_it(tall, tallest):
    assert len(tall.breaks) > 2
    parts = parted(tall, tallest)
    assert len(parts) > 1
    # Each part has white of its own: 9 mm above all but the first, 4.5 mm below all but the last.
    assert sum(part.height for part in parts) == pytest.approx(tall.height + 13.5 * (len(parts) - 1))
    assert sorted(each for part in parts for each in words(part)) == sorted(words(tall))
    assert sum(len(part.shapes) for part in parts) == len(tall.shapes)
    alone = max(after - before for before, after in zip([0.0, *tall.breaks], [*tall.breaks, tall.height], strict=True))
    assert all(part.height <= max(tallest, alone) + 13.5 for part in parts)
    assert [part.title.rpartition(". ")[2] for part in parts] == [
        f"Part {number} of {len(parts)}" for number in range(1, len(parts) + 1)
    ]


def test_no_word_of_a_part_stands_outside_it(tall):
    for part in parted(tall, 200.0):
        for shape in part.shapes:
            if isinstance(shape, Text):
                assert 9.0 < shape.at[1] <= part.height - 4.5, shape.text
