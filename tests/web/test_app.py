"""The service over HTTP: what each address answers, and how each failure is told."""

import copy
import json
import logging
import time
from importlib.metadata import EntryPoint, distributions, entry_points
from pathlib import Path
from urllib.parse import quote

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from litestar.testing import TestClient

from pleatwright.contract.openapi import document
from pleatwright.contract.problems import KINDS
from pleatwright.headings.contract import ENTRY_POINT_GROUP
from pleatwright.headings.host import RefusedError, find_headings
from pleatwright.web.app import create_app
from pleatwright.web.settings import Settings

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
BODIES = {path.stem: path.read_bytes() for path in sorted(EXAMPLES.glob("*.json"))}
OPERATIONS = ("panel", "pleats", "pins", "repeat", "estimate")
GETS = ("/v1/headings", "/v1/headings/three-fold-pinch", "/openapi.json", "/health/live", "/health/ready")
JSON = {"Content-Type": "application/json"}
MSGPACK = {"Accept": "application/msgpack"}
ABSENT = object()
STYLES = tuple(find_headings().installed)


@pytest.fixture(scope="module")
def client(headings):
    with TestClient(create_app(Settings(), headings)) as client:
        yield client


@pytest.fixture(scope="module")
def problem_schema(headings):
    return Draft202012Validator(
        {"$ref": "#/components/schemas/Problem", "components": document(headings.options)["components"]}
    )


@pytest.fixture
def told(problem_schema):
    """Return a check that a reply is a problem of one status, which gives the problem."""

    def check(reply, status):
        assert reply.status_code == status, reply.text
        assert reply.headers["content-type"] == "application/problem+json"
        problem = reply.json()
        problem_schema.validate(problem)
        assert problem["status"] == status
        assert problem["type"] == KINDS[status].address
        assert problem["detail"].endswith((".", "?", "…"))
        assert "Traceback" not in reply.text
        assert ".py" not in reply.text
        return problem

    return check


def changed(name, changes):
    """Return an example with the values at these JSON Pointers changed, added or left out."""
    request = json.loads(BODIES[name])
    for pointer, value in changes.items():
        *way, last = [int(part) if part.isdecimal() else part for part in pointer.split("/")[1:]]
        place = request
        for part in way:
            place = place[part] if isinstance(place, list) else place.setdefault(part, {})
        if value is ABSENT:
            del place[last]
        else:
            place[last] = value
    return request


def post(client, operation, request, **headers):
    body = request if isinstance(request, bytes) else json.dumps(request).encode()
    return client.post(f"/v1/{operation}", content=body, headers=JSON | headers)


def test_panel_gives_the_panels_of_a_window(client):
    reply = post(client, "panel", BODIES["panel"])
    assert reply.status_code == 200
    assert reply.headers["content-type"] == "application/json"
    left, right = reply.json()["panels"]
    assert left == {
        "side": "left",
        "finished_width": 53,
        "finished_length": 83.25,
        "widths": 2.5,
        "flat_width": 127,
        "fullness": 2.396,
        "cut_length": 99.25,
        "raised_cut_length": 101,
        "seams": [{"at": 50.5}, {"at": 103.5}],
        "leading_return": 0,
        "overlap": 3,
        "return": 3.5,
        "sewn": {
            "side_hem": 3,
            "side_hem_depth": None,
            "bottom_hem": 8,
            "bottom_hem_depth": None,
            "top_turning": 8,
            "seam_allowance": 0.5,
        },
    }
    assert right == left | {"side": "right"}


def test_pleats_gives_a_layout_that_hides_both_seams(client):
    reply = post(client, "pleats", BODIES["pleats"]).json()
    assert reply["pleat_count"] == 13
    assert reply["space_count"] == 12
    assert reply["space"] == 3.875
    assert reply["take_up"] == {"least": 5.604, "most": 6.125}
    assert reply["stations"][0] == {"kind": "overlap", "start": 0, "end": 3}
    assert reply["stations"][-1] == {"kind": "return", "start": 123.5, "end": 127}
    assert [seam["place"] for seam in reply["seams"]] == ["beside-pleat", "beside-pleat"]
    assert reply["cures"] == []
    assert reply["cautions"] == []


def test_pins_gives_a_pin_to_each_pleat_and_flat_piece(client):
    reply = post(client, "pins", BODIES["pins"]).json()
    assert reply["pin_depth"] == 1.625
    assert reply["pin_count"] == len(reply["pins"]) == 15
    assert [pin["on"] for pin in reply["pins"]] == ["overlap", *["pleat"] * 13, "return"]
    assert reply["pins"][1]["flat"] == reply["pins"][1]["finished"] == 3
    assert reply["pins"][2]["finished"] == 6.875


def test_repeat_gives_the_shortest_run(client):
    reply = post(client, "repeat", BODIES["repeat"]).json()
    assert reply["raised_cut_length"] == 126.25
    assert reply["run_length"] == 679.875
    assert reply["order"] == {"length": 684, "quantity": "19 yd"}
    assert reply["order_quantity"] == 684
    assert reply["rule_of_thumb_length"] == 833.25
    assert [cut["start"] for cut in reply["sequence"]] == [0, 113.625, 227.25, 340.875, 454.5, 568.125]


