"""Settings of the service, from environment variables and one TOML file."""

import difflib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, Final

from pleatwright.web import values

PREFIX: Final = "PLEATWRIGHT_"
FILE: Final = "PLEATWRIGHT_SETTINGS"
MEMORY: Final = "memory"


class SettingsError(ValueError):
    """Settings that cannot be used, with every fault."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What can be set.

    `strict` refuses to start when a heading plugin is refused. `largest_request` is in bytes, `slowest_request` in
    seconds that a body may take to arrive. A line of a batch may be as large as a request, and a batch have up to
    `largest_batch` bytes and `batch_lines` lines. `rates` is the file of the rate book; without one nothing is priced.
    `workroom_keys` are digests of the keys to the workroom's view, `customer_keys` those of customers, each with the
    customer's name where it has one; when there are any, whatever works something out needs a key. `origins` are those
    whose pages may call from a browser. `requests_per_minute` is for each customer or address, 0 for no limit, counted
    in `limit_store`: this process's memory for None, or a folder that several processes share. `draining` is for how
    many seconds the service goes on after it is told to end, for others to see that it does. `workers` are processes
    that share one address, each begun anew after it has answered `recycle_after` requests, never for 0.
    """

    strict: bool = False
    largest_request: int = 262_144
    slowest_request: float = 10
    rates: Path | None = None
    workroom_keys: tuple[str, ...] = ()
    customer_keys: tuple[tuple[str, str], ...] = ()
    origins: tuple[str, ...] = ()
    requests_per_minute: int = 0
    limit_store: Path | None = None
    largest_batch: int = 4_194_304
    batch_lines: int = 1_000
    log: str = "json"
    draining: float = 1
    workers: int = 1
    recycle_after: int = 0


_READERS: Final[dict[str, values.Reader]] = {
    "strict": values.switch,
    "largest_request": values.whole("a number of bytes", 1024, 99_999_999_999),
    "slowest_request": values.seconds(0.1, 3600),
    "rates": values.path,
    "workroom_keys": values.digests,
    "customer_keys": values.named_digests,
    "origins": values.origins,
    "requests_per_minute": values.whole("a number of requests", 0, 6_000),
    "limit_store": values.folder_or(MEMORY),
    "largest_batch": values.whole("a number of bytes", 1024, 99_999_999_999),
    "batch_lines": values.whole("a number of lines", 1, 1_000_000),
    "log": values.choice("json", "off"),
    "draining": values.seconds(0, 600),
    "workers": values.whole("a number of processes", 1, 64),
    "recycle_after": values.whole("a number of requests", 0, 1_000_000_000),
}
assert list(_READERS) == [each.name for each in fields(Settings)]


def settings_from(environment: Mapping[str, str]) -> Settings:
    """Read settings from environment variables, then from the file that PLEATWRIGHT_SETTINGS names.

    What is in neither keeps its default. Raises SettingsError, naming everything that cannot be used.

    >>> settings_from({"PLEATWRIGHT_STRICT": "1"}).strict
    True
    """
    file = environment.get(FILE, "")
    given, faults = _of_file(Path(file)) if file else ({}, [])
    settings: dict[str, Any] = {}
    for name, read in _READERS.items():
        variable = PREFIX + name.upper()
        try:
            if variable in environment:
                settings[name] = read(environment[variable], Path())
            elif name in given:
                settings[name] = read(given[name], Path(file).parent)
        except ValueError as error:
            faults.append(f"{variable if variable in environment else f'{name} in {file}'} {error}")
    if {digest for digest, _ in settings.get("customer_keys", ())} & set(settings.get("workroom_keys", ())):
        faults.append("a key of the workroom's is also a customer's: give the customer another")
    if faults:
        raise SettingsError("; ".join(faults))
    return Settings(**settings)


def _of_file(file: Path) -> tuple[dict[str, Any], list[str]]:
    """Return what the file has, and what is wrong with it but for the values of settings."""
    try:
        given = tomllib.loads(file.read_text("utf-8"))
    except OSError as error:
        return {}, [f"{FILE} names {file}, which cannot be read: {error.strerror}"]
    except tomllib.TOMLDecodeError as error:
        return {}, [f"{file} is not TOML: {error}"]
    except UnicodeDecodeError:
        # Its message would repeat what stands there, which may be a key.
        return {}, [f"{file} is not TOML: its text is not UTF-8"]
    return given, _unknown(given, file)


def _unknown(given: Mapping[str, Any], file: Path) -> list[str]:
    faults = []
    for name in given.keys() - _READERS.keys():
        close = difflib.get_close_matches(name.lower().removeprefix(PREFIX.lower()), _READERS, 1)
        remedy = f'did you mean "{close[0]}"?' if close else f"there are {', '.join(_READERS)}"
        faults.append(f"{values.short(name)} in {file} is no setting: {remedy}")
    return sorted(faults)
