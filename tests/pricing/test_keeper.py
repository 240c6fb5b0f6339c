"""The book in force, with real files: replaced, rewritten, cut short, gone and back; nothing told holds a figure."""

import logging
import os
from pathlib import Path
from types import SimpleNamespace

import pytest

from pleatwright.faults import Fault
from pleatwright.pricing import keeper as room
from pleatwright.pricing.book import BookError
from pleatwright.pricing.keeper import Keeper

BOOK = """\
edition = "{edition}"
currency = "GBP"
rounding = "half-up"
cost_per_hour = {cost}
[[hardware]]
kind = "hook"
per = "each"
cost = 0.0377
"""
FIGURES = ("18.57", "19.57", "-18.57", "0.0377")
LONG_AGO = 10**18
"""In nanoseconds since 1970: 2001."""


def book(edition="Spring", cost="18.57"):
    return BOOK.format(edition=edition, cost=cost)


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "rates.toml"
    path.write_text(book())
    return path


@pytest.fixture
def logged(caplog):
    """Return a function that gives what was logged of troubles, once nothing logged has been found to hold a figure."""
    caplog.set_level(logging.DEBUG)

    def messages():
        assert not any(figure in caplog.text for figure in FIGURES)
        return [each.getMessage() for each in caplog.records if each.levelno >= logging.WARNING]

    return messages


def settled(path, when=LONG_AGO):
    """Give a file a time of change that no later change can share."""
    os.utime(path, ns=(when, when))


def renamed_over(path, text):
    beside = path.with_name("new.toml")
    beside.write_text(text)
    beside.replace(path)


def in_place(path, text):
    with path.open("r+") as file:
        file.truncate(0)
        file.write(text)


def test_the_book_is_that_of_the_file(path, logged):
    keeper = Keeper(path)
    assert keeper.current().edition == "Spring"
    assert keeper.current() is keeper.current()
    assert keeper.trouble is None
    assert logged() == []


@pytest.mark.parametrize("change", [renamed_over, in_place])
def test_a_changed_file_is_taken_at_the_next_call(change, path, logged):
    settled(path)
    keeper = Keeper(path)
    before = keeper.current()
    change(path, book("Summer"))
    after = keeper.current()
    assert (before.edition, after.edition) == ("Spring", "Summer")
    assert keeper.current() is after
    assert keeper.trouble is None
    assert logged() == []


def test_who_has_taken_a_book_keeps_it(path):
    keeper = Keeper(path)
    taken = keeper.current()
    renamed_over(path, book("Summer", "19.57"))
    assert str(keeper.current().rates.cost_per_hour) == "19.57"
    assert (taken.edition, str(taken.rates.cost_per_hour)) == ("Spring", "18.57")


def test_a_rewrite_within_the_tick_of_the_clock_is_seen(path):
    """Of the same length, in the same file, with the same time of change."""
    keeper = Keeper(path)
    found = path.stat()
    in_place(path, book(cost="19.57"))
    os.utime(path, ns=(found.st_atime_ns, found.st_mtime_ns))
    again = path.stat()
    assert (found.st_mtime_ns, found.st_size, found.st_ino) == (again.st_mtime_ns, again.st_size, again.st_ino)
    assert str(keeper.current().rates.cost_per_hour) == "19.57"


@pytest.mark.parametrize("what", ["time", "size", "file"])
def test_each_sign_of_a_change_is_enough(what, path):
    settled(path)
    keeper = Keeper(path)
    if what == "file":
        renamed_over(path, book(cost="19.57"))
        settled(path)
    elif what == "size":
        in_place(path, book("Summertime", cost="19.57"))
        settled(path)
    else:
        in_place(path, book(cost="19.57"))
        settled(path, LONG_AGO + 1)
    assert str(keeper.current().rates.cost_per_hour) == "19.57"


def test_a_file_that_has_not_changed_is_not_read_again(path, monkeypatch):
    settled(path)
    keeper = Keeper(path)
    opened = []
    monkeypatch.setattr(room, "_read", lambda path: opened.append(path) or (None, path.read_bytes()))
    for _ in range(3):
        keeper.current()
    assert opened == []
    settled(path, LONG_AGO + 1)
    keeper.current()
    assert opened == [path]


def test_a_file_that_was_only_touched_gives_the_same_book(path):
    keeper = Keeper(path)
    before = keeper.current()
    settled(path)
    assert keeper.current() is before


def test_a_faulty_change_is_told_once_and_the_last_sound_book_kept(path, logged):
    keeper = Keeper(path)
    before = keeper.current()
    renamed_over(path, book(cost="-18.57") + 'nme = "x"\n')
    for _ in range(3):
        assert keeper.current() is before
    (told,) = logged()
    assert "/cost_per_hour: this cannot be negative" in told
    assert "/hardware/0/nme: there is no field of this name" in told
    assert keeper.trouble == told
    renamed_over(path, book(cost="-18.57"))
    keeper.current()
    assert len(logged()) == 2
    assert "nme" not in keeper.trouble
    settled(path)
    keeper.current()
    assert len(logged()) == 2, "touched, and not changed"
    renamed_over(path, book("Summer"))
    assert keeper.current().edition == "Summer"
    assert keeper.trouble is None