def test_estimate_gives_a_whole_job(client):
    reply = post(client, "estimate", BODIES["estimate"]).json()
    [window] = reply["windows"]
    for panel in window["panels"]:
        assert panel["finished_width"] == 65
        assert panel["finished_length"] == 95.75
        assert panel["widths"] == 3
        assert panel["flat_width"] == 154
        assert panel["cut_length"] == 111.75
        assert panel["pleats"]["stations"][-1]["end"] == 154
        assert panel["pins"]["pin_depth"] == 1.625
    assert window["cuts"]["run_length"] == 743
    [fabric] = reply["materials"].pop("fabrics")
    assert (fabric["fabric"], fabric["length"], fabric["quantity"]) == ("Teasel, rust on oat", 747, "20 3/4 yd")
    assert (fabric["cuts"], fabric["run_length"], fabric["shelf"]) == (6, 743, None)
    assert [cut["start"] for cut in fabric["sequence"]] == [126.25 * place for place in range(6)]
    # Six raised cuts of 126 1/4 are 757 1/2.
    assert (fabric["rule_of_thumb_length"], fabric["rule_of_thumb_waste"]) == (757.5, 14.5)
    [lining] = reply["materials"].pop("layers")
    assert len(lining.pop("sequence")) == 6
    assert lining == {
        "layer": "lining",
        "cloth": None,
        "width": None,
        "length": 598.5,
        "quantity": "16 5/8 yd",
        "cuts": 6,
    }
    assert reply["materials"] == {
        "sundries": [
            {"kind": "buckram", "size": {"least": 4, "most": 4}, "length": 310.5, "quantity": "8 5/8 yd"},
        ],
        "pins": sum(panel["pleats"]["pleat_count"] + 2 for panel in window["panels"]),
    }
    assert {caution["kind"] for caution in reply["cautions"]} >= {"cords", "heat-and-flame", "load"}
    assert reply["made_with"]["styles"].keys() == {"three-fold-pinch"}


def test_an_estimate_in_centimetres_is_answered_in_centimetres(client):
    reply = post(client, "estimate", BODIES["estimate-metric"]).json()
    stair, study = reply["windows"]
    [panel] = stair["panels"]
    assert reply["units"] == "cm"
    assert panel["side"] == "left"
    assert panel["finished_width"] == 189
    assert panel["finished_length"] == 257.6
    assert panel["flat_width"] == 430.2
    assert panel["cut_length"] == 297.6
    assert [each["finished_width"] for each in study["panels"]] == [92.75, 137.75]
    assert reply["materials"]["fabrics"][0]["quantity"].endswith(" m")
    assert stair["materials"]["layers"] == []


def test_headings_are_listed_with_their_figures(client, headings):
    reply = client.get("/v1/headings").json()
    by_style = {each["style"]: each for each in reply["headings"]}
    assert list(by_style) == sorted(headings.installed)
    assert reply["refused"] == []
    assert by_style["three-fold-pinch"]["take_up"] == {"least": 4, "usual": 5.5, "most": 7}
    assert by_style["three-fold-pinch"]["materials"] == [{"kind": "buckram", "per": "flat-width", "size": 4}]


@pytest.mark.parametrize(
    ("query", "thickness", "stack"),
    [
        # Left out, a usual 1/32 in or 0.8 mm.
        ({}, 0.03125, 0.95),
        ({"units": "cm"}, 0.08, 2.4),
        ({"units": "mm"}, 0.8, 24),
        ({"cloth_thickness": "1/16"}, 0.0625, 1.7),
        ({"units": "in", "cloth_thickness": "1 mm"}, 0.03937, 1.145),
        ({"units": "cm", "cloth_thickness": "0.1"}, 0.1, 2.88),
        ({"units": "cm", "cloth_thickness": "1/16 in"}, 0.15875, 4.29),
        ({"units": "mm", "cloth_thickness": "1"}, 1, 28.8),
        ({"units": "mm", "cloth_thickness": "0.2 cm"}, 2, 52.8),
    ],
)
def test_the_stack_is_reckoned_for_the_cloth_asked(query, thickness, stack, client):
    """Geometry: six thicknesses of a three-fold pleat, and two of the space folded behind it.

    Each is the cloth three times, on the face and in the turning round the buckram, and the buckram: 0.6 mm or 1/40 in.
    """
    alone = client.get("/v1/headings/three-fold-pinch", params=query).json()
    listed = client.get("/v1/headings", params=query).json()["headings"]
    [same] = [each for each in listed if each["style"] == "three-fold-pinch"]
    assert same == alone
    assert alone["cloth_thickness"] == pytest.approx(thickness, abs=1e-6)
    assert alone["stack_each"] == pytest.approx(stack, abs=5e-4)


@pytest.mark.parametrize("address", ["/v1/headings", "/v1/headings/three-fold-pinch"])
@pytest.mark.parametrize(
    ("asked", "status", "words"),
    [
        ("", 400, "is empty"),
        ("1,5", 400, "two meanings: write 1.5 with a point"),
        ("thin", 400, "the units are in, ft, yd, mm, cm and m"),
        ("1 MM", 400, "in small letters"),
        ("-1 mm", 400, "leave out the minus sign"),
        ("1/0", 400, "divides by zero"),
        ("1e-3", 400, "exponent"),
        ("0." + "1" * 39, 400, "over 40 characters"),
        ("2000 m", 422, "longer than 1000 m"),
        ("40000", 422, "longer than 1000 m"),
        ("1/100000000", 422, "smaller than can be measured"),
    ],
)
def test_a_thickness_that_is_none_is_refused_in_words(asked, status, words, address, client, told):
    """One that breaks the grammar of lengths is a 400, one that keeps it and is no thickness a 422."""
    [error] = told(client.get(address, params={"cloth_thickness": asked}), status)["errors"]
    assert error["pointer"] == "/cloth_thickness"
    assert words in error["detail"]
    assert len(error["detail"]) < 200


@pytest.mark.parametrize("style", STYLES)
def test_a_window_takes_the_materials_that_its_style_says(style, client):
    figures = client.get(f"/v1/headings/{style}").json()
    needed = {each["kind"]: each["per"] for each in figures["materials"]}
    # Without a fullness the usual one is taken, and an overlap only where edges can cross.
    changes = {
        "/windows/0/heading": {"style": style},
        "/windows/0/fullness": None,
        "/windows/0/rod/overlap": None,
        "/windows/0/hang/heading_above": None,
        "/windows/0/pin": {},
    }
    [window] = post(client, "estimate", changed("estimate", changes)).json()["windows"]
    counts = {
        "pleat": sum(panel["pleats"]["pleat_count"] for panel in window["panels"]),
        "point": sum((panel["pleats"]["points"] or {"count": 0})["count"] for panel in window["panels"]),
    }
    taken = {each["kind"]: each for each in window["materials"]["sundries"]}
    assert taken.keys() == needed.keys()
    for kind, per in needed.items():
        assert taken[kind].get("count") == counts.get(per)
        assert ("length" in taken[kind]) == (per in ("flat-width", "finished-width"))


