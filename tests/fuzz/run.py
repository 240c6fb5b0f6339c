"""Fuzzes by coverage, with atheris: python tests/fuzz/run.py [--seconds 3600]. Ends with 1 when something is found.

What is found is written out, to be kept as tests/fuzz/found/TARGET-NAME, which the tests try ever after.
"""

import argparse
import random
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent


def main() -> int:
    """Fuzz every target for its share of the time, each in a process of its own."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--seconds", type=int, default=60)
    arguments.add_argument("--target")
    asked, rest = arguments.parse_known_args()
    if asked.target:
        fuzz(asked.target, rest)
    found = 0
    names = ("lengths", "requests")
    with tempfile.TemporaryDirectory() as scratch:
        for name in names:
            corpus, crashes = Path(scratch, name), Path(scratch, f"{name}-found")
            corpus.mkdir()
            crashes.mkdir()
            seconds = asked.seconds // len(names)
            limits = [f"-max_total_time={seconds}", "-timeout=60", "-rss_limit_mb=2500", "-max_len=20000"]
            command = [sys.executable, __file__, "--target", name, str(corpus), f"-artifact_prefix={crashes}/", *limits]
            with Path(scratch, f"{name}.log").open("w+", encoding="utf-8", errors="replace") as log:
                done = subprocess.run(command, stderr=log, timeout=seconds + 120, check=False)
                log.seek(0)
                told = log.read()
            last = [line for line in told.splitlines() if line.startswith(("#", "Done"))][-2:]
            sys.stdout.write("\n  ".join([name, *last]) + "\n")
            if done.returncode:
                found += 1
                sys.stdout.write(told[-4000:])
                for path in crashes.iterdir():
                    sys.stdout.write(f"{path.name}: {path.read_bytes()!r}\n")
    return 1 if found else 0


def fuzz(name: str, rest: list[str]) -> None:
    """Fuzz one target; the process ends with this."""
    import atheris

    with atheris.instrument_imports(include=["pleatwright", "pleatwright_headings"]):
        from targets import TARGETS, seeds
    from trees import mutated

    known = seeds(name)
    for number, seed in enumerate(known):
        Path(rest[0], f"seed-{number}").write_bytes(seed)

    def mutate(data: bytes, most: int, seed: int) -> bytes:
        rng = random.Random(seed)
        if name != "requests" or rng.random() < 0.3:
            return atheris.Mutate(data, most)
        return mutated(data, known, rng)[:most]

    atheris.Setup([sys.argv[0], *rest], TARGETS[name], custom_mutator=mutate)
    atheris.Fuzz()


if __name__ == "__main__":
    sys.exit(main())
