"""One window, typed by its maker: figures, drawing, problems and styles."""

import json
import os
import re
import tomllib
from urllib.request import urlopen

import pytest

from .bench import PROJECT, RATES, WINDOW, Refusal

LINEN = {"Linen": {"width": "54"}}


def digits(text):
    """Return an amount without what its country writes round it."""
    return re.sub(r"[^0-9.]", "", text)


def described(control):
    """Return the texts that describe a control, as a screen reader has them."""
    return control.evaluate(
        "control => (control.getAttribute('aria-describedby') ?? '').split(' ').map(id => "
        "document.getElementById(id)?.textContent ?? '').join('\\n')"
    )


def test_a_window_is_priced_by_keyboard_alone(bench):
    keyboard = bench.page.keyboard

    def tab_to(label):
        for _ in range(60):
            keyboard.press("Tab")
            if bench.field(label).evaluate("control => control === document.activeElement"):
                return
        raise AssertionError(f"{label} is not reached by the keyboard")

    tab_to("Rod width")
    keyboard.type("96")
    tab_to("Drop")
    keyboard.type("84")
    tab_to("Heading style")
    keyboard.type("Goblet")
    tab_to("Cloth")
    keyboard.type("Plain linen, flax")
    keyboard.press("Tab")
    bench.settle()
    four_fields = WINDOW | {"heading": {"style": "goblet"}, "fabric": "Plain linen, flax"}
    reply = bench.answer("estimate", {"units": "in", "windows": [four_fields]})
    tally = bench.tally()
    assert digits(tally["Price"]) == reply["price"]["total"]
    assert tally["Order"] == reply["materials"]["fabrics"][0]["quantity"]
    ends = [digits(each) for each in re.findall(r"£[0-9,.]+[0-9]", bench.page.locator(".range").inner_text())]
    assert ends == [reply["price"]["range"]["least"], reply["price"]["range"]["most"]]


def test_the_example_of_the_contract_comes_out_as_the_trade_reckons_it(bench):
    """The first line of the table of seams that must not show, worked by exhaustive search with exact fractions."""
    bench.page.get_by_role("button", name="Example").click()
    bench.settle()
    assert bench.row("Flat width") == ["154 in"]
    assert bench.row("Finished width") == ["65 in"]
    assert bench.row("Pleats") == ["16"]
    assert bench.row("Spaces") == ["15 of 3 7/8 in"]
    assert bench.row("Take-up") == ["5 1/2 to 5 5/8 in"]
    assert bench.row("Seams") == ["2, hidden: beside a pleat"]
    # A pin of 1 3/8 in rise set 1 5/8 in down puts its top 1/4 in below the top of the heading [common practice].
    assert bench.row("Pin depth") == ["1 5/8 in, 18 pins"]


def test_figures_and_drawing_change_as_one_types(bench):
    bench.window()
    picture = bench.page.locator("#drawing img")
    before = bench.row("Flat width"), bench.tally()["Order"], picture.get_attribute("src")
    assert "Left panel" in picture.get_attribute("alt")
    bench.field("Rod width").press("End")
    bench.field("Rod width").press_sequentially("0")
    bench.settle()
    after = bench.row("Flat width"), bench.tally()["Order"], picture.get_attribute("src")
    assert all(old != new for old, new in zip(before, after, strict=True))
    reply = bench.answer("estimate", {"units": "in", "windows": [WINDOW | {"rod": {"width": "960"}}], "fabrics": LINEN})
    assert bench.row("Widths") == [f"{reply['windows'][0]['panels'][0]['widths']:g}"]
    assert f"Flat {reply['windows'][0]['panels'][0]['flat_width']:g} wide" in picture.get_attribute("alt")
    bench.page.get_by_label("Panel", exact=True).select_option("Right")
    bench.settle()
    assert "Right panel" in picture.get_attribute("alt")
    bench.field("Drawing").select_option("Finished")
    bench.settle()
    assert picture.evaluate("picture => picture.complete && picture.naturalWidth > 0")


