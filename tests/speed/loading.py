"""Load from wrk, on a core of its own: each request one of many that are distinct."""

import json
import re
import resource
import subprocess
import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from messages import cases, mixed
from serving import CLIENT_CORE, Service, on

CONNECTIONS = 4
_SCRIPT = """
local asked = {{{requests}}}
local ready = {{}}
local at = 0
wrk.headers["Content-Type"] = "application/json"
function init()
  for number, each in ipairs(asked) do
    ready[number] = wrk.format("POST", each[1], nil, each[2])
  end
end
function request()
  at = at % #ready + 1
  return ready[at]
end
"""


@dataclass(frozen=True)
class Load:
    """What wrk got done: requests answered, how many a second, and the share of the time that it was busy itself."""

    answered: int
    rate: float
    busy: float


def load(
    service: Service, script: Path, seconds: int, connections: int = CONNECTIONS, cores: Sequence[int] = (CLIENT_CORE,)
) -> Load:
    """Ask as fast as a service answers. Fails when anything is answered wrongly, or not at all."""
    command = ["wrk", "-t1", f"-c{connections}", f"-d{seconds}s", "--timeout", "30s", "-s", str(script)]
    before, began = _of_children(), time.monotonic()
    with on(*cores):
        told = subprocess.run(
            [*command, f"http://127.0.0.1:{service.port}"], capture_output=True, text=True, check=True
        ).stdout
    busy = (_of_children() - before) / (time.monotonic() - began)
    assert "Non-2xx" not in told, f"{service.name}: {told}"
    assert "Socket errors" not in told, f"{service.name}: {told}"
    answered, rate = re.search(r"(\d+) requests in", told), re.search(r"Requests/sec:\s+([\d.]+)", told)
    assert answered
    assert rate
    assert int(answered[1]), f"{service.name}: {told}"
    return Load(int(answered[1]), float(rate[1]), busy)


def _of_children() -> float:
    """Return the seconds of the processor that processes which have ended had used."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def scripts(folder: Path) -> dict[str, Path]:
    """Write what wrk sends in each case; return the script by case."""
    asked = {name: [(operation, body) for body in bodies] for name, (operation, bodies) in cases().items()}
    return {name: _written(folder / f"{name.replace(' ', '-')}.lua", requests) for name, requests in asked.items()}


def mixed_script(folder: Path) -> Path:
    """Write what wrk sends when the cases are mixed; return the script."""
    return _written(folder / "mixed.lua", [(cases()[case][0], body) for case, body in mixed()])


def _written(script: Path, requests: Iterable[tuple[str, bytes]]) -> Path:
    pairs = (f'{{"/v1/{operation}", {json.dumps(body.decode("ascii"))}}}' for operation, body in requests)
    script.write_text(_SCRIPT.format(requests=", ".join(pairs)))
    return script
