"""Turns the service of deploy/compose.yaml into podman's options, so that what is tried is what is written there."""

import json
import re

from machine import PROJECT, Trouble, run

ELSEWHERE = {"image", "build", "restart", "ports", "logging", "stop_grace_period"}
"""What no single container without a network can show."""
OPTIONS = {
    "volumes": lambda value: [f"--volume={_from_deploy(each)}" for each in value],
    "environment": lambda value: [f"--env={name}={each}" for name, each in value.items()],
    "cap_drop": lambda value: [f"--cap-drop={each}" for each in value],
    "security_opt": lambda value: [f"--security-opt={each.removesuffix(':true')}" for each in value],
    # Stricter than compose's: without the second, podman would mount a /tmp that can be written.
    "read_only": lambda value: ["--read-only", "--read-only-tmpfs=false"] if value else [],
    "init": lambda value: ["--init"] if value else [],
    "mem_limit": lambda value: [f"--memory={value}"],
    "memswap_limit": lambda value: [f"--memory-swap={value}"],
    "pids_limit": lambda value: [f"--pids-limit={value}"],
}


def _from_deploy(volume):
    return volume if volume.startswith("/") else str(PROJECT / "deploy") + volume[1:]


def service_of(python):
    """Return the service as a dictionary, its variables at their defaults; the Python has a reader of YAML."""
    text = re.sub(r"\$\{\w+:-([^}]*)\}", r"\1", (PROJECT / "deploy" / "compose.yaml").read_text())
    read = "import json, sys, yaml; json.dump(yaml.safe_load(sys.stdin), sys.stdout)"
    return json.loads(run(python, "-c", read, given=text))["services"]["pleatwright"]


def options_of(service):
    """Return the options of podman; what has none is refused, and so cannot go untried unseen."""
    if strange := service.keys() - OPTIONS.keys() - ELSEWHERE:
        raise Trouble(f"deploy/compose.yaml has {', '.join(sorted(strange))}, which nothing here tries")
    return [option for key, value in service.items() if key in OPTIONS for option in OPTIONS[key](value)]