def test_a_reply_that_comes_too_late_is_dropped(bench):
    bench.window()
    held = []

    def hold(route):
        if route.request.post_data_json["windows"][0]["rod"]["width"] == "97":
            held.append(route)
        else:
            route.continue_()

    bench.page.route("**/v1/estimate", hold)
    bench.field("Rod width").fill("97")
    bench.page.wait_for_timeout(600)
    assert held
    bench.field("Rod width").fill("150")
    bench.settle()
    shown = bench.row("Finished width")
    for route in held:
        route.continue_()
    bench.settle()
    # Half the rod, half the overlap of 3 in and the return of 3 1/2 in.
    assert shown == bench.row("Finished width") == ["80 in"]


def test_a_wrong_figure_has_its_problem_beside_its_field(bench):
    bench.window()
    fine = bench.tally()
    bench.field("Fullness").fill("200%")
    bench.settle()
    with pytest.raises(Refusal) as refused:
        bench.answer("estimate", {"units": "in", "windows": [WINDOW | {"fullness": "200%"}], "fabrics": LINEN})
    [fault] = refused.value.errors
    fullness = bench.field("Fullness")
    assert fullness.get_attribute("aria-invalid") == "true"
    assert fault["detail"] in described(fullness)
    assert fullness.input_value() == "200%"
    assert bench.field("Rod width").get_attribute("aria-invalid") is None
    assert fault["detail"] in bench.problems()
    bench.page.locator("#problems").get_by_role("button", name="Fullness").press("Enter")
    assert fullness.evaluate("control => control === document.activeElement")
    fullness.fill("")
    bench.settle()
    assert fullness.get_attribute("aria-invalid") is None
    assert bench.problems() == ""
    assert bench.tally() == fine


def test_a_problem_behind_what_is_shut_is_opened(bench):
    bench.window()
    bench.open("Hems, seams and widths")
    bench.field("Side hem").fill("three")
    bench.page.locator("summary", has_text="Hems, seams and widths").click()
    bench.settle()
    assert bench.field("Side hem").get_attribute("aria-invalid") == "true"
    assert bench.field("Side hem").is_visible()


def test_nothing_is_asked_before_there_is_a_window(bench):
    bench.settle()
    assert not any(url.endswith("/v1/estimate") for url in bench.asked)
    assert "rod width" in bench.page.locator("#waiting").inner_text()
    bench.type(rod_width="96")
    bench.settle()
    assert "rod width" not in bench.page.locator("#waiting").inner_text()
    assert bench.problems() == ""


def contract(address):
    with urlopen(f"{address}/openapi.json") as reply:
        return json.load(reply)["components"]["schemas"]


def test_each_style_is_made_and_asks_for_its_own_options(bench):
    schemas = contract(bench.address)
    bench.window()
    styles = schemas["Window"]["properties"]["heading"]["discriminator"]["mapping"]
    for style, reference in styles.items():
        bench.field("Heading style").select_option(json.dumps(style))
        bench.settle()
        assert bench.problems() == "", style
        assert bench.stored()["windows"][0]["heading"] == {"style": style}
        reply = bench.answer(
            "estimate", {"units": "in", "windows": [WINDOW | {"heading": {"style": style}}], "fabrics": LINEN}
        )
        assert bench.tally()["Order"] == reply["materials"]["fabrics"][0]["quantity"], style
        options = schemas[reference.rpartition("/")[2]]["properties"].keys() - {"style"}
        bench.open("Options of this style")
        shown = bench.page.locator("#window details", has_text="Options of this style").locator(
            ":scope > .inner > .inner > *"
        )
        assert shown.count() == len(options), style


def test_an_option_of_a_style_is_taken(bench):
    bench.window()
    bench.field("Heading style").select_option("Knife")
    bench.open("Options of this style")
    turned = bench.field("Turned")
    expected = contract(bench.address)["Knife"]["properties"]["turned"]
    offered = [
        json.loads(each) for each in turned.locator("option").evaluate_all("all => all.map(o => o.value)") if each
    ]
    assert offered == expected["enum"]
    assert expected["description"] in described(turned)
    turned.select_option("Left")
    bench.field("Buckram depth").fill("5")
    bench.settle()
    assert bench.problems() == ""
    assert bench.stored()["windows"][0]["heading"] == {"style": "knife", "turned": "left", "buckram_depth": "5"}
    bench.field("Heading style").select_option("Box")
    bench.field("Heading style").select_option("Knife")
    assert bench.field("Buckram depth").input_value() == "5"