def test_a_heading_is_described_in_the_units_asked(client):
    """4 in are 101.6 mm, 5 1/2 in 139.7 mm, 7 in 177.8 mm."""
    pinch = client.get("/v1/headings/three-fold-pinch?units=mm").json()
    assert pinch["units"] == "mm"
    assert (pinch["buckram_depth"], pinch["stitching_length"], pinch["hand_tacks"]) == (101.6, 101.6, 1)
    assert pinch["take_up"] == {"least": 101.6, "usual": 139.7, "most": 177.8}
    assert pinch["materials"] == [{"kind": "buckram", "per": "flat-width", "size": 101.6}]


@pytest.mark.parametrize("style", STYLES)
def test_a_style_tells_how_it_is_made_and_what_it_can_be_asked(style, client):
    figures = client.get(f"/v1/headings/{style}").json()
    assert len(figures["making"]) > 10
    sewn = figures["layout"] == "pleats"
    assert figures["depth"] > 0
    assert figures["stitching_length"] == figures["buckram_depth"] == (figures["depth"] if sewn else None)
    assert all((figures[name] is not None) == sewn for name in ("take_up", "space", "folds", "stitched", "tacked"))
    assert (figures["gap"] is not None) == (figures["layout"] == "points")
    Draft202012Validator.check_schema(figures["options"])
    options = Draft202012Validator(figures["options"])
    assert options.is_valid({"style": style})
    assert options.is_valid({"style": style, "buckram_depth": "5 in", "take_up": {"usual": 6}}) == sewn
    assert not options.is_valid({"style": style, "no_such_option": "round"})
    assert not any(options.is_valid({"style": other}) for other in STYLES if other != style)


def test_the_contract_is_given_as_it_is_committed(client):
    assert client.get("/openapi.json").content == (EXAMPLES.parent / "openapi.json").read_bytes()


def test_health_tells_that_the_service_is_alive_and_ready(client):
    assert client.get("/health/live").json() == {"status": "live"}
    assert client.get("/health/ready").json() == {"status": "ready", "refused": [], "rates": None}


@pytest.mark.parametrize("name", BODIES)
def test_msgpack_and_json_say_the_same(name, client):
    operation = name.partition("-")[0]
    packed = post(client, operation, BODIES[name], **MSGPACK)
    assert packed.headers["content-type"] == "application/msgpack"
    assert msgspec.msgpack.decode(packed.content) == post(client, operation, BODIES[name]).json()


@pytest.mark.parametrize("address", GETS)
def test_msgpack_and_json_say_the_same_of_what_is_fetched(address, client):
    packed = client.get(address, headers=MSGPACK)
    assert packed.headers["content-type"] == "application/msgpack"
    assert msgspec.msgpack.decode(packed.content) == client.get(address).json()


@pytest.mark.parametrize("name", BODIES)
def test_the_same_request_gives_the_same_bytes_from_any_process_of_the_service(name, client, headings):
    operation = name.partition("-")[0]
    first = post(client, operation, BODIES[name])
    with TestClient(create_app(Settings(), headings)) as another:
        again = post(another, operation, json.loads(BODIES[name]))
    assert post(client, operation, BODIES[name]).content == first.content == again.content


@pytest.mark.parametrize("operation", OPERATIONS)
def test_a_worksheet_comes_when_it_is_asked_for(operation, client):
    shown = post(client, operation, changed(operation, {"/worksheet": True})).json()
    hidden = post(client, operation, changed(operation, {"/worksheet": False})).json()
    steps = shown.pop("worksheet")
    assert steps
    assert all(step["name"] and step["formula"] and step["figures"] for step in steps)
    assert shown == hidden


@pytest.mark.parametrize(
    "accept",
    ["*/*", "application/json", "application/*", "application/json;q=0.5", "text/html, application/json;q=0.1"],
)
def test_json_is_what_most_clients_get(accept, client):
    assert client.get("/health/live", headers={"Accept": accept}).headers["content-type"] == "application/json"


@pytest.mark.parametrize(
    "accept", ["application/msgpack;q=0.9, application/json;q=0.1", "application/msgpack, */*;q=0.1"]
)
def test_the_form_a_client_prefers_is_the_one_it_gets(accept, client):
    assert client.get("/health/live", headers={"Accept": accept}).headers["content-type"] == "application/msgpack"


@pytest.mark.parametrize("accept", ["text/html", "application/xml, text/plain", "image/png", "nonsense", ","])
@pytest.mark.parametrize("address", GETS)
def test_a_form_that_no_reply_comes_in_is_refused(address, accept, client, told):
    problem = told(client.get(address, headers={"Accept": accept}), 406)
    assert "application/json" in problem["detail"]
    assert "application/msgpack" in problem["detail"]


def test_a_form_that_no_reply_comes_in_is_refused_to_whoever_posts(client, told):
    told(post(client, "repeat", BODIES["repeat"], Accept="text/html"), 406)


@pytest.mark.parametrize(
    "address",
    [
        "/v1",
        "/v1/panels",
        "/v2/panel",
        "/docs",
        "/schema",
        "/v1/headings/three-fold-pinch/options",
        "//v1/headings",
        "/%00",
    ],
)
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_an_address_where_there_is_nothing_is_not_found(method, address, client, told):
    assert "/openapi.json" in told(client.request(method, address), 404)["detail"]


@pytest.mark.parametrize(
    "style", ["no-such", "THREE-FOLD-PINCH", "%00", "three-fold-pinch%20", "x" * 500, "%F0%9F%AA%A1", "..", "three%C3"]
)
def test_a_style_that_is_not_installed_is_not_found_and_the_others_are_named(style, client, told, headings):
    problem = told(client.get(f"/v1/headings/{style}"), 404)
    if style != "..":
        assert ", ".join(sorted(headings.installed)) in problem["detail"]
    assert "xxx" not in problem["detail"]


