"""The command that checks a rate book: a summary of a sound one with its notes, or every fault with its place."""

from pathlib import Path

import pytest

from pleatwright.command import main

EXAMPLE = Path(__file__).parents[2] / "deploy" / "rates.example.toml"


def checked(path, capsys):
    status = main(["rates", "check", str(path)])
    out, err = capsys.readouterr()
    return status, out, err


def changed(tmp_path, *pairs):
    text = EXAMPLE.read_text()
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new, 1)
    path = tmp_path / "rates.toml"
    path.write_text(text)
    return path


def test_the_example_is_sound_and_needs_no_note(capsys):
    status, out, err = checked(EXAMPLE, capsys)
    assert (status, err) == (0, "")
    assert out == (
        f"{EXAMPLE}: sound\n"
        "  edition Larkfield, spring list (invented figures), in GBP, half-up to 2 decimals\n"
        "  entries: cloth 5, labour 6, surcharge 7, hardware 8, discount 2\n"
    )


def test_styles_that_do_not_meet_are_noted(tmp_path, capsys):
    path = changed(
        tmp_path,
        ('styles = ["goblet", "cartridge"]', 'styles = ["gobblet", "cartridge"]'),
        ('per = "hour"\n', 'styles = ["tulip"]\nper = "hour"\n'),
    )
    status, out, err = checked(path, capsys)
    assert (status, err) == (0, "")
    assert [line for line in out.splitlines() if line.startswith("note: ")] == [
        "note: /labour/1/styles/0: no style 'gobblet' is installed",
        "note: /labour/5/styles/0: no style 'tulip' is installed",
        "note: there is no labour rate for the style goblet",
        "note: there is no labour rate for the style tab-top",
    ]


def test_every_fault_is_told_with_its_place_what_was_seen_and_what_is_allowed(tmp_path, capsys):
    path = changed(
        tmp_path,
        ("cost = 24.00", "cost = -24.00"),
        ('name = "Trade"', 'name = "LARGE order"'),
        ('currency = "GBP"', 'currency = "XAU"'),
    )
    status, out, err = checked(path, capsys)
    assert (status, out) == (1, "")
    assert err.startswith(f"pleatwright: {path}: NOT SOUND\n")
    for words in (
        "pleatwright: /cloth/0/cost: this cannot be negative: leave out the minus sign\n    seen: -24.00\n",
        "pleatwright: /discount/1/name: this name is in the book already",
        "    seen: LARGE order\n    allowed: each name once\n",
        "pleatwright: /currency: ISO 4217 gives this no minor unit",
    ):
        assert words in err


def test_what_is_not_toml_is_told_with_its_line_and_the_reason(tmp_path, capsys):
    path = changed(tmp_path, ("[tax]", "[tax"))
    status, out, err = checked(path, capsys)
    assert (status, out) == (1, "")
    line = (
        EXAMPLE.read_text()
        .splitlines()
        .index("[tax]                           # leave the whole table out where there is none")
    )
    assert f"pleatwright: the file: this is not TOML from line {line + 1}, column 32" in err
    assert "    seen: Expected ']' at the end of a table declaration\n" in err


@pytest.mark.parametrize(("name", "reason"), [("rates.toml", "No such file or directory"), (".", "Is a directory")])
def test_a_file_that_cannot_be_read_is_told_in_words(name, reason, tmp_path, capsys):
    status, out, err = checked(tmp_path / name, capsys)
    assert (status, out) == (1, "")
    assert reason in err


@pytest.mark.parametrize("arguments", [["rates"], ["rates", "check"], ["rates", "mend", "rates.toml"]])
def test_a_command_that_is_not_known_is_refused(arguments, capsys):
    with pytest.raises(SystemExit) as caught:
        main(arguments)
    assert caught.value.code == 2
