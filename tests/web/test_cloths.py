"""The cloths of the rate book are listed by the names that jobs call them by, and nothing of what they cost is."""

import hashlib
import tomllib
from pathlib import Path

import pytest
from litestar.testing import TestClient

from pleatwright.web.app import create_app
from pleatwright.web.settings import Settings

RATES = Path(__file__).parents[2] / "deploy" / "rates.example.toml"
BOOK = tomllib.loads(RATES.read_text())


@pytest.fixture(scope="module")
def client():
    with TestClient(create_app(Settings(log="off", rates=RATES))) as found:
        yield found


def test_every_cloth_is_listed_in_the_books_order(client):
    reply = client.get("/v1/cloths").json()
    assert [cloth["name"] for cloth in reply["cloths"]] == [cloth["name"] for cloth in BOOK["cloth"]]
    assert reply["edition"].startswith(BOOK["edition"])


def test_its_figures_are_in_the_units_asked_for(client):
    wanted = {"name": "Teasel, rust on oat", "drop_match": "straight"}
    inches = wanted | {"width": 54, "vertical_repeat": 25.25, "horizontal_repeat": 27}
    assert client.get("/v1/cloths").json()["cloths"][0] == inches
    metric = wanted | {"width": 137.16, "vertical_repeat": 64.135, "horizontal_repeat": 68.58}
    assert client.get("/v1/cloths?units=cm").json()["cloths"][0] == metric


def test_nothing_tells_what_a_cloth_costs(client):
    told = client.get("/v1/cloths").json()["cloths"]
    assert {key for cloth in told for key in cloth} == {
        *("name", "width", "vertical_repeat", "horizontal_repeat", "drop_match")
    }


def test_a_job_can_name_every_one_of_them(client):
    for cloth in client.get("/v1/cloths").json()["cloths"]:
        window = {
            "rod": {"width": "96"},
            "hang": {"drop": "84"},
            "heading": {"style": "goblet"},
            "fabric": cloth["name"],
        }
        reply = client.post("/v1/estimate", json={"units": "in", "windows": [window]})
        assert (reply.status_code == 200) == (cloth["width"] is not None), reply.text


def test_without_a_rate_book_there_are_none():
    with TestClient(create_app(Settings(log="off"))) as client:
        assert client.get("/v1/cloths").json() == {"units": "in", "edition": None, "cloths": []}


def test_what_the_query_has_wrong_is_told(client):
    reply = client.get("/v1/cloths?units=ell&cloth_thickness=1")
    assert reply.status_code == 400
    assert [error["pointer"] for error in reply.json()["errors"]] == ["/cloth_thickness", "/units"]


def test_who_has_no_key_is_told_nothing():
    keys = ((hashlib.sha256(b"key").hexdigest(), "shop"),)
    with TestClient(create_app(Settings(log="off", rates=RATES, customer_keys=keys))) as client:
        assert client.get("/v1/cloths").status_code == 401
        assert client.get("/v1/cloths", headers={"Authorization": "Bearer key"}).status_code == 200