@pytest.mark.parametrize("method", ["GET", "PUT", "PATCH", "DELETE"])
@pytest.mark.parametrize("operation", OPERATIONS)
def test_another_method_than_post_is_refused_with_the_one_to_use(operation, method, client, told):
    reply = client.request(method, f"/v1/{operation}")
    problem = told(reply, 405)
    assert "POST" in reply.headers["allow"].split(", ")
    assert method not in reply.headers["allow"]
    assert "Allow" in problem["detail"]


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE"])
@pytest.mark.parametrize("address", GETS)
def test_another_method_than_get_is_refused_with_the_one_to_use(address, method, client, told):
    reply = client.request(method, address)
    told(reply, 405)
    assert "GET" in reply.headers["allow"].split(", ")
    assert method not in reply.headers["allow"]


@pytest.mark.parametrize(
    "content_type",
    [
        "text/plain",
        "application/msgpack",
        "application/x-www-form-urlencoded",
        "multipart/form-data",
        "text/json",
        "",
        "x",
    ],
)
@pytest.mark.parametrize("operation", OPERATIONS)
def test_a_body_that_is_not_called_json_is_refused(operation, content_type, client, told):
    reply = client.post(f"/v1/{operation}", content=BODIES[operation], headers={"Content-Type": content_type})
    assert "Content-Type application/json" in told(reply, 415)["detail"]


def test_a_body_that_is_not_called_anything_is_refused(client, told):
    assert "Content-Type application/json" in told(client.post("/v1/repeat", content=BODIES["repeat"]), 415)["detail"]


@pytest.mark.parametrize("content_type", ["application/json; charset=utf-8", "Application/JSON", "application/json;"])
def test_json_may_be_called_so_in_any_way_that_http_allows(content_type, client):
    reply = client.post("/v1/repeat", content=BODIES["repeat"], headers={"Content-Type": content_type})
    assert reply.status_code == 200


@pytest.mark.parametrize("operation", OPERATIONS)
@pytest.mark.parametrize("body", [b"", b" ", b"{", b"\xff", b"NaN", b"[" * 100_000, b"{} {}"])
def test_a_body_that_is_not_json_is_refused(operation, body, client, told):
    problem = told(post(client, operation, body), 400)
    assert "errors" not in problem
    assert "JSON" in problem["detail"] or "nested too deeply" in problem["detail"]


@pytest.mark.parametrize("operation", OPERATIONS)
@pytest.mark.parametrize("body", [b"null", b"[]", b"5", b'"panel"', b"true", b"{}"])
def test_json_that_is_no_request_is_refused(operation, body, client, told):
    assert told(post(client, operation, body), 400)["errors"]


def test_a_refusal_lists_every_fault_and_its_detail_speaks_of_the_first(client, told):
    wrong = {"/fabric/width": ABSENT, "/rod/return": "3,5", "/fullness": "250%", "/rod/colour": "oat"}
    request = changed("panel", wrong)
    problem = told(post(client, "panel", request), 400)
    pointers = [error["pointer"] for error in problem["errors"]]
    assert sorted(pointers) == ["/fabric/width", "/fullness", "/rod/colour", "/rod/return"]
    assert problem["detail"].startswith(f"{pointers[0]}: {problem['errors'][0]['detail']}")
    assert "(and 3 more)" in problem["detail"]


def test_a_length_that_breaks_the_grammar_is_against_the_contract_whatever_else_is_wrong(client, told):
    request = changed("pleats", {"/flat_width": "127 ells", "/finished_width": "5"})
    problem = told(post(client, "pleats", request), 400)
    assert [error["pointer"] for error in problem["errors"]] == ["/flat_width"]


@pytest.mark.parametrize("length", ["1001 m", "40000 in", "3 5/4", "7' 24/2\"", "9999999999 yd", 39_371])
def test_a_length_that_the_contract_allows_and_no_cloth_has_is_impossible(length, client, told):
    problem = told(post(client, "pleats", changed("pleats", {"/flat_width": length})), 422)
    assert [error["pointer"] for error in problem["errors"]] == ["/flat_width"]


UNREADABLE = [
    ("panel", "/fabric/width", ABSENT, "/fabric/width", "add it"),
    ("panel", "/rod/widht", "96", "/rod/widht", 'did you mean "width"?'),
    ("panel", "/rod/width", "96,5", "/rod/width", "write 96.5 with a point"),
    ("panel", "/rod/width", "8 feet 14 in", "/rod/width", "go up to 11"),
    ("panel", "/fullness", "250%", "/fullness", "Write 2.5 or 3.5"),
    ("panel", "/fullness", 0.5, "/fullness", "from 1 to 6"),
    ("panel", "/heading/style", "pinch", "/heading/style", "three-fold-pinch"),
    ("panel", "/hang/to", "ground", "/hang/to", "floor"),
    ("pleats", "/seams", "50 1/2", "/seams", "a list"),
    ("pleats", "/pleat_count", 13.5, "/pleat_count", "a whole number"),
    ("repeat", "/cuts", 0, "/cuts", "1 or more"),
    ("repeat", "/drop_match", "quarter", "/drop_match", "straight"),
    ("estimate", "/windows", [], "/windows", "1"),
]


@pytest.mark.parametrize(("operation", "pointer", "value", "place", "remedy"), UNREADABLE)
def test_a_request_that_cannot_be_read_is_told_what_to_change(operation, pointer, value, place, remedy, client, told):
    problem = told(post(client, operation, changed(operation, {pointer: value})), 400)
    assert problem["detail"].startswith(f"{place}: ")
    assert remedy in problem["detail"]