def test_a_trouble_is_over_when_the_book_in_force_is_put_back(path):
    keeper = Keeper(path)
    before = keeper.current()
    renamed_over(path, "half a bo")
    keeper.current()
    assert "line 1" in keeper.trouble
    renamed_over(path, book())
    assert keeper.current().digest == before.digest
    assert keeper.trouble is None


@pytest.mark.parametrize("length", range(len(book()) - 1))
def test_a_file_cut_short_within_a_line_is_not_taken(length, path, logged):
    """Between two lines a cut cannot be told from an edit; within one, 18.5 could be 18.57 cut short."""
    whole = book()
    keeper = Keeper(path)
    before = keeper.current()
    in_place(path, whole[:length])
    after = keeper.current()
    if after is before:
        assert len(logged()) == 1
        assert keeper.trouble == logged()[0]
    else:
        assert whole[length - 1] == "\n"
        assert after.rates.cost_per_hour == before.rates.cost_per_hour
    in_place(path, whole)
    assert keeper.current().digest == before.digest
    assert keeper.trouble is None


def test_an_empty_file_is_no_book(path, logged):
    keeper = Keeper(path)
    in_place(path, "")
    assert keeper.current().edition == "Spring"
    assert "edition is missing" in keeper.trouble


def test_a_file_that_is_gone_is_told_once_and_taken_when_it_is_back(path, logged):
    keeper = Keeper(path)
    before = keeper.current()
    path.unlink()
    for _ in range(3):
        assert keeper.current() is before
    assert logged() == [keeper.trouble]
    assert "No such file" in keeper.trouble
    assert str(path.parent) not in keeper.trouble
    path.write_text(book())
    assert keeper.current().edition == "Spring"
    assert keeper.trouble is None
    path.unlink()
    keeper.current()
    assert len(logged()) == 2
    path.write_text(book("Summer"))
    assert keeper.current().edition == "Summer"


def test_a_file_that_is_back_faulty_is_told(path, logged):
    keeper = Keeper(path)
    path.unlink()
    keeper.current()
    path.write_text(book(cost="-18.57"))
    assert keeper.current().edition == "Spring"
    assert "cannot be negative" in keeper.trouble
    assert len(logged()) == 2


def test_a_folder_in_the_file_s_place_is_told(path):
    keeper = Keeper(path)
    path.unlink()
    path.mkdir()
    assert keeper.current().edition == "Spring"
    assert "Is a directory" in keeper.trouble


def test_a_link_that_is_turned_to_another_file_is_followed(path, tmp_path):
    """As a mounted configuration is renewed in a cluster."""
    link, other = tmp_path / "link.toml", tmp_path / "other.toml"
    link.symlink_to(path)
    keeper = Keeper(link)
    other.write_text(book("Summer"))
    turned = tmp_path / "turned.toml"
    turned.symlink_to(other)
    turned.replace(link)
    assert keeper.current().edition == "Summer"


def test_a_faulty_book_at_the_start_is_refused(path):
    path.write_text(book(cost="-18.57"))
    with pytest.raises(BookError, match="cannot be negative") as caught:
        Keeper(path)
    assert not any(figure in str(caught.value) for figure in FIGURES)


def test_a_book_that_is_not_there_at_the_start_is_refused(tmp_path):
    with pytest.raises(BookError, match="No such file") as caught:
        Keeper(tmp_path / "rates.toml")
    assert len(caught.value.faults) == 1


def test_what_a_layer_above_finds_is_a_fault_like_any_other(path, logged):
    def check(book):
        return [] if book.edition == "Spring" else [Fault(("edition",), "not this one", book.edition)]

    keeper = Keeper(path, check)
    renamed_over(path, book("Summer"))
    assert keeper.current().edition == "Spring"
    assert "/edition: not this one" in keeper.trouble
    assert "Summer" not in keeper.trouble
    with pytest.raises(BookError, match="not this one"):
        Keeper(path, check)


def test_names_that_only_the_file_has_are_not_told(path, logged):
    keeper = Keeper(path)
    renamed_over(path, '"18.57" = 1\n"a\\nb" = 2\n[hardwear]\n' + book())
    keeper.current()
    assert "/hardwear" in keeper.trouble
    assert "\n" not in keeper.trouble
    assert len(logged()) == 1


def test_what_cannot_be_asked_of_the_file_system_raises_nothing(path, monkeypatch):
    keeper = Keeper(path)

    def refused(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(keeper, "_path", SimpleNamespace(stat=refused))
    assert keeper.current().edition == "Spring"
    assert "Permission denied" in keeper.trouble
    monkeypatch.setattr(keeper, "_path", path)
    monkeypatch.setattr(Path, "open", refused)
    assert keeper.current().edition == "Spring"
    assert "Permission denied" in keeper.trouble
