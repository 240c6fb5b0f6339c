"""Builds the container and tries it, as root on Debian with no engine installed: python3 tests/container/verify.py

Checks the files of deploy/, builds deploy/Containerfile upon a stand-in for its base image, starts it as
deploy/compose.yaml says, and asks, stops and reads it; then an image with a style of one's own, and the Deployment as a
pod. Everything is made in a folder that is removed in the end. Ends with 1 when anything does not hold.
"""

import argparse
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import ending
import files
import image
import pod
import running
import stand_in
import styles
from compose_flags import options_of, service_of
from engine import BASE, BINARIES, Engine
from machine import PROJECT, Trouble, install, need_root, say, scratch, service_python, tools

TAG = "localhost/pleatwright"


def main():
    """Check everything, in the order in which it is soonest known that something is wrong."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--base", type=Path, help="tar of the stand-in base: made where it is missing, and kept")
    arguments.add_argument("--without-kubectl", action="store_true", help="render nothing, and try no pod")
    asked = arguments.parse_args()
    need_root()
    try:
        with scratch() as folder:
            verify(folder, asked.base or folder / "base.tar", kubectl=not asked.without_kubectl)
    except Trouble as trouble:
        sys.exit(f"\n{trouble}\n\nNOT VERIFIED")


def verify(folder, base, *, kubectl):
    """Check everything, in a folder."""
    install(**BINARIES)
    say("the files")
    with ThreadPoolExecutor(1) as meanwhile:
        made = None if base.exists() else meanwhile.submit(stand_in.make, base)
        bin_ = tools(folder / "tools", *files.TOOLS)
        files.check_containerfile(bin_)
        files.check_compose(bin_)
        files.check_manifests(bin_, folder, kubectl=kubectl)
        if made:
            made.result()
    engine = Engine(folder / "engine", bin_ / "python")
    try:
        engine.podman("import", base, f"localhost/{BASE}")
        say("building deploy/Containerfile")
        engine.build(PROJECT / "deploy" / "Containerfile", PROJECT, TAG)
        python = service_python(folder / "service")
        image.check_image(engine, TAG)
        service = service_of(bin_ / "python")
        options = options_of(service)
        running.check_running(engine, TAG, options, python, grace=service["stop_grace_period"].removesuffix("s"))
        ending.check_early_end(engine, TAG, options)
        styles.check_styles(engine, TAG, options, folder)
        if kubectl:
            pod.check_pod(engine, folder)
    finally:
        engine.clear()
    print(f"""
VERIFIED, all of it upon a stand-in for {BASE}: Debian bookworm and its Python, made with mmdebstrap.
Not tried: the image {BASE} itself; Docker; docker compose, of whose file the service's options were tried with podman;
published ports; a health check that the engine repeats by itself; a cluster, and so Service, HorizontalPodAutoscaler,
PodDisruptionBudget, NetworkPolicy and probes, which are checked by schema alone.""")
    if not kubectl:
        print("Not tried either, as asked for: kubectl kustomize, and the Deployment as a pod.")


if __name__ == "__main__":
    main()
