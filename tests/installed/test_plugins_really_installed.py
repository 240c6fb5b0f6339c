"""Plugins installed as their users install them: the sound are served, and the broken take nothing along."""

import json
import time
from importlib.metadata import entry_points
from pathlib import Path
from textwrap import dedent

import pytest

PROJECT = Path(__file__).parent.parent.parent
EXAMPLE = PROJECT / "plugins" / "example-tulip"
SHIPPED = {
    point.name
    for point in entry_points(group="pleatwright.headings")
    if point.dist is not None and point.dist.name == "pleatwright"
}
COMMITTED = json.loads((PROJECT / "openapi" / "openapi.json").read_bytes())
ESTIMATE = json.loads((PROJECT / "openapi" / "examples" / "estimate.json").read_bytes())
PLEATS = json.loads((PROJECT / "openapi" / "examples" / "pleats.json").read_bytes())

YARROW = dedent("""
    import sys
    import time
    from typing import Literal

    from pleatwright.headings import CONTRACT, Heading, Limits, Pleat, PleatOptions, Shape, fan, hookimpl, inches


    class Yarrow(PleatOptions, frozen=True, tag="yarrow"):
        weather: Literal["fair", "thunder", "drizzle", "fog", "frost", "night", "haze"] = "fair"


    def shape(take_up):
        return Shape(fan(2, take_up / 4, 1.0), take_up / 4, 4)


    def thunder(take_up):
        raise ZeroDivisionError("a secret of the house")


    def drizzle(take_up):
        while True:
            pass


    def pleat(options, measure):
        if options.weather == "fog":
            raise KeyError("a secret of the house")
        if options.weather == "night":
            sys.exit("a secret of the house")
        if options.weather == "haze":
            until = time.process_time() + 0.2
            while time.process_time() < until:
                pass
        if options.weather == "frost":
            drizzle(0)
        limits = Limits(inches("3"), inches("4"), inches("5"))
        own = {"thunder": thunder, "drizzle": drizzle}.get(options.weather, shape)
        return Pleat(2, "face", "top", 1, inches("4"), limits, limits, own).with_options(options, measure)


    @hookimpl
    def pleatwright_headings():
        yield Heading(CONTRACT, "Yarrow", "Two folds like a yarrow.", "Fold and stitch.", Yarrow, pleat)
""")


def changed(old, new):
    assert old in YARROW
    return YARROW.replace(old, new)


def pleats(client, **heading):
    return client.post("/v1/pleats", json=PLEATS | {"heading": heading})


def estimate(client, windows=1, **heading):
    windows = [window | {"heading": heading} for window in ESTIMATE["windows"] * windows]
    return client.post("/v1/estimate", json=ESTIMATE | {"windows": windows})


def objects(value):
    if isinstance(value, dict):
        yield value
    if isinstance(value, dict | list):
        for each in value.values() if isinstance(value, dict) else value:
            yield from objects(each)


@pytest.fixture(scope="module")
def service(environment):
    """The service with the example beside it."""
    with environment.serving(PLEATWRIGHT_STRICT="1") as client:
        yield client


def test_the_fresh_environment_has_its_own_copies_and_sees_each_plugin_once(environment):
    looked = environment.run(
        "python",
        "-c",
        "import json, pleatwright, pleatwright_headings, thornfield_headings.tulip\n"
        "from importlib.metadata import entry_points\n"
        "modules = pleatwright, pleatwright_headings, thornfield_headings.tulip\n"
        "found = entry_points(group='pleatwright.headings')\n"
        "print(json.dumps([[each.__file__ for each in modules], [[each.name, each.dist.name] for each in found]]))",
    )
    assert looked.returncode == 0, looked.stderr
    files, found = json.loads(looked.stdout)
    for file in files:
        assert Path(file).is_relative_to(environment.site)
    assert sorted(found) == sorted(
        [*([name, "pleatwright"] for name in SHIPPED), ["tulip", "thornfield-headings"]],
    )