IMPOSSIBLE = [
    ("panel", {"/rod/width": 0}, "/rod/width", "more than nothing"),
    ("panel", {"/rod/draw": "off-centre-pair"}, "/rod/parting", "where it parts, measured from the left end"),
    ("panel", {"/rod/draw": "fixed-pair", "/rod/overlap": "0"}, "/rod/panel_width", "face that each panel covers"),
    ("panel", {"/rod/parting": "30"}, "/rod/parting", "leave it out, or change the draw"),
    ("panel", {"/hang/to": "sill"}, "/hang/to_height", "give the height of the sill above the floor"),
    ("panel", {"/hang/to_height": "30"}, "/hang/to_height", "leave it out"),
    ("panel", {"/hang/to": "apron", "/hang/to_height": "90"}, "/hang/carrying_height", "above what the panel hangs to"),
    ("panel", {"/hang/to": "puddle", "/hang/clearance": "1"}, "/hang/clearance", "its clearance is negative"),
    ("panel", {"/fabric/width": "1"}, "/fabric/width", "must be more than 1 in"),
    ("panel", {"/rod/width": "5000"}, "/fullness", "use a wider cloth, less fullness, or more panels"),
    ("panel", {"/make_up": {"widths": "whole", "width_count": 2.5}}, "/make_up/width_count", "ask for whole widths"),
    ("pleats", {"/flat_width": "50", "/seams": []}, "/flat_width", "give more than 53 in"),
    ("pleats", {"/flat_width": "300"}, "/flat_width", "from 101 in to 165 in: use less cloth"),
    ("pleats", {"/finished_width": "5"}, "/finished_width", "must be more than 6 1/2 in"),
    ("pleats", {"/finished_width": "8"}, "/finished_width", "equal spaces of 3 in to 4 1/2 in"),
    ("pleats", {"/pleat_count": 20}, "/pleat_count", "ask for 12 to 16, or leave the count open"),
    ("pleats", {"/seams": ["103", "50"]}, "/seams/1", "more than 103 in and less than 127 in"),
    ("pleats", {"/heading/take_up": {"least": "8", "most": "7"}}, "/heading/take_up", "the least, the usual, the most"),
    ("pins", {"/pin/rise": "5"}, "/pin/rise", "use a pin of less rise, a deeper buckram"),
    ("pins", {"/heading_above": "-1"}, "/heading_above", "reach the carrying point or above it"),
    ("repeat", {"/cut_length": "0"}, "/cut_length", "more than nothing"),
    ("estimate", {"/windows/0/fabric": "Teasel"}, "/windows/0/fabric", "add it to the job"),
    ("estimate", {"/windows/0/lining": {"shorter": "8 ft"}}, "/windows/0/lining/shorter", "nothing of the lining"),
    ("estimate", {"/windows/0/fullness": 1}, "/windows/0/fullness", "use more cloth"),
]


@pytest.mark.parametrize(("operation", "changes", "place", "remedy"), IMPOSSIBLE)
def test_figures_that_make_no_covering_are_told_what_to_change(operation, changes, place, remedy, client, told):
    problem = told(post(client, operation, changed(operation, changes)), 422)
    assert [error["pointer"] for error in problem["errors"]] == [place]
    assert problem["detail"].startswith(f"{place}: ")
    assert remedy in problem["detail"]


def test_the_faults_of_every_window_are_told_at_once(client, told):
    first = json.loads(BODIES["estimate"])["windows"][0]
    windows = [copy.deepcopy(first) | {"label": label} for label in ("one", "two", "three")]
    windows[0]["hang"] = {"carrying_height": "84", "to": "sill"}
    windows[2]["fabric"] = "Teasel"
    windows[2]["rod"] = {"width": "0", "return": "3"}
    problem = told(post(client, "estimate", changed("estimate", {"/windows": windows})), 422)
    pointers = {error["pointer"] for error in problem["errors"]}
    assert pointers == {"/windows/0/hang/to_height", "/windows/2/fabric", "/windows/2/rod/width"}


def test_a_clearance_that_leaves_no_length_is_not_blamed_on_a_height_that_is_right(client, told):
    problem = told(post(client, "panel", changed("panel", {"/hang/clearance": "100"})), 422)
    [error] = problem["errors"]
    assert error.get("allowed") != "more than 0 in"


def test_a_heading_above_the_buckram_is_not_answered_with_a_pin_of_negative_rise(client, told):
    problem = told(post(client, "pins", changed("pins", {"/heading_above": "6"})), 422)
    assert not any("-" in error.get("allowed", "") for error in problem["errors"])


@pytest.mark.parametrize("mark", ["1/64", "1/16", "1/8", "1/2", "1", "2", "4", "10", "100"])
def test_a_rule_too_coarse_for_the_panel_is_refused_and_never_loses_a_pleat(mark, client, told):
    reply = post(client, "pleats", changed("pleats", {"/mark": mark}))
    if reply.status_code == 422:
        assert told(reply, 422)["errors"][0]["pointer"] == "/mark"
        return
    stations = reply.json()["stations"]
    pleats = [station["end"] - station["start"] for station in stations if station["kind"] == "pleat"]
    spaces = [station["end"] - station["start"] for station in stations if station["kind"] == "space"]
    assert len(pleats) == reply.json()["pleat_count"]
    assert len(spaces) == reply.json()["space_count"]
    assert all(4 <= take_up <= 7 for take_up in pleats)
    assert all(3 <= space <= 4.5 for space in spaces)


def test_an_overlap_wider_than_the_rod_is_refused(client, told):
    problem = told(post(client, "panel", changed("panel", {"/rod/overlap": "200"})), 422)
    assert [error["pointer"] for error in problem["errors"]] == ["/rod/overlap"]


@pytest.mark.parametrize("address", ["/v1/headings", "/v1/headings/three-fold-pinch"])
@pytest.mark.parametrize("units", ["ft", "", "IN", "in,cm", "x" * 5000, "%FF", "null"])
def test_units_that_are_not_known_are_refused_and_the_known_ones_named(address, units, client, told):
    problem = told(client.get(f"{address}?units={units}"), 400)
    [error] = problem["errors"]
    assert error["allowed"] == "in, cm, mm"
    assert all(len(text) < 200 for text in error.values())
    assert "in, cm, mm" in problem["detail"] or "in, cm or mm" in problem["detail"]


