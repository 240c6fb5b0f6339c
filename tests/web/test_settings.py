"""Settings come from the environment, and every one that cannot be used is named."""

import pytest

from pleatwright.web.settings import Settings, SettingsError, settings_from


def test_without_variables_the_usual_settings_hold():
    assert settings_from({}) == Settings(strict=False, largest_request=256 * 1024)


def test_other_variables_are_let_be():
    assert (
        settings_from({"PATH": "/bin", "STRICT": "1", "pleatwright_strict": "1", "PLEATWRIGHT_ENV": "x"}) == Settings()
    )


@pytest.mark.parametrize(("text", "strict"), [("0", False), ("1", True)])
def test_strict_is_0_or_1(text, strict):
    assert settings_from({"PLEATWRIGHT_STRICT": text}).strict is strict


@pytest.mark.parametrize("text", ["", "2", "yes", "true", "True", "on", " 1", "01", "-1", "１"])
def test_any_other_strict_is_refused_with_what_to_set(text):
    with pytest.raises(SettingsError) as caught:
        settings_from({"PLEATWRIGHT_STRICT": text})
    assert "PLEATWRIGHT_STRICT" in str(caught.value)
    assert repr(text) in str(caught.value)
    assert "0 or 1" in str(caught.value)


@pytest.mark.parametrize(("text", "largest"), [("1024", 1024), ("65536", 65_536), ("99999999999", 99_999_999_999)])
def test_the_largest_request_is_a_number_of_bytes(text, largest):
    assert settings_from({"PLEATWRIGHT_LARGEST_REQUEST": text}).largest_request == largest


@pytest.mark.parametrize(
    "text",
    [
        "",
        "0",
        "1023",
        "-1024",
        "+2048",
        "1e6",
        "64k",
        "2048.0",
        " 2048",
        "1_000_000",
        "٢٠٤٨",
        "²",
        "9" * 12,
        "9" * 5000,
    ],
)
def test_any_other_largest_request_is_refused_with_what_to_set(text):
    with pytest.raises(SettingsError) as caught:
        settings_from({"PLEATWRIGHT_LARGEST_REQUEST": text})
    assert "PLEATWRIGHT_LARGEST_REQUEST" in str(caught.value)
    assert "1024 or more" in str(caught.value)


def test_every_fault_is_named_at_once():
    with pytest.raises(SettingsError) as caught:
        settings_from({"PLEATWRIGHT_STRICT": "maybe", "PLEATWRIGHT_LARGEST_REQUEST": "huge"})
    for word in ("PLEATWRIGHT_STRICT", "'maybe'", "PLEATWRIGHT_LARGEST_REQUEST", "'huge'"):
        assert word in str(caught.value)
