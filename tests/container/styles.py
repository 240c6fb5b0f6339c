"""Checks both ways to bring a style of one's own into the container, with the wheel of plugins/example-tulip."""

import json

from engine import BASE
from machine import PROJECT, check, say

PLUGIN = PROJECT / "plugins" / "example-tulip"
WHEEL = "thornfield_headings-1.0.0-py3-none-any.whl"


def check_styles(engine, tag, options, folder):
    """Make the wheel as README.md says, then an image with it, then mount it."""
    say("a style of one's own")
    wheels = folder / "styles"
    wheels.mkdir()
    engine.podman(
        *("run", "--rm", "--network", "host", *engine.for_pip()),
        *("--volume", f"{PLUGIN}:/style:ro", "--volume", f"{wheels}:/wheels", f"localhost/{BASE}"),
        *("pip", "wheel", "--no-deps", "--wheel-dir", "/wheels", "/style"),
    )
    check((wheels / WHEEL).exists(), "its wheel is made in the base image")
    engine.build(PLUGIN / "Containerfile", wheels, "pleatwright-tulip")
    with engine.started("pleatwright-tulip", *options) as container:
        container.wait_until_ready()
        check(_brings_tulip(container), "plugins/example-tulip/Containerfile: /v1/headings has the style")
    mounted = (f"--volume={wheels}:/styles:ro", f"--env=PYTHONPATH=/styles/{WHEEL}")
    with engine.started(tag, *options, *mounted) as container:
        container.wait_until_ready()
        check(_brings_tulip(container), "a folder of wheels, mounted: /v1/headings has the style")


def _brings_tulip(container):
    found = json.loads(container.ask("GET", "/v1/headings")[2])
    return not found["refused"] and "tulip" in [each["style"] for each in found["headings"]]