@pytest.fixture(scope="module")
def narrow(headings):
    """A service that reads 1024 bytes and no more."""
    with TestClient(create_app(Settings(largest_request=1024), headings)) as client:
        yield client


def padded(length):
    return BODIES["repeat"].ljust(length)


def in_chunks(body):
    yield from (body[start : start + 100] for start in range(0, len(body), 100))


@pytest.mark.parametrize("sent", [padded, lambda length: in_chunks(padded(length))], ids=["whole", "chunked"])
def test_a_body_of_exactly_the_limit_is_read_and_one_byte_more_is_not(sent, narrow, told):
    assert narrow.post("/v1/repeat", content=sent(1024), headers=JSON).status_code == 200
    problem = told(narrow.post("/v1/repeat", content=sent(1025), headers=JSON), 413)
    assert problem["title"] == "The request is too large"


def test_a_body_over_the_limit_is_refused_even_if_it_is_nonsense(narrow, told):
    told(narrow.post("/v1/estimate", content=b"[" * 300_000, headers=JSON), 413)


def test_the_usual_limit_is_256_kib(client, told):
    assert client.post("/v1/repeat", content=padded(256 * 1024), headers=JSON).status_code == 200
    told(client.post("/v1/repeat", content=padded(256 * 1024 + 1), headers=JSON), 413)


def test_a_refusal_is_never_much_longer_than_what_it_refuses(client):
    fabrics = {f"{'x' * 4800}{number}": {"width": "54"} for number in range(50)}
    window = json.loads(BODIES["estimate"])["windows"][0] | {"fabric": "y"}
    request = {"units": "in", "windows": [window] * 20, "fabrics": fabrics}
    reply = post(client, "estimate", request)
    assert reply.status_code in (400, 422)
    assert len(reply.content) < 100_000


BRITTLE = '''
"""A style that breaks when it is asked for a buckram of its own."""
from pleatwright.headings import CONTRACT, Heading, Limits, Outline, Pleat, PleatOptions, Shape, hookimpl, inches


class Brittle(PleatOptions, frozen=True, tag="brittle"):
    """Options."""


def shape(take_up):
    return Shape(Outline().line(take_up / 2, 0).line(0, 0), take_up / 2, 2)


def pleat(options, measure):
    if options.buckram_depth is not None:
        raise RuntimeError("the secret of the brittle pleat")
    limits = Limits(inches("4"), inches("5"), inches("7"))
    return Pleat(1, "face", "top", 1, inches("4"), limits, limits, shape).with_options(options, measure)


@hookimpl
def pleatwright_headings():
    yield Heading(CONTRACT, "Brittle", "Breaks when it is asked.", "Fold and stitch.", Brittle, pleat)
'''


