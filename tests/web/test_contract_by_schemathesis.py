"""The service keeps the contract it gives: requests made from it, right ones and wrong, end as it says they end.

PLEATWRIGHT_CONTRACT_CASES asks for more of them than a run of every test has time for: new ones each time, to be made
by hand now and then, as DEVELOPERS.md says.
"""

import json
import math
import os
from collections import Counter
from pathlib import Path
from typing import ClassVar

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis.checks import CHECKS, load_all_checks
from schemathesis.config import SchemathesisConfig
from schemathesis.generation import GenerationMode

from pleatwright import workroom
from pleatwright.contract.openapi import document
from pleatwright.headings.host import find_headings
from pleatwright.web.app import create_app
from pleatwright.web.keys import digest_of
from pleatwright.web.settings import Settings

CONFIG = SchemathesisConfig.from_dict(
    {
        "seed": 1222,
        "generation": {"mode": "all"},
        # The twelve windows take 3 s of a processor, and on a busy machine more than the 10 s that are usual.
        "request-timeout": 60,
        "checks": {
            # A request that is right by the contract may ask for a covering that cannot be made, or for a style that
            # is not installed. Any other end, a failure of the service among them, is a fault.
            "positive_data_acceptance": {"expected-statuses": ["200", "404", "422"]},
            "negative_data_rejection": {"expected-statuses": ["400", "404", "405", "406", "415"]},
        },
    }
)
schemathesis.serializer.alias("application/x-ndjson", "text/plain")


@schemathesis.deserializer("application/x-ndjson")
def as_text(_context, response):
    return response.content.decode()


HEADINGS = find_headings()
contract = schemathesis.openapi.from_dict(document(HEADINGS.options), config=CONFIG)
KEY = "a-key-that-only-the-tests-hold"
PROJECT = Path(__file__).parents[2]
contract.app = create_app(
    Settings(rates=PROJECT / "deploy" / "rates.example.toml", workroom_keys=(digest_of(KEY),)), HEADINGS
)


USUAL = 60
CASES = int(os.environ.get("PLEATWRIGHT_CONTRACT_CASES", USUAL))
RUN = settings(
    max_examples=CASES,
    deadline=None,
    derandomize=CASES == USUAL,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[*HealthCheck],
)


@pytest.fixture
def tried():
    """Count the requests by mode, and see at the end that an operation was tried with right ones and wrong ones."""
    counted = Counter()
    yield counted
    assert counted[GenerationMode.POSITIVE] > 0
    assert counted[GenerationMode.NEGATIVE] > 0


@contract.parametrize()
@RUN
def test_every_operation_keeps_the_contract(case, tried):
    tried[case.meta.generation.mode] += 1
    case.call_and_validate(headers={"Authorization": f"Bearer {KEY}"})


class Followed(contract.as_state_machine()):
    """Requests that go where the contract's links lead from one reply to the next."""

    ends: ClassVar[Counter[int]] = Counter()

    def get_call_kwargs(self, case):
        return {"headers": {"Authorization": f"Bearer {KEY}"}}

    def step(self, input):  # noqa: A002 - its name in the base class
        output = super().step(input)
        if input.transition is not None and input.is_applied:
            self.ends[output.response.status_code] += 1
        return output


