"""Minor units against ISO 4217's own table; rounding against fractions and the examples of Python's documentation."""

from decimal import ROUND_UP, Context, Decimal, localcontext
from fractions import Fraction

import iso4217
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.pricing.currency import MODES, CurrencyError, minor_units, rounded

REPEATABLE = settings(derandomize=True, database=None, deadline=None)


def by_fractions(value, decimals, rounding):
    """Round without decimal: whole numbers of the smallest unit, and what is over."""
    whole, over = divmod(abs(value) * 10**decimals, 1)
    half = Fraction(1, 2)
    away = {
        "up": over > 0,
        "down": False,
        "half-up": over >= half,
        "half-even": over > half or (over == half and whole % 2 == 1),
    }[rounding]
    units = Fraction(whole + away, 10**decimals)
    return -units if value < 0 else units


TABLE = {
    entry.findtext("Ccy"): entry.findtext("CcyMnrUnts")
    for entry in iso4217.raw_xml.iterfind("CcyTbl/CcyNtry")
    if entry.findtext("Ccy")
}


def test_the_table_is_there():
    assert len(TABLE) > 150
    assert TABLE["XAU"] == "N.A."


@pytest.mark.parametrize("code", [code for code, units in TABLE.items() if units != "N.A."])
def test_minor_units_are_those_of_the_table(code):
    assert minor_units(code) == int(TABLE[code])


@pytest.mark.parametrize("code", [code for code, units in TABLE.items() if units == "N.A."])
def test_what_has_no_minor_unit_cannot_be_priced_in(code):
    with pytest.raises(CurrencyError, match="no minor unit"):
        minor_units(code)


# ISO 4217, list one, from memory.
@pytest.mark.parametrize(("code", "units"), [("GBP", 2), ("USD", 2), ("JPY", 0), ("KWD", 3), ("CLF", 4), ("ISK", 0)])
def test_minor_units_that_are_known(code, units):
    assert minor_units(code) == units


@pytest.mark.parametrize("code", ["", "gbp", "GB", "ZZZ", "£", "GBP ", "name", "__class__", "826", "mro_"])
def test_what_is_no_code_is_refused_without_repeating_it(code):
    with pytest.raises(CurrencyError, match="three capital letters") as caught:
        minor_units(code)
    assert not code.strip() or f" {code.strip()} " not in str(caught.value).replace("such as GBP", "")


@pytest.mark.parametrize(
    ("value", "decimals", "rounding", "expected"),
    [
        # Python's documentation of decimal: quick-start tutorial (quantize), and FAQ (rounding to two places).
        ("7.325", 2, "down", "7.32"),
        ("7.325", 0, "up", "8"),
        ("3.214", 2, "half-even", "3.21"),
        # The same, Context.quantize.
        ("2.17", 3, "half-even", "2.170"),
        ("2.17", 2, "half-even", "2.17"),
        ("2.17", 1, "half-even", "2.2"),
        ("2.17", 0, "half-even", "2"),
        ("217", 1, "half-even", "217.0"),
        # The meaning of each rule, at a half and beside it.
        ("0.125", 2, "half-up", "0.13"),
        ("0.125", 2, "half-even", "0.12"),
        ("0.135", 2, "half-even", "0.14"),
        ("0.1250001", 2, "half-even", "0.13"),
        ("0.121", 2, "up", "0.13"),
        ("0.129", 2, "down", "0.12"),
        ("0.12", 2, "up", "0.12"),
        ("-0.125", 2, "half-up", "-0.13"),
        ("-0.125", 2, "half-even", "-0.12"),
        ("-0.121", 2, "up", "-0.13"),
        ("-0.129", 2, "down", "-0.12"),
        ("1234.5", 0, "half-up", "1235"),
        ("1234.5", 0, "half-even", "1234"),
    ],
)
def test_rounding_by_each_rule(value, decimals, rounding, expected):
    assert str(rounded(Decimal(value), decimals, rounding)) == expected


@pytest.mark.parametrize("rounding", MODES)
def test_nothing_is_not_negative(rounding):
    assert str(rounded(Decimal("-0.00"), 2, rounding)) == "0.00"
    assert str(rounded(Decimal("-0.001"), 2, "half-up")) == "0.00"


@REPEATABLE
@given(st.integers(-(10**30), 10**30), st.integers(0, 9), st.integers(0, 4), st.sampled_from(sorted(MODES)))
def test_rounding_is_what_fractions_give(coefficient, places, decimals, rounding):
    value = Decimal(coefficient).scaleb(-places, Context(prec=60))
    found = rounded(value, decimals, rounding)
    assert Fraction(found) == by_fractions(Fraction(coefficient, 10**places), decimals, rounding)
    assert found.as_tuple().exponent == -decimals


def test_the_callers_context_changes_nothing():
    with localcontext(Context(prec=3, rounding=ROUND_UP)):
        assert str(rounded(Decimal("123456.785"), 2, "half-even")) == "123456.78"