def test_the_examples_own_tests_pass_against_what_is_installed(environment):
    done = environment.run(
        "python",
        *("-m", "pytest", "-q", "-p", "no:cacheprovider", "-c", EXAMPLE / "pyproject.toml"),
        *(EXAMPLE / "tests", "--pyargs", "thornfield_headings"),
        PYTEST_DISABLE_PLUGIN_AUTOLOAD="1",
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_command_lists_the_style_with_its_package(environment):
    listed = environment.run("pleatwright", "headings")
    assert (listed.returncode, listed.stderr) == (0, "")
    assert "\ntulip  (thornfield-headings 1.0.0)\n  Tulip. One round lobe on a short stem.\n" in listed.stdout


def test_the_command_finds_the_package_sound(environment):
    checked = environment.run("pleatwright", "headings", "check", "thornfield-headings")
    assert checked.returncode == 0, checked.stdout + checked.stderr
    assert checked.stdout.startswith("tulip: sound\n")


def test_the_service_lists_the_style_beside_those_that_ship(service):
    reply = service.get("/v1/headings").json()
    assert {each["style"] for each in reply["headings"]} == {*SHIPPED, "tulip"}
    assert reply["refused"] == []
    tulip = service.get("/v1/headings/tulip").json()
    assert (tulip["package"], tulip["version"]) == ("thornfield-headings", "1.0.0")
    assert tulip["cross_section"]["developed_length"] == tulip["take_up"]["usual"] == 5


def test_the_contract_has_the_style_and_its_options(service):
    schemas = service.get("/openapi.json").json()["components"]["schemas"]
    discriminators = [each["discriminator"] for each in objects(schemas) if "discriminator" in each]
    mapping, *others = [each["mapping"] for each in discriminators if each["propertyName"] == "style"]
    assert set(mapping) == {*SHIPPED, "tulip"}
    assert all(other == mapping for other in others)
    options = schemas[mapping["tulip"].rpartition("/")[2]]["properties"]
    assert {"stem", "lobe", "buckram_depth", "take_up", "space", "style"} == set(options)
    assert (options["stem"]["minimum"], options["stem"]["maximum"], options["stem"]["default"]) == (0, 0.5, 0.2)
    assert options["lobe"]["description"].startswith("Diameter of the lobe wished for")


def test_a_wheel_has_the_operations_and_the_examples_that_are_committed(service):
    assert json.dumps(service.get("/openapi.json").json()["paths"]) == json.dumps(COMMITTED["paths"])


def test_a_job_is_estimated_in_the_style(service):
    reply = estimate(service, style="tulip", stem=0.1)
    assert reply.status_code == 200, reply.text
    assert reply.json()["made_with"]["styles"] == {"tulip": "thornfield-headings 1.0.0"}


def test_a_lobe_that_cannot_be_is_refused_at_its_place_in_the_units_asked_in(service):
    reply = pleats(service, style="tulip", lobe="3")
    assert reply.status_code == 422
    [error] = reply.json()["errors"]
    assert error["pointer"] == "/heading/lobe"
    assert (error["seen"], error["allowed"]) == ("3 in", "1 1/64 in to 1 21/32 in")


def test_a_stem_out_of_bounds_is_against_the_contract(service):
    reply = pleats(service, style="tulip", stem=0.6)
    assert reply.status_code == 400
    assert [error["pointer"] for error in reply.json()["errors"]] == ["/heading/stem"]


BROKEN = {
    "raises as it is imported": ("raise RuntimeError('no petals')", "it raises RuntimeError: no petals"),
    "never ends as it is imported": ("while True:\n    pass", "it took over 5 s"),
    "was written for another contract": (
        changed("Heading(CONTRACT,", "Heading(CONTRACT + 1,"),
        "it was written for contract 2; this service speaks 1",
    ),
    "has its hook misspelt": (changed("def pleatwright_headings", "def pleatwright_heading"), "pleatwright_heading"),
    "brings a style that ships": (
        changed('tag="yarrow"', 'tag="three-fold-pinch"'),
        "style 'three-fold-pinch' is already brought by plugin three-fold-pinch of pleatwright",
    ),
    "names its options as another plugin does": (
        changed("Yarrow", "Tulip"),
        "options type 'Tulip' has the same name as one of plugin tulip of thornfield-headings 1.0.0",
    ),
    "loses cloth": (changed("fan(2, take_up / 4", "fan(2, take_up / 5"), "style 'yarrow' loses cloth"),
}


@pytest.mark.parametrize(("source", "reason"), BROKEN.values(), ids=BROKEN)
def test_the_rest_are_served_beside_a_plugin_that(installed_beside, source, reason):
    """It is refused in words, and stops a strict service with the same words."""
    installed = installed_beside(source)
    with (
        installed.starting(PLEATWRIGHT_STRICT="1") as strict,
        installed.serving() as client,
    ):
        [refusal] = client.get("/health/ready").json()["refused"]
        listed = client.get("/v1/headings").json()
        assert pleats(client, style="three-fold-pinch").status_code == 200
        assert pleats(client, style="tulip").status_code == 200
        assert pleats(client, style="yarrow").status_code == 400
        _, complaint = strict.communicate(timeout=60)
    assert (refusal["plugin"], refusal["package"], refusal["version"]) == ("yarrow", "yarrow-headings", "0.3.1")
    assert reason in refusal["reason"]
    assert listed["refused"] == [refusal]
    assert {each["style"]: each["package"] for each in listed["headings"]} == {
        **dict.fromkeys(SHIPPED, "pleatwright"),
        "tulip": "thornfield-headings",
    }
    assert strict.returncode == 2
    assert f"yarrow of yarrow-headings 0.3.1: {refusal['reason']}" in complaint


@pytest.fixture(scope="module")
def changeable(installed_beside):
    """The service with a plugin that is sound in fair weather only."""
    with installed_beside(YARROW).serving(PLEATWRIGHT_STRICT="1") as client:
        yield client


WEATHER = {
    "whose pleat raises": "fog",
    "whose shape raises": "thunder",
    "whose pleat never ends": "frost",
    "whose shape never ends": "drizzle",
    "whose pleat exits": "night",
}


@pytest.mark.parametrize("weather", WEATHER.values(), ids=WEATHER)
def test_a_request_ends_in_a_problem_that_names_the_style(changeable, weather):
    """The problem does not repeat what the style said, and the next request is answered."""
    assert estimate(changeable, style="yarrow").status_code == 200
    began = time.monotonic()
    reply = estimate(changeable, style="yarrow", weather=weather)
    # A second of the processor, which is longer by the clock of a busy machine.
    assert time.monotonic() - began < 8
    assert (reply.status_code, reply.headers["content-type"]) == (500, "application/problem+json")
    assert "heading style 'yarrow' of yarrow-headings 0.3.1 failed on this request" in reply.json()["detail"]
    assert "secret" not in reply.text
    for style in ("yarrow", "three-fold-pinch", "tulip"):
        assert estimate(changeable, style=style).status_code == 200


def test_a_style_has_its_time_for_the_whole_request_and_not_for_each_of_its_windows(changeable):
    """One window takes 0.2 s of the processor, ten would take 2."""
    assert estimate(changeable, style="yarrow", weather="haze").status_code == 200
    assert estimate(changeable, windows=10, style="yarrow", weather="haze").status_code == 500
    assert estimate(changeable, style="yarrow").status_code == 200
