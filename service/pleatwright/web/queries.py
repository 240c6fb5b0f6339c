"""What a query asks: which paper of a reply, or the units and the cloth that a heading's figures are for."""

import re
from collections.abc import Mapping, Sequence
from typing import Any, Final, cast

from pleatwright.contract import problems
from pleatwright.contract.operations import UNITS_AND_THICKNESS
from pleatwright.contract.papers import PaperAsked, Parameter
from pleatwright.contract.scalars import why_not
from pleatwright.faults import Fault
from pleatwright.lengths import INCH, LengthError, Units, parse_length, seen
from pleatwright.web.failures import AnyRequest, RefusedError

THICKEST: Final = INCH
"""The thickest cloth that a stack is reckoned for."""
_WHOLE: Final = re.compile("[1-9][0-9]{0,5}")


def paper_asked(request: AnyRequest, parameters: Sequence[Parameter]) -> PaperAsked:
    """Return which paper of a reply the query asks for. Raises RefusedError with all that is wrong with it."""
    return PaperAsked(**_read(request, parameters)) if request.scope["query_string"] else _USUAL


def units_and_thickness(request: AnyRequest) -> tuple[Units, int | None]:
    """Return what the query asks of a heading's figures: its units, and the thickness of the cloth, if given."""
    asked: Mapping[str, Any] = _read(request, UNITS_AND_THICKNESS)
    units = cast("Units", asked["units"])
    return units, _cloth_thickness(asked.get("cloth_thickness"), units)


def units_asked(request: AnyRequest) -> Units:
    """Return the units that the query asks for."""
    return cast("Units", _read(request, UNITS_AND_THICKNESS[:1])["units"])


_USUAL: Final = PaperAsked()


def _read(request: AnyRequest, parameters: Sequence[Parameter]) -> dict[str, Any]:
    """Return the parameters given, and those that have a usual value."""
    known = {parameter.name: parameter for parameter in parameters}
    found: dict[str, Any] = {name: each.usual for name, each in known.items() if each.usual}
    faults = []
    for name, value in sorted(request.query_params.multi_items()):
        if name not in known:
            detail = "there is no parameter of this name: leave it out"
            faults.append(Fault((name[:40],), detail, str(value)[:40], ", ".join(known)))
        elif len(request.query_params.getall(name)) > 1:
            faults.append(Fault((name,), "this is given more than once: give it once", str(value)[:40]))
        elif fault := _fault(known[name], value):
            faults.append(fault)
        else:
            found[name] = int(value) if known[name].most else value
    if faults:
        raise RefusedError(problems.problem(400, faults=faults))
    return found


def _fault(parameter: Parameter, value: str) -> Fault | None:
    if parameter.choices and value not in parameter.choices:
        choices = ", ".join(parameter.choices)
        detail = f"this is not one of the choices: choose {choices}"
        return Fault((parameter.name,), detail, value[:40], choices)
    if parameter.most and not (_WHOLE.fullmatch(value) and int(value) <= parameter.most):
        detail = f"this is a whole number from 1 to {parameter.most}: count from 1"
        return Fault((parameter.name,), detail, value[:40], f"1 to {parameter.most}")
    return None


def _cloth_thickness(asked: str | None, units: Units) -> int | None:
    if asked is None:
        return None
    where = ("cloth_thickness",)
    try:
        thickness = parse_length(asked, units)
    except LengthError as error:
        status = 400 if why_not("Length", asked, units) else 422
        raise RefusedError(problems.problem(status, faults=[Fault(where, str(error), seen(asked))])) from None
    if not 0 < thickness <= THICKEST:
        detail = "a cloth is thicker than nothing and up to 1 in (25.4 mm): measure it"
        raise RefusedError(problems.problem(422, faults=[Fault(where, detail, seen(asked), "up to 1 in")]))
    return thickness
