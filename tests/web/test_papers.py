"""Papers over HTTP: in the form that the client wants, the one that the query names; problems in JSON all the same."""

import json
from pathlib import Path

import pytest
from litestar.testing import TestClient

from pleatwright import workroom
from pleatwright.contract.papers import HTML, PDF, SVG, PaperAsked
from pleatwright.paper.making import job_paper, panel_paper
from pleatwright.paper.ticket import STYLE_HASH
from pleatwright.web.app import create_app
from pleatwright.web.settings import Settings

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
BODIES = {name: (EXAMPLES / f"{name}.json").read_bytes() for name in ("pleats", "pins", "estimate")}


@pytest.fixture(scope="module")
def client():
    with TestClient(create_app(Settings(log="off"))) as found:
        yield found


def ask(client, name, accept, query=""):
    headers = {"Content-Type": "application/json", "Accept": accept}
    return client.post(f"/v1/{name}{query}", content=BODIES[name], headers=headers)


@pytest.fixture(scope="module")
def job(headings, request_reader):
    """The example's reply, and the figures of its styles."""
    reply = workroom.estimate(request_reader.read("estimate", BODIES["estimate"]), headings)
    return reply, {style: workroom.heading(style, headings, reply.units) for style in reply.made_with.styles}


@pytest.mark.parametrize(
    ("accept", "query", "asked"),
    [
        (SVG, "", PaperAsked()),
        (SVG, "?drawing=hang", PaperAsked(drawing="hang")),
        (SVG, "?drawing=panel-finished&window=1&panel=2", PaperAsked(drawing="panel-finished", panel=2)),
        (SVG, "?drawing=cut-plan&layer=1", PaperAsked(drawing="cut-plan", layer=1)),
        (SVG, "?drawing=heading", PaperAsked(drawing="heading")),
        (HTML, "", PaperAsked(paper="ticket")),
        (HTML, "?sheet=letter&window=1", PaperAsked(sheet="letter", window=1)),
        (PDF, "", PaperAsked(paper="tape")),
        (PDF, "?panel=2&sheet=roll", PaperAsked(panel=2, sheet="roll")),
        (PDF, "?paper=ticket&sheet=letter", PaperAsked(paper="ticket", sheet="letter")),
    ],
)
def test_a_job_comes_as_the_paper_that_is_asked_for(client, job, accept, query, asked):
    reply = ask(client, "estimate", accept, query)
    assert reply.status_code == 200, reply.text
    assert reply.headers["content-type"].partition(";")[0] == accept
    assert reply.headers["vary"] == "accept"
    assert reply.content == job_paper(*job, asked, accept)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("accept", [SVG, HTML, PDF])
@pytest.mark.parametrize("name", ["pleats", "pins"])
def test_a_flat_panel_comes_on_paper(client, headings, request_reader, name, accept, side):
    make = {"pleats": workroom.pleats_paper, "pins": workroom.pins_paper}[name]
    panel = make(request_reader.read(name, BODIES[name]), headings, side)
    reply = ask(client, name, accept, f"?side={side}")
    assert reply.status_code == 200
    assert reply.content == panel_paper(panel, PaperAsked(side=side), accept)
    assert (ask(client, name, accept).content == reply.content) == (side == "right")


def test_a_ticket_may_use_its_own_style_and_nothing_else(client):
    reply = ask(client, "estimate", HTML)
    policy = reply.headers["content-security-policy"]
    assert policy.startswith(f"default-src 'none'; style-src '{STYLE_HASH}';")
    assert reply.headers["content-type"] == "text/html; charset=utf-8"


@pytest.mark.parametrize(("query", "file"), [("", "marking-tape.pdf"), ("?paper=ticket", "bench-ticket.pdf")])
def test_a_pdf_has_a_name_to_be_kept_under(client, query, file):
    assert ask(client, "estimate", PDF, query).headers["content-disposition"] == f'inline; filename="{file}"'


def test_a_style_is_drawn(client):
    reply = client.get("/v1/headings/goblet?units=cm", headers={"Accept": SVG})
    assert reply.status_code == 200
    assert reply.headers["content-type"] == SVG
    assert reply.text.startswith("<svg ")
    assert client.get("/v1/headings/goblet?units=cm").json()["style"] == "goblet"


@pytest.mark.parametrize(
    ("accept", "form"),
    [
        ("*/*", "application/json"),
        ("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", HTML),
        ("application/pdf;q=0.5, image/svg+xml", SVG),
        ("application/json, application/pdf;q=0.9", "application/json"),
        ("image/*", SVG),
    ],
)
def test_the_form_that_is_liked_best_is_given(client, accept, form):
    assert ask(client, "estimate", accept).headers["content-type"].partition(";")[0] == form


@pytest.mark.parametrize(
    ("query", "pointers"),
    [
        ("?drawing=elevation", ["/drawing"]),
        ("?window=0&panel=x&layer=-1", ["/layer", "/panel", "/window"]),
        ("?window=51", ["/window"]),
        ("?window=1&window=2", ["/window", "/window"]),
        ("?colour=red&sheet=A4", ["/colour", "/sheet"]),
        ("?window=%C2%B2", ["/window"]),
    ],
)
@pytest.mark.parametrize("accept", ["application/json", SVG, PDF])
def test_everything_that_is_wrong_with_a_query_is_told_at_once(client, query, pointers, accept):
    reply = ask(client, "estimate", accept, query)
    assert reply.status_code == 400
    assert reply.headers["content-type"] == "application/problem+json"
    assert [error["pointer"] for error in reply.json()["errors"]] == pointers


@pytest.mark.parametrize(
    ("accept", "query", "pointer"),
    [
        (SVG, "?window=2", "/window"),
        (HTML, "?window=2", "/window"),
        (PDF, "?window=2", "/window"),
        (SVG, "?drawing=cut-plan&layer=9", "/layer"),
        (HTML, "?sheet=roll", "/sheet"),
        (PDF, "?paper=ticket&sheet=roll", "/sheet"),
    ],
)
def test_a_paper_that_there_is_none_of_is_a_422_in_json(client, accept, query, pointer):
    reply = ask(client, "estimate", accept, query)
    assert reply.status_code == 422
    assert reply.headers["content-type"] == "application/problem+json"
    assert [error["pointer"] for error in reply.json()["errors"]] == [pointer]


@pytest.mark.parametrize("accept", [SVG, HTML, PDF])
def test_a_job_that_cannot_be_made_is_a_problem_whatever_the_form(client, accept):
    body = json.loads(BODIES["estimate"])
    body["windows"][0]["fabric"] = "nothing known"
    reply = client.post("/v1/estimate", json=body, headers={"Accept": accept})
    assert reply.status_code == 422
    assert reply.json()["errors"][0]["pointer"] == "/windows/0/fabric"


@pytest.mark.parametrize("name", ["panel", "hang", "repeat"])
def test_what_has_no_papers_says_so(client, name):
    body = (EXAMPLES / f"{name}.json").read_bytes()
    headers = {"Content-Type": "application/json", "Accept": PDF}
    assert client.post(f"/v1/{name}", content=body, headers=headers).status_code == 406


def test_the_same_request_gives_the_same_bytes(client):
    for accept in (SVG, HTML, PDF):
        assert ask(client, "estimate", accept).content == ask(client, "estimate", accept).content
