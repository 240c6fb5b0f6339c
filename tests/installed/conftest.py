"""Fresh environments with the project and its plugins installed from wheels, and the service started from them."""

import os
import shutil
import socket
import subprocess
import sys
import sysconfig
import time
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO

import httpx
import pytest

PROJECT = Path(__file__).parent.parent.parent
EXAMPLE = PROJECT / "plugins" / "example-tulip"
STARTING, STOPPING = 20.0, 10.0


@dataclass(frozen=True)
class Environment:
    """A virtual environment."""

    root: Path

    @property
    def site(self) -> Path:
        """Where its packages are."""
        return Path(sysconfig.get_path("purelib", "venv", {"base": str(self.root)}))

    def run(self, command: str, *arguments: str | Path, **variables: str) -> subprocess.CompletedProcess[str]:
        """Run a command of this environment to its end."""
        return subprocess.run(
            [self.root / "bin" / command, *arguments],
            capture_output=True,
            text=True,
            check=False,
            cwd=self.root,
            env=_variables(**variables),
            timeout=60,
        )

    def install(self, *wheels: Path) -> None:
        """Install wheels with the pip of the running environment, and nothing from anywhere else."""
        _pip("--python", self.root / "bin" / "python", "install", "--no-deps", "--no-index", "--no-compile", *wheels)

    def borrow_dependencies(self) -> None:
        """Let this environment see the packages of the running one after its own.

        A path in a .pth file comes last, and .pth files that lie there, as an editable install leaves, are not read.
        """
        paths = dict.fromkeys(sysconfig.get_path(scheme) for scheme in ("purelib", "platlib"))
        (self.site / "borrowed.pth").write_text("\n".join(paths) + "\n", encoding="utf-8")

    def copied_to(self, root: Path) -> "Environment":
        """Return a copy, in which scripts other than python are still those of this environment."""
        shutil.copytree(self.root, root, symlinks=True)
        return Environment(root)

    @contextmanager
    def starting(self, **variables: str) -> Iterator[subprocess.Popen[str]]:
        """Start a service that ends by itself, or else with the block."""
        with self._start(_free_port(), subprocess.PIPE, **variables) as process:
            try:
                yield process
            finally:
                process.kill()

    @contextmanager
    def serving(self, **variables: str) -> Iterator[httpx.Client]:
        """Serve on a free port of loopback for as long as the block lasts."""
        port = _free_port()
        log = self.root / "service.log"
        with (
            log.open("w", encoding="utf-8") as errors,
            self._start(port, errors, **variables) as process,
            httpx.Client(base_url=f"http://127.0.0.1:{port}", timeout=10, trust_env=False) as client,
        ):
            try:
                _wait_for(client, process, log)
                yield client
            finally:
                process.terminate()
                try:
                    process.wait(STOPPING)
                finally:
                    process.kill()

    def _start(self, port: int, errors: IO[str] | int, **variables: str) -> subprocess.Popen[str]:
        return subprocess.Popen(
            [self.root / "bin" / "python", "-m", "pleatwright.command", "serve", "--port", str(port)],
            stderr=errors,
            text=True,
            cwd=self.root,
            env=_variables(**variables),
        )


@pytest.fixture(scope="session")
def environment(tmp_path_factory) -> Environment:
    """Pleatwright and the example of a style package, each built and installed as a wheel."""
    wheels = tmp_path_factory.mktemp("wheels")
    _pip("wheel", "--no-deps", "--no-index", "--no-build-isolation", "--wheel-dir", wheels, PROJECT, EXAMPLE)
    made = Environment(tmp_path_factory.mktemp("installed") / "fresh")
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", made.root], check=True, env=_variables())
    made.install(*sorted(wheels.glob("*.whl")))
    made.borrow_dependencies()
    return made


@pytest.fixture(scope="session")
def installed_beside(environment, tmp_path_factory) -> Callable[[str], Environment]:
    """Install one more plugin, `yarrow` of yarrow-headings 0.3.1, in a copy of the environment."""

    def install(source: str) -> Environment:
        folder = tmp_path_factory.mktemp("yarrow")
        copy = environment.copied_to(folder / "copy")
        copy.install(_wheel_of(source, folder))
        return copy

    return install


def _wheel_of(source: str, folder: Path) -> Path:
    """Write a wheel [packaging.python.org, binary distribution format] with one module."""
    information = "yarrow_headings-0.3.1.dist-info"
    files = {
        "yarrow_headings.py": source,
        f"{information}/METADATA": "Metadata-Version: 2.1\nName: yarrow-headings\nVersion: 0.3.1\n",
        f"{information}/WHEEL": "Wheel-Version: 1.0\nGenerator: tests\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
        f"{information}/entry_points.txt": "[pleatwright.headings]\nyarrow = yarrow_headings\n",
    }
    record = f"{information}/RECORD"
    files[record] = "".join(f"{name},,\n" for name in (*files, record))
    path = folder / "yarrow_headings-0.3.1-py3-none-any.whl"
    with zipfile.ZipFile(path, "w") as wheel:
        for name, text in files.items():
            wheel.writestr(name, text)
    return path


def _pip(*arguments: str | Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check", *arguments],
        capture_output=True,
        text=True,
        check=False,
        env=_variables(),
    )
    assert done.returncode == 0, done.stdout + done.stderr


def _variables(**variables: str) -> dict[str, str]:
    """Return the variables of this process without those that would lead a fresh environment astray."""
    own = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "PLEATWRIGHT_", "PIP_"))}
    return own | {"PYTHONDONTWRITEBYTECODE": "1"} | variables


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def _wait_for(client: httpx.Client, process: subprocess.Popen[str], log: Path) -> None:
    until = time.monotonic() + STARTING
    while process.poll() is None and time.monotonic() < until:
        try:
            client.get("/health/live")
        except httpx.TransportError:
            time.sleep(0.05)
        else:
            return
    pytest.fail(f"the service did not start:\n{log.read_text(encoding='utf-8')}")