def test_a_style_of_another_package_just_works(opened, start, tmp_path, monkeypatch):
    information = tmp_path / "thornfield_headings-1.0.dist-info"
    information.mkdir()
    (information / "METADATA").write_text("Metadata-Version: 2.1\nName: thornfield-headings\nVersion: 1.0\n")
    (information / "entry_points.txt").write_text("[pleatwright.headings]\ntulip = thornfield_headings.tulip\n")
    paths = [tmp_path, PROJECT / "plugins" / "example-tulip", *filter(None, [os.environ.get("PYTHONPATH")])]
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join(map(str, paths)))
    with start(rates=RATES, log="off") as running, opened(f"http://127.0.0.1:{running.port}") as bench:
        bench.window()
        bench.field("Heading style").select_option("Tulip")
        bench.open("Options of this style")
        bench.field("Stem").fill("0.9")
        bench.settle()
        assert bench.field("Stem").get_attribute("aria-invalid") == "true"
        bench.field("Stem").fill("0.1")
        bench.settle()
        assert bench.problems() == ""
        assert "Tulip" in bench.page.locator("#headline").inner_text()


def test_sixty_widths_are_told_in_a_few_lines(bench):
    bench.window(width="2600")
    window = WINDOW | {"rod": {"width": "2600"}}
    reply = bench.answer("estimate", {"units": "in", "windows": [window], "fabrics": LINEN})
    [left, right] = reply["windows"][0]["panels"]
    assert left["widths"] > 60
    assert bench.tally()["Widths"] == f"{left['widths'] + right['widths']:g}"
    assert bench.row("Seams") == [f"{len(left['seams'])}, hidden: beside a pleat"]


def test_units_leave_every_length_what_it_is(bench):
    bench.window(width="84 1/2", drop="2146 mm", cloth_width="4' 6\"")
    inches = bench.row("Widths"), bench.tally()["Order"]
    bench.field("Units").select_option("millimetres")
    bench.settle()
    job = bench.stored()
    assert (job["windows"][0]["rod"]["width"], job["windows"][0]["hang"]["drop"]) == ("84 1/2 in", "2146")
    assert job["fabrics"]["Cloth"]["width"] == "4' 6\""
    assert bench.problems() == ""
    assert bench.row("Widths") == inches[0]
    [panel, _] = bench.answer("estimate", job | {"windows": [job["windows"][0]]})["windows"][0]["panels"]
    assert bench.row("Finished width") == [f"{panel['finished_width']:.1f}".removesuffix(".0") + " mm"]
    bench.field("Units").select_option("centimetres")
    assert bench.field("Drop").input_value() == "214.6"
    bench.field("Units").select_option("inches")
    bench.settle()
    assert bench.field("Rod width").input_value() == "84 1/2"
    assert bench.field("Drop").input_value() == "214.6 cm"
    assert (bench.row("Widths"), bench.tally()["Order"]) == inches


def test_a_drawing_is_of_the_job_that_was_worked_out(bench):
    bench.window()
    seen, held = [], []
    bench.page.on("request", lambda request: seen.append(request) if "drawing=" in request.url else None)
    bench.page.route("**/v1/estimate", lambda route: route.continue_() if held else held.append(route))
    bench.field("Rod width").fill("120")
    bench.page.wait_for_timeout(600)
    [route] = held
    reply = route.fetch()
    bench.field("Rod width").fill("12x")
    route.fulfill(response=reply)
    bench.settle()
    assert [request.post_data_json["windows"][0]["rod"]["width"] for request in seen] == ["120"]
    # It does not come to rest with the reply, but with what was typed after it was asked.
    assert bench.field("Rod width").get_attribute("aria-invalid") == "true"


def test_the_cloths_of_the_rate_book_are_offered(bench):
    offered = bench.page.locator("#cloths option").evaluate_all("options => options.map((each) => each.value)")
    book = tomllib.loads(RATES.read_text())
    assert offered[: len(book["cloth"])] == [cloth["name"] for cloth in book["cloth"]]


def test_a_cloth_is_chosen_from_the_rate_book(bench):
    bench.type(rod_width="96", drop="84")
    bench.field("From the rate book").select_option("Plain linen, flax")
    bench.settle()
    assert bench.problems() == ""
    assert bench.field("Cloth").input_value() == bench.stored()["windows"][0]["fabric"] == "Plain linen, flax"
    assert bench.tally()["Price"].startswith("£")