def test_wherever_a_reply_leads_there_is_an_answer():
    few = max(1, CASES // 4)
    Followed.run(settings=settings(RUN, max_examples=few, phases=[Phase.generate], stateful_step_count=3))
    assert set(Followed.ends) <= {200, 400, 422}  # 400 and 422 for what was asked along with the style


def test_every_check_there_is_is_made():
    load_all_checks()
    made = contract.config.checks_config_for()
    assert [name for name in CHECKS.get_all_names() if not made.get_by_name(name=name).enabled] == []


def test_every_operation_is_tried():
    assert contract.statistic.operations.selected == 18


EXAMPLES = sorted((PROJECT / "openapi" / "examples").rglob("*.json"))
STYLES = tuple(HEADINGS.installed)
UNITS = st.sampled_from(["in", "cm", "mm"])


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_is_answered_as_the_contract_says(example):
    case = posted(example.stem.partition("-")[0], json.loads(example.read_text()))
    assert case.call_and_validate().status_code == 200


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_leads_to_its_style(example):
    request = json.loads(example.read_text())
    case = posted(example.stem.partition("-")[0], request)
    links = case.operation.definition.raw["responses"]["200"].get("links", {})
    assert bool(links) == ("heading" in json.dumps(request))
    for link in links.values():
        style = request
        for part in link["parameters"]["style"].removeprefix("$request.body#/").split("/"):
            style = style[int(part)] if isinstance(style, list) else style[part]
        described = contract["/v1/headings/{style}"]["GET"].Case(path_parameters={"style": style})
        assert described.call_and_validate().json()["style"] == style


def test_the_list_of_headings_leads_to_its_first():
    listed = contract["/v1/headings"]["GET"].Case().call_and_validate().json()["headings"]
    described = contract["/v1/headings/{style}"]["GET"].Case(path_parameters={"style": listed[0]["style"]})
    assert described.call_and_validate().json() == listed[0]


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("units", ["in", "cm", "mm"])
def test_every_style_is_described_as_the_contract_says(style, units):
    case = contract["/v1/headings/{style}"]["GET"].Case(path_parameters={"style": style}, query={"units": units})
    assert case.call_and_validate().json()["style"] == style


def posted(operation, request):
    return contract[f"/v1/{operation}"]["POST"].Case(body=request, media_type="application/json")


def inches(least, most):
    """Lengths on the sixteenths of a rule, as texts that name their unit."""
    return st.integers(least * 16, most * 16).map(lambda sixteenths: f"{sixteenths / 16} in")


def fullness_of(style):
    """What the style takes, in hundredths; a sewn pleat takes nearly any."""
    figures = workroom.heading(style, HEADINGS, "in")
    least, most = figures.fullness.least, figures.fullness.most
    if figures.layout == "pleats":
        least, most = 2, 2.6
    hundredths = st.integers(math.ceil(least * 100), math.floor(most * 100))
    return hundredths.map(lambda whole: whole / 100)


@st.composite
def windows(draw):
    """Draw what windows of everyday sizes have in common."""
    way = draw(st.sampled_from(["pair", "one-way-left", "one-way-right"]))
    style = draw(st.sampled_from(STYLES))
    return {
        "rod": {"width": draw(inches(48, 240)), "return": draw(inches(0, 6)), "draw": way},
        "hang": {"carrying_height": draw(inches(60, 144)), "to": draw(st.sampled_from(["floor", "break", "puddle"]))},
        "heading": {"style": style},
        "fullness": draw(st.none() | fullness_of(style)),
        "make_up": {"widths": draw(st.sampled_from(["half", "whole"])), "nearest": draw(st.booleans())},
    }


def fabrics():
    return st.fixed_dictionaries(
        {"width": inches(45, 110)},
        optional={
            "vertical_repeat": inches(0, 30),
            "horizontal_repeat": inches(0, 30),
            "selvage": inches(0, 1),
            "drop_match": st.sampled_from(["straight", "1/2", "1/3"]),
            "increment": st.sampled_from(["1/8 yd", "0.1 m", "1 yd"]),
        },
    )


@settings(max_examples=100, deadline=None, derandomize=True)
@given(windows(), fabrics(), UNITS, st.booleans())
def test_everyday_windows_are_answered_as_the_contract_says(window, fabric, units, worksheet):
    request = {"units": units, "worksheet": worksheet, "fabric": fabric, **window}
    assert posted("panel", request).call_and_validate().status_code == 200


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.lists(windows(), min_size=1, max_size=4), fabrics(), UNITS, st.booleans(), st.booleans())
def test_everyday_jobs_are_answered_as_the_contract_says(several, fabric, units, worksheet, lined):
    labelled = [
        {"label": f"Window {number}", "fabric": "oat", "lining": {} if lined else None, **window}
        for number, window in enumerate(several)
    ]
    request = {"units": units, "worksheet": worksheet, "windows": labelled, "fabrics": {"oat": fabric}}
    assert posted("estimate", request).call_and_validate().status_code in (200, 422)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.integers(2, 60), st.lists(st.integers(0, 99), max_size=6, unique=True), UNITS, st.booleans())
def test_panels_that_can_be_pleated_are_answered_as_the_contract_says(pleats, hundredths, units, worksheet):
    spaces, take_ups = 3.75 * (pleats - 1), 5.5 * pleats
    flat = spaces + take_ups + 6
    request = {
        "units": units,
        "worksheet": worksheet,
        "heading": {"style": "three-fold-pinch"},
        "flat_width": f"{flat} in",
        "finished_width": f"{spaces + 6} in",
        "overlap": "3 in",
        "return": "3 in",
        "seams": [f"{round(flat * (part + 0.5) / 100, 4)} in" for part in sorted(hundredths)],
    }
    for operation in ("pleats", "pins"):
        assert posted(operation, request).call_and_validate().status_code == 200


@settings(max_examples=100, deadline=None, derandomize=True)
@given(inches(1, 400), st.integers(1, 40), fabrics(), UNITS, st.booleans())
def test_runs_of_cuts_are_answered_as_the_contract_says(cut_length, cuts, fabric, units, worksheet):
    matched = {name: value for name, value in fabric.items() if name in ("vertical_repeat", "drop_match", "increment")}
    request = {"units": units, "worksheet": worksheet, "cut_length": cut_length, "cuts": cuts, **matched}
    assert posted("repeat", request).call_and_validate().status_code == 200
