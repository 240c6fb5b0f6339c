"""What a query asks of a heading's figures: their units, and the thickness of the cloth."""

from typing import Final

from pleatwright.contract import problems
from pleatwright.contract.scalars import why_not
from pleatwright.faults import Fault
from pleatwright.lengths import INCH, UNITS, LengthError, Units, parse_length, quoted
from pleatwright.web.failures import AnyRequest, RefusedError

THICKEST: Final = INCH
"""The thickest cloth that a stack is reckoned for."""


def units_and_thickness(request: AnyRequest) -> tuple[Units, int | None]:
    """Return what the query asks of a heading's figures: its units, and the thickness of the cloth, if given."""
    faults = []
    for name, value in sorted(request.query_params.multi_items()):
        if name not in ("units", "cloth_thickness"):
            detail = "there is no parameter of this name: leave it out"
            faults.append(Fault((name[:40],), detail, str(value)[:40], "units, cloth_thickness"))
        elif len(request.query_params.getall(name)) > 1:
            faults.append(Fault((name,), "this is given more than once: give it once", str(value)[:40]))
    if faults:
        raise RefusedError(problems.problem(400, faults=faults))
    units = _units(request.query_params.get("units", UNITS[0]))
    return units, _cloth_thickness(request.query_params.get("cloth_thickness"), units)


def _units(asked: str) -> Units:
    for units in UNITS:
        if units == asked:
            return units
    choices = ", ".join(UNITS)
    fault = Fault(("units",), f"this is not one of the choices: choose {choices}", asked[:40], choices)
    raise RefusedError(problems.problem(400, faults=[fault]))


def _cloth_thickness(asked: str | None, units: Units) -> int | None:
    if asked is None:
        return None
    where = ("cloth_thickness",)
    try:
        thickness = parse_length(asked, units)
    except LengthError as error:
        status = 400 if why_not("Length", asked, units) else 422
        raise RefusedError(problems.problem(status, faults=[Fault(where, str(error), quoted(asked))])) from None
    if not 0 < thickness <= THICKEST:
        detail = "a cloth is thicker than nothing and up to 1 in (25.4 mm): measure it"
        raise RefusedError(problems.problem(422, faults=[Fault(where, detail, quoted(asked), "up to 1 in")]))
    return thickness
