"""Settings of the service, from the environment."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from pleatwright.web.keys import DIGEST

LEAST_REQUEST: Final = 1024


class SettingsError(ValueError):
    """Settings that cannot be used, with every fault."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What can be set.

    `strict` refuses to start when a heading plugin is refused. `largest_request` is in bytes. `rates` is the file of
    the rate book; without one nothing is priced. `workroom_keys` are digests of the keys to the workroom's view.
    """

    strict: bool = False
    largest_request: int = 262_144
    rates: Path | None = None
    workroom_keys: tuple[str, ...] = ()


def settings_from(environment: Mapping[str, str]) -> Settings:
    """Read settings from environment variables; what is not there keeps its default.

    Raises SettingsError, naming every variable that cannot be used.

    >>> settings_from({"PLEATWRIGHT_STRICT": "1"}).strict
    True
    """
    faults = []
    strict = environment.get("PLEATWRIGHT_STRICT", "0")
    if strict not in ("0", "1"):
        faults.append(f"PLEATWRIGHT_STRICT is {strict!r}: set it to 0 or 1")
    largest = environment.get("PLEATWRIGHT_LARGEST_REQUEST", str(Settings().largest_request))
    if not (largest.isascii() and largest.isdecimal() and len(largest) < 12 and int(largest) >= LEAST_REQUEST):
        faults.append(
            f"PLEATWRIGHT_LARGEST_REQUEST is {largest!r}: set it to a number of bytes, {LEAST_REQUEST} or more"
        )
    keys = environment.get("PLEATWRIGHT_WORKROOM_KEYS", "").replace(",", " ").split()
    if not all(DIGEST.fullmatch(key) for key in keys):
        # What stands there may be a key itself, and is not repeated.
        faults.append(
            "PLEATWRIGHT_WORKROOM_KEYS holds what is no digest: set it to the digests that `pleatwright key` prints"
        )
    if faults:
        raise SettingsError("; ".join(faults))
    rates = environment.get("PLEATWRIGHT_RATES", "")
    return Settings(strict == "1", int(largest), Path(rates) if rates else None, tuple(keys))