def plugin(place, package, module, source):
    """Write a package with a heading plugin, installed at `place`, and return its entry points."""
    (place / f"{module}.py").write_text(source)
    information = place / f"{package}-2.1.dist-info"
    information.mkdir()
    (information / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {package}\nVersion: 2.1\n")
    (information / "entry_points.txt").write_text(f"[{ENTRY_POINT_GROUP}]\n{module} = {module}\n")
    return [point for each in distributions(name=package, path=[str(place)]) for point in each.entry_points]


@pytest.fixture
def brittle(tmp_path, monkeypatch):
    """A service with the styles installed, a brittle one, and plugins that cannot be used."""
    monkeypatch.syspath_prepend(tmp_path)
    points = [
        *entry_points(group=ENTRY_POINT_GROUP),
        *plugin(tmp_path, "Thornfield", "thornfield_brittle", BRITTLE),
        *plugin(tmp_path, "Unsewn", "unsewn_styles", "import there_is_no_such_module"),
        EntryPoint("nowhere", "there_is_no_such_module", ENTRY_POINT_GROUP),
    ]
    with TestClient(create_app(Settings(), find_headings(found=points))) as client:
        yield client


@pytest.mark.parametrize("operation", ["panel", "pleats", "pins", "estimate"])
def test_a_style_that_breaks_is_named_and_its_trace_is_kept_from_the_client(operation, brittle, told, caplog):
    place = "/windows/0/heading" if operation == "estimate" else "/heading"
    request = changed(operation, {place: {"style": "brittle", "buckram_depth": "4"}})
    with caplog.at_level(logging.CRITICAL):
        reply = post(brittle, operation, request)
    problem = told(reply, 500)
    for word in ("brittle", "Thornfield", "2.1", "another style"):
        assert word in problem["detail"]
    assert "secret" not in reply.text
    assert "RuntimeError" not in reply.text


def test_a_style_that_breaks_is_told_to_whoever_keeps_the_service(brittle, caplog):
    post(brittle, "pleats", changed("pleats", {"/heading": {"style": "brittle", "buckram_depth": "4"}}))
    [record] = [record for record in caplog.records if record.name.startswith("pleatwright")]
    assert record.levelno == logging.ERROR
    assert "brittle" in record.getMessage()
    assert record.exc_info


def test_a_style_that_breaks_takes_no_other_request_along(brittle):
    assert post(brittle, "pleats", changed("pleats", {"/heading": {"style": "brittle"}})).status_code == 200
    assert post(brittle, "pleats", BODIES["pleats"]).status_code == 200


@pytest.mark.parametrize("address", ["/v1/headings", "/health/ready"])
def test_plugins_that_are_refused_are_shown_with_the_reason(address, brittle):
    reply = brittle.get(address)
    assert reply.status_code == 200
    refused = {each["plugin"]: each for each in reply.json()["refused"]}
    assert set(refused) == {"nowhere", "unsewn_styles"}
    assert refused["unsewn_styles"]["package"] == "Unsewn"
    assert refused["unsewn_styles"]["version"] == "2.1"
    assert "there_is_no_such_module" in refused["unsewn_styles"]["reason"]


def test_the_styles_that_are_left_are_served_when_a_plugin_is_refused(brittle, headings):
    styles = [each["style"] for each in brittle.get("/v1/headings").json()["headings"]]
    assert styles == sorted({*headings.installed, "brittle"})
    assert brittle.get("/v1/headings/brittle").json()["package"] == "Thornfield"


def test_a_strict_service_does_not_start_with_a_plugin_refused(tmp_path, monkeypatch):
    monkeypatch.syspath_prepend(tmp_path)
    plugin(tmp_path, "Unsewn", "unsewn_styles", "import there_is_no_such_module")
    assert create_app(Settings(strict=False))
    with pytest.raises(RefusedError, match=r"unsewn_styles of Unsewn 2\.1"):
        create_app(Settings(strict=True))


def test_the_settings_come_from_the_environment(monkeypatch, told):
    monkeypatch.setenv("PLEATWRIGHT_LARGEST_REQUEST", "1024")
    with TestClient(create_app()) as client:
        told(client.post("/v1/repeat", content=padded(1025), headers=JSON), 413)


LONGEST_WAIT = 10
"""Seconds of a slow processor; the work is bounded by count, and takes a tenth of this on a usual one."""
NARROW = {
    "style": "three-fold-pinch",
    "take_up": {"least": "2.93", "most": "2.96"},
    "space": {"least": "3.8", "most": "19"},
}
ODD_PANELS = {
    "evenly spread seams that narrow limits cannot hide": {
        "heading": NARROW,
        "flat_width": "5170",
        "finished_width": "4111",
        "seams": [round(5170 * seam / 201 * 64) / 64 for seam in range(1, 201)],
    },
    "seams side by side": {
        "heading": {"style": "three-fold-pinch"},
        "flat_width": "2250",
        "finished_width": "900",
        "seams": [sixtyfourth / 64 for sixtyfourth in range(1, 201)],
    },
    "seams in pairs a space apart": {
        "heading": {
            "style": "three-fold-pinch",
            "take_up": {"least": "2.768", "most": "27.6"},
            "space": {"least": "1.8", "most": "8.6"},
        },
        "flat_width": "19999",
        "finished_width": "5081",
        "seams": [round((196.7 * pair + aside) * 64) / 64 for pair in range(1, 101) for aside in (0, 5.1875)],
    },
}


@pytest.mark.parametrize("panel", ODD_PANELS.values(), ids=ODD_PANELS)
def test_no_panel_keeps_the_table_waiting(panel, client):
    start = time.process_time()
    reply = post(client, "pleats", {"units": "in", **panel})
    assert reply.status_code == 200, reply.text
    assert time.process_time() - start < LONGEST_WAIT


def test_no_job_keeps_the_table_waiting(client):
    window = json.loads(BODIES["estimate"])["windows"][0] | {
        "fabric": "wide",
        "rod": {"width": "17714", "return": 0, "overlap": 0, "draw": "off-centre-pair", "parting": "8945"},
        "heading": {
            "style": "three-fold-pinch",
            "take_up": {"least": "3.96", "most": "4.75"},
            "space": {"least": "7.4", "most": "37"},
        },
        "make_up": {"width_count": 100, "side_hem": 0},
    }
    start = time.process_time()
    reply = post(client, "estimate", {"units": "in", "windows": [window] * 5, "fabrics": {"wide": {"width": "110"}}})
    assert reply.status_code == 200, reply.text
    assert time.process_time() - start < LONGEST_WAIT


SERVICE = TestClient(create_app(Settings(), find_headings()))
ADDRESSES = (*(f"/v1/{name}" for name in OPERATIONS), *GETS)
HEADER_TEXTS = st.text(st.characters(min_codepoint=32, max_codepoint=126), max_size=40)
PATHS = st.sampled_from(ADDRESSES) | st.binary(max_size=30).map(lambda path: "/" + quote(path))


@settings(max_examples=400, deadline=None, derandomize=True)
@given(
    st.sampled_from(["GET", "POST", "PUT", "DELETE", "PATCH", "HEAD", "OPTIONS"]),
    PATHS,
    st.binary(max_size=200) | st.sampled_from(sorted(BODIES.values())),
    st.just("application/json") | HEADER_TEXTS,
    st.just("*/*") | HEADER_TEXTS,
    st.binary(max_size=20).map(quote) | st.sampled_from(["units=cm", "units=", "units=in&units=ft", "&=&;"]),
)
def test_no_nonsense_breaks_the_service(method, address, body, content_type, accept, query):
    reply = SERVICE.request(
        method,
        f"http://testserver{address}?{query}",
        content=None if method == "GET" else body,
        headers={"Content-Type": content_type, "Accept": accept},
    )
    assert reply.status_code < 500
    if reply.status_code >= 400:
        assert reply.headers["content-type"] == "application/problem+json"


FIGURES = st.one_of(
    st.integers(-1, 300),
    st.floats(0, 1e6, allow_nan=False),
    st.sampled_from([0, "0", "1/64", "1000", "39370", "1000 m", 1e6, 1e-9, "1 km", "-5", None, True, "", [], 10**400]),
)
PLACES = {
    "panel": [
        *("/rod/width", "/rod/return", "/rod/overlap", "/hang/carrying_height", "/hang/heading_above"),
        *("/hang/clearance", "/fabric/width", "/fabric/selvage", "/fabric/vertical_repeat", "/fabric/increment"),
        *("/fabric/horizontal_repeat", "/make_up/side_hem", "/make_up/bottom_hem", "/make_up/seam_allowance"),
        *("/make_up/width_count", "/fullness", "/heading/buckram_depth"),
    ],
    "pleats": [
        *("/flat_width", "/finished_width", "/overlap", "/return", "/leading_return", "/seams/0", "/pleat_count"),
        *("/mark", "/take_up_difference", "/heading/take_up/least", "/heading/take_up/most", "/heading/space/usual"),
    ],
    "repeat": ["/cut_length", "/cuts", "/vertical_repeat", "/increment"],
    "estimate": [
        *("/windows/0/rod/width", "/windows/0/make_up/side_hem", "/windows/0/lining/shorter", "/windows/0/mark"),
        *("/windows/0/pin/rise", "/windows/0/pin/edge_inset", "/windows/0/pleat_count", "/windows/0/fullness"),
        "/windows/0/lining/increment",
    ],
}


@settings(max_examples=600, deadline=None, derandomize=True)
@given(st.sampled_from(sorted(PLACES)), st.data())
def test_no_figures_break_the_service(operation, data):
    changes = data.draw(st.dictionaries(st.sampled_from(PLACES[operation]), FIGURES, min_size=1, max_size=4))
    reply = post(SERVICE, operation, changed(operation, changes))
    assert reply.status_code in (200, 400, 422), reply.text


@pytest.mark.parametrize("address", ["/v1/headings", "/v1/headings/three-fold-pinch", "/openapi.json", "/health/live"])
def test_what_can_be_fetched_can_be_asked_after(address, client):
    """RFC 9110, section 9.3.2: HEAD is GET without the content."""
    assert client.head(address).status_code == 200


@pytest.mark.parametrize(
    ("accept", "form"),
    [
        ("application/json;q=0, application/msgpack", "application/msgpack"),
        ("*/*, application/json;q=0", "application/msgpack"),
        ("application/msgpack;q=0, */*", "application/json"),
        ("application/json;q=0.1, application/msgpack;q=0.9", "application/msgpack"),
    ],
)
def test_a_form_is_chosen_by_its_weight_and_never_one_that_is_ruled_out(accept, form, client):
    """RFC 9110, sections 12.4.2 and 12.5.1."""
    reply = client.get("/health/live", headers={"Accept": accept})
    assert reply.headers["content-type"] == form
    assert reply.headers["vary"] == "accept"


@pytest.mark.parametrize("accept", ["application/json;q=0", "application/msgpack;q=0.0, application/json; q=0"])
def test_every_form_ruled_out_is_not_acceptable(accept, client, told):
    told(client.get("/health/live", headers={"Accept": accept}), 406)


def test_a_compressed_request_is_told_to_come_plain(client, told):
    headers = {"Content-Type": "application/json", "Content-Encoding": "gzip"}
    told(client.post("/v1/repeat", content=b"\x1f\x8b", headers=headers), 415)


def test_a_panel_narrower_than_its_finished_width_is_refused(client, told):
    """Half a width: 27 - 6 = 21 in flat, for 53 in finished."""
    problem = told(post(client, "panel", changed("panel", {"/make_up": {"width_count": 0.5}})), 422)
    [error] = problem["errors"]
    assert error["pointer"] == "/make_up/width_count"
    assert "21 in" in error["detail"]
    assert "53 in" in error["detail"]


def test_a_repeat_too_small_to_measure_is_not_taken_for_plain_cloth(client, told):
    problem = told(post(client, "repeat", changed("repeat", {"/vertical_repeat": 1e-9})), 422)
    assert problem["errors"][0]["pointer"] == "/vertical_repeat"


@pytest.mark.parametrize("thickness", ["0", "0 mm", "26 mm", "900 m"])
def test_a_cloth_without_thickness_or_thicker_than_any_is_refused(thickness, client, told):
    problem = told(client.get("/v1/headings", params={"cloth_thickness": thickness}), 422)
    assert [error["pointer"] for error in problem["errors"]] == ["/cloth_thickness"]


@pytest.mark.parametrize("address", ["/v1/headings", "/v1/headings/three-fold-pinch"])
@pytest.mark.parametrize(
    ("query", "pointer", "words"),
    [
        ("units=in&units=in", "/units", "more than once"),
        ("cloth_thickness=1&cloth_thickness=2", "/cloth_thickness", "more than once"),
        ("cloth_thicknes=1", "/cloth_thicknes", "no parameter of this name"),
        ("unit=%F0%9F%AA%A1&x=" + "y" * 5000, "/unit", "no parameter of this name"),
    ],
)
def test_a_parameter_given_twice_or_unheard_of_is_refused_and_not_passed_over(
    query, pointer, words, address, client, told
):
    reply = client.get(f"{address}?{query}")
    first = told(reply, 400)["errors"][0]
    assert first["pointer"] == pointer
    assert words in first["detail"]
    assert len(reply.content) < 2000


WILTING = '''
"""A style that is sound when it is let in, and breaks ever after."""
import itertools
from pleatwright.headings import CONTRACT, Gather, Heading, HeadingOptions, Shape
from pleatwright.headings import fullness_limits, hookimpl, inches, wave

calls = itertools.count(1)


class Wilting(HeadingOptions, frozen=True, tag="wilting"):
    """Options."""


def fold(cloth, shown):
    if next(calls) > 3:
        raise RuntimeError("the secret of the wilting style")
    outline = wave(cloth, shown)
    return Shape(outline, outline.projection, 2)


def make(options, measure):
    return Gather(inches("3"), inches("3"), fullness_limits("2", "2", "3"), inches("3"), inches("1"), fold)


@hookimpl
def pleatwright_headings():
    yield Heading(CONTRACT, "Wilting", "Breaks later.", "Gather.", Wilting, make)
'''


def test_a_style_that_breaks_once_it_is_let_in_is_left_out_of_the_list_with_the_reason(tmp_path, monkeypatch, told):
    monkeypatch.syspath_prepend(tmp_path)
    points = [*entry_points(group=ENTRY_POINT_GROUP), *plugin(tmp_path, "Thornfield", "thornfield_wilting", WILTING)]
    found = find_headings(found=points)
    assert "wilting" in found.installed
    with TestClient(create_app(Settings(), found)) as client:
        reply = client.get("/v1/headings").json()
        assert [each["style"] for each in reply["headings"]] == list(STYLES)
        [refused] = reply["refused"]
        assert (refused["plugin"], refused["package"]) == ("thornfield_wilting", "Thornfield")
        assert "secret" not in refused["reason"]
        told(client.get("/v1/headings/wilting"), 500)
