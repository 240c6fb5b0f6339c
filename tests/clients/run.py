"""Makes clients of the contract that a running service gives, in Python and in TypeScript, and puts them to work.

python tests/clients/run.py [FOLDER]

The Python is that of the tests, with openapi-python-client; node and npm are needed as well. All that is fetched and
made goes into FOLDER, or into a folder that is removed in the end: nothing into this project. The contract is linted
first, with no error and no warning.
"""

import hashlib
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

HERE = Path(__file__).resolve().parent
PROJECT = HERE.parents[1]
BIN = Path(sys.executable).parent
KEY = "a-key-that-only-the-tests-hold"


def main() -> None:
    """Lint the contract, generate both clients, check their types, and run them against the service."""
    if missing := [name for name in ("node", "npm") if shutil.which(name) is None]:
        sys.exit(f"Not found: {' and '.join(missing)}. Install Node.js 20 or later, with npm.")
    if len(sys.argv) > 1:
        work = Path(sys.argv[1]).resolve()
        work.mkdir(parents=True, exist_ok=True)
        try_clients(work)
    else:
        with tempfile.TemporaryDirectory() as folder:
            try_clients(Path(folder))


def try_clients(work: Path) -> None:
    """Do all of it in the folder `work`."""
    node = work / "node"
    node.mkdir(exist_ok=True)
    shutil.copy(HERE / "package.json", node)
    # Exact versions stand in package.json; a lock file would hold the addresses of a registry.
    run(node, "npm", "install", "--no-package-lock", "--no-audit", "--no-fund", "--loglevel=error")
    tools = node / "node_modules" / ".bin"
    settings = {
        "PLEATWRIGHT_RATES": str(PROJECT / "deploy" / "rates.example.toml"),
        "PLEATWRIGHT_WORKROOM_KEYS": hashlib.sha256(KEY.encode()).hexdigest(),
    }
    with served(work / "service.log", settings) as address:
        contract = work / "openapi.json"
        with urllib.request.urlopen(f"{address}/openapi.json") as reply:
            contract.write_bytes(reply.read())
        run(work, tools / "redocly", "lint", contract, "--extends=recommended-strict", REDOCLY_TELEMETRY="off")
        in_python(work / "python", contract, address)
        in_typescript(node, tools, contract, address)


def in_python(work: Path, contract: Path, address: str) -> None:
    """Generate with openapi-python-client, check client and program with mypy --strict, and run the program."""
    shutil.rmtree(work, ignore_errors=True)
    shutil.copytree(HERE / "python", work)
    client = work / "pleatwright_client"
    generate = ("openapi-python-client", "generate", "--meta=none", "--fail-on-warning", "--config=generator.yaml")
    run(work, BIN / generate[0], *generate[1:], f"--path={contract}", f"--output-path={client}")
    run(work, BIN / "mypy", "--config-file=mypy.ini", "job.py", "pleatwright_client")
    run(work, sys.executable, "job.py", address, KEY)


def in_typescript(node: Path, tools: Path, contract: Path, address: str) -> None:
    """Generate with openapi-typescript, compile client and program with tsc --strict, and run the program.

    A field with a default need not be sent: --default-non-nullable=false says so of the types.
    """
    for source in (HERE / "typescript").iterdir():
        shutil.copy(source, node)
    run(node, tools / "openapi-typescript", contract, "--output=contract.ts", "--default-non-nullable=false")
    run(node, tools / "tsc")
    run(node, "node", "built/job.js", address, KEY)


def run(folder: Path, *command: str | Path, **variables: str) -> None:
    """Run a command, quietly unless it fails."""
    path = os.pathsep.join([str(BIN), os.environ.get("PATH", "")])
    done = subprocess.run(
        command,
        cwd=folder,
        env=os.environ | {"PATH": path} | variables,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    if done.returncode:
        sys.exit(f"{done.stdout}\n{' '.join(map(str, command))} ended with {done.returncode}")
    print(f"{Path(command[0]).name}: {(done.stdout.strip().splitlines() or ['nothing to say'])[-1]}")


@contextmanager
def served(log: Path, settings: dict[str, str]) -> Iterator[str]:
    """Serve with the settings on a free port of loopback."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    address = f"http://127.0.0.1:{port}"
    command = [sys.executable, "-m", "pleatwright.command", "serve", "--port", str(port)]
    with log.open("w") as output:
        process = subprocess.Popen(command, env=os.environ | settings, stdout=output, stderr=output)
        try:
            until = time.monotonic() + 60
            while not ready(address):
                if process.poll() is not None or time.monotonic() > until:
                    sys.exit(f"The service did not start:\n{log.read_text()}")
                time.sleep(0.1)
            yield address
        finally:
            process.terminate()
            process.wait()


def ready(address: str) -> bool:
    """Tell whether the service answers."""
    try:
        with urllib.request.urlopen(f"{address}/health/ready") as reply:
            return bool(reply.status == 200)
    except (urllib.error.URLError, ConnectionError):
        return False


if __name__ == "__main__":
    main()
