"""Customers at the order form, in real Chromium; what they are shown is compared with what the service says."""

import re
from contextlib import contextmanager
from decimal import Decimal
from urllib.parse import urlsplit

from playwright.sync_api import expect, sync_playwright

WIDTHS = (1280, 820, 390)
expect.set_options(timeout=15_000)

LINEN, TEASEL = "Plain linen, flax", "Teasel, rust on oat"
UNREACHED = "Prices cannot be worked out from this page just now. Please try again, or ring the shop."


def pounds(amount):
    """Return an amount as a British shop writes it."""
    return f"£{Decimal(amount):,.2f}"


class Customers:
    """Each comes to the page anew; `service` is asked the same without a browser."""

    def __init__(self, chromium, axe, service, address):
        self.axe, self.service, self.address, self.chromium = axe, service, address, chromium

    def __enter__(self):
        self.playwright = sync_playwright().start()
        self.browser = self.playwright.chromium.launch(executable_path=self.chromium, args=["--no-sandbox"])
        return self

    def __exit__(self, *_):
        self.browser.close()
        self.playwright.stop()

    @contextmanager
    def at_the_page(self, address=None, scheme="light", width=1280, height=900):
        """Open the page; in the end hold it to its own origin and the service's, and to no fault of its own."""
        context = self.browser.new_context(color_scheme=scheme, viewport={"width": width, "height": height})
        page = context.new_page()
        page.set_default_timeout(15_000)
        hosts, errors = set(), []
        page.on("request", lambda request: hosts.add(urlsplit(request.url).netloc))
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.on("console", lambda message: errors.append(message.text) if "Content Security" in message.text else None)
        page.goto(address or self.address)
        yield page
        assert not errors, errors
        assert hosts <= {urlsplit(address or self.address).netloc, self.service.base_url.netloc.decode()}, hosts
        context.close()

    def try_all(self, pictures):
        self.the_price_is_what_the_service_says()
        self.what_was_assumed_and_the_cautions_are_told()
        self.problems_stand_beside_their_fields()
        self.units_switch()
        self.every_style_has_its_price()
        self.a_pause_asks_once_and_what_is_stale_is_dropped()
        self.a_keyboard_is_enough()
        self.on_a_telephone_the_price_is_in_sight_while_typing()
        self.nothing_keeps_anybody_out()
        if pictures:
            self.take(pictures)

    def asked(self, width, drop, style="box", cloth=LINEN, units="in"):
        """Return the service's own reply to what the page should have sent."""
        window = {"rod": {"width": width}, "hang": {"drop": drop}, "heading": {"style": style}, "fabric": cloth}
        return self.service.post("/v1/estimate", json={"units": units, "windows": [window]}).json()

    def fill_in(self, page, width="96", drop="84", style="goblet", cloth=LINEN):
        """Type and choose as a customer would."""
        page.get_by_label("Width").press_sequentially(width, delay=20)
        page.get_by_label("Drop").press_sequentially(drop, delay=20)
        page.get_by_label("Heading").select_option(style)
        page.get_by_label("Cloth").select_option(cloth)

    def shown(self, page, reply):
        """Wait until the price and the range on the page are those of the reply."""
        price = reply["price"]
        expect(page.locator("#total")).to_have_text(pounds(price["total"]))
        expect(page.locator("#price")).to_have_attribute("aria-busy", "false")
        least, most = (pounds(price["range"][end]) for end in ("least", "most"))
        expect(page.locator("#range")).to_have_text(f"Between {least} and {most}")
        expect(page.locator("#said")).to_contain_text(pounds(price["tax"]["amount"]))

    def the_price_is_what_the_service_says(self):
        with self.at_the_page() as page:
            expect(page.get_by_text("An estimate, not an offer")).to_be_visible()
            expect(page.locator("#said")).to_contain_text("Give a width and a drop")
            listed = self.service.get("/v1/headings").json()["headings"]
            expect(page.locator("#style option")).to_have_text([each["label"] for each in listed])
            self.fill_in(page)
            expect(page.locator("#style-hint")).to_have_text(
                next(each["summary"] for each in listed if each["style"] == "goblet")
            )
            self.shown(page, self.asked("96", "84", "goblet"))
            page.get_by_label("Cloth").select_option(TEASEL)
            self.shown(page, self.asked("96", "84", "goblet", TEASEL))
            page.get_by_label("Width").fill("8' 1/2\"")
            self.shown(page, self.asked("8' 1/2\"", "84", "goblet", TEASEL))

    def what_was_assumed_and_the_cautions_are_told(self):
        with self.at_the_page() as page:
            self.fill_in(page, style="eyelet")
            reply = self.asked("96", "84", "eyelet")
            self.shown(page, reply)
            told = page.locator("#assumed li").all_inner_texts()
            for words in ("No lining", "They hang to the floor", "They end 1\N{NO-BREAK SPACE}in short of it"):
                assert words in told, told
            expect(page.locator("#depends")).to_contain_text("depends on whether they are lined.")
            usual = page.locator("#usual li").all_text_contents()
            assert len(told) + len(usual) == len(reply["assumed"])
            cautions = [each["detail"] for each in reply["windows"][0]["cautions"] + reply["cautions"]]
            assert page.locator("#cautions li").all_inner_texts() == cautions
            expect(page.locator("#edition")).to_contain_text(reply["price"]["edition"])

    def problems_stand_beside_their_fields(self):
        with self.at_the_page() as page:
            self.fill_in(page, width="ninety")
            [fault] = self.asked("ninety", "84", "goblet")["errors"]
            expect(page.locator("#width-wrong")).to_have_text(fault["detail"])
            expect(page.get_by_label("Width")).to_have_attribute("aria-invalid", "true")
            expect(page.get_by_label("Width")).to_have_accessible_description(
                re.compile(re.escape(fault["detail"][:20]))
            )
            expect(page.locator("#drop-wrong")).to_be_empty()
            expect(page.locator("#total")).to_be_empty()
            expect(page.locator("#said")).to_have_text("No price yet: see the field marked.")
            expect(page.locator("#told")).to_be_hidden()
            page.get_by_label("Width").fill("96")
            page.get_by_label("Drop").fill("2")
            [fault] = self.asked("96", "2", "goblet")["errors"]
            expect(page.locator("#drop-wrong")).to_have_text(fault["detail"])
            expect(page.locator("#width-wrong")).to_be_empty()
            page.get_by_label("Width").fill("1,5")
            page.get_by_label("Drop").fill("high")
            for field, fault in zip(("width", "drop"), self.asked("1,5", "high")["errors"], strict=True):
                expect(page.locator(f"#{field}-wrong")).to_have_text(fault["detail"])
            page.get_by_label("Width").fill("96")
            page.get_by_label("Drop").fill("84")
            self.shown(page, self.asked("96", "84", "goblet"))
            expect(page.get_by_label("Width")).to_have_attribute("aria-invalid", "false")
            page.get_by_label("Drop").fill("")
            expect(page.locator("#said")).to_contain_text("Give a width and a drop")
            expect(page.locator("#total")).to_be_empty()

    def units_switch(self):
        with self.at_the_page() as page:
            self.fill_in(page)
            self.shown(page, self.asked("96", "84", "goblet"))
            page.get_by_label("centimetres").check()
            self.shown(page, self.asked("96", "84", "goblet", units="cm"))
            page.get_by_label("Width").fill("240")
            page.get_by_label("Drop").fill("2.1 m")
            self.shown(page, self.asked("240", "210", "goblet", units="cm"))
            assert (
                "At the ends they turn back to the wall by 9\N{NO-BREAK SPACE}cm"
                in page.locator("#assumed li").all_inner_texts()
            )
            page.get_by_label("inches").check()
            self.shown(page, self.asked("240", "2.1 m", "goblet"))

    def every_style_has_its_price(self):
        with self.at_the_page() as page:
            self.fill_in(page)
            totals = set()
            for style in [each["style"] for each in self.service.get("/v1/headings").json()["headings"]]:
                page.get_by_label("Heading").select_option(style)
                reply = self.asked("96", "84", style)
                self.shown(page, reply)
                totals.add(reply["price"]["total"])
            assert len(totals) > 10

    def a_pause_asks_once_and_what_is_stale_is_dropped(self):
        with self.at_the_page() as page:
            self.fill_in(page)
            self.shown(page, self.asked("96", "84", "goblet"))
            ready = page.locator("#total").evaluate("each => getComputedStyle(each).color")
            sent, dropped, held = [], [], []
            page.on(
                "request", lambda request: sent.append(request.post_data_json) if request.method == "POST" else None
            )
            page.on("requestfailed", lambda request: dropped.append(request.post_data_json))
            page.route("**/v1/estimate", lambda route: held.append(route), times=1)
            page.clock.install()
            page.clock.pause_at(page.evaluate("Date.now() / 1000 + 1"))
            page.get_by_label("Width").fill("")
            for figure in "120":
                page.clock.run_for(250)
                page.get_by_label("Width").press_sequentially(figure)
            with page.expect_request("**/v1/estimate"):
                page.clock.run_for(350)
            assert [each["windows"][0]["rod"]["width"] for each in sent] == ["120"]
            expect(page.locator("#price")).to_have_attribute("aria-busy", "true")
            expect(page.locator("#total")).to_have_text(pounds(self.asked("96", "84", "goblet")["price"]["total"]))
            assert page.locator("#total").evaluate("each => getComputedStyle(each).color") != ready
            page.clock.resume()
            page.get_by_label("Width").fill("144")
            self.shown(page, self.asked("144", "84", "goblet"))
            assert [each["windows"][0]["rod"]["width"] for each in dropped] == ["120"]
            [stale] = held
            stale.abort()
            assert page.locator("#total").evaluate("each => getComputedStyle(each).color") == ready

    def a_keyboard_is_enough(self):
        with self.at_the_page() as page:
            expect(page.locator("#style option").first).to_be_attached()
            page.keyboard.press("Tab")
            page.keyboard.press("ArrowDown")
            page.keyboard.press("Tab")
            page.keyboard.type("240")
            page.keyboard.press("Tab")
            page.keyboard.type("213")
            page.keyboard.press("Tab")
            page.keyboard.type("Pencil")
            page.keyboard.press("Tab")
            page.keyboard.type("Teasel")
            self.shown(page, self.asked("240", "213", "pencil", TEASEL, "cm"))
            page.keyboard.press("Tab")
            page.keyboard.press("Enter")
            expect(page.locator("#usual")).to_be_visible()

    def on_a_telephone_the_price_is_in_sight_while_typing(self):
        with self.at_the_page(width=390) as page:
            self.fill_in(page)
            self.shown(page, self.asked("96", "84", "goblet"))
            page.evaluate("scrollTo(0, 0)")
            for label in ("Width", "Drop", "Heading", "Cloth"):
                page.get_by_label(label).focus()
                expect(page.locator("#total")).to_be_in_viewport()
                field, ticket = (each.bounding_box() for each in (page.get_by_label(label), page.locator(".ticket")))
                assert field["y"] + field["height"] <= ticket["y"], f"the ticket is over {label}"

    def nothing_keeps_anybody_out(self):
        for scheme in ("light", "dark"):
            for width in (1280, 320):
                # All of the page in the window: axe cannot judge what lies under the ticket that stays in sight.
                with self.at_the_page(scheme=scheme, width=width, height=3000) as page:
                    expect(page.locator("#said")).to_contain_text("Give a width and a drop")
                    self.no_violations(page, f"empty, {scheme}, {width}")
                    self.fill_in(page, width="ninety")
                    expect(page.locator("#width-wrong")).not_to_be_empty()
                    self.no_violations(page, f"wrong, {scheme}, {width}")
                    page.get_by_label("Width").fill("96")
                    self.shown(page, self.asked("96", "84", "goblet"))
                    page.locator("summary").click()
                    self.no_violations(page, f"priced, {scheme}, {width}")
                    page.evaluate("document.getElementById('price').ariaBusy = 'true'")
                    self.no_violations(page, f"waiting, {scheme}, {width}")
                    assert page.evaluate("document.documentElement.scrollWidth") <= width

    def no_violations(self, page, when):
        page.evaluate(self.axe)
        found = page.evaluate("axe.run()")
        assert found["passes"], "axe looked at nothing"
        assert not found["violations"], (when, found["violations"])
        unsure = {each["id"]: each["nodes"] for each in found["incomplete"]}
        assert not unsure, (when, unsure)

    def from_an_origin_that_is_not_allowed(self, stranger):
        with self.at_the_page(stranger) as page:
            said = []
            page.on("console", lambda message: said.append(message.text))
            expect(page.locator("#said")).to_have_text(UNREACHED)
            page.get_by_label("Width").fill("96")
            page.get_by_label("Drop").fill("84")
            expect(page.locator("#price")).to_have_attribute("aria-busy", "false")
            expect(page.locator("#said")).to_have_text(UNREACHED)
            expect(page.locator("#total")).to_be_empty()
            assert page.locator("#style option").count() == 0
            assert any("blocked by CORS policy" in each for each in said), said

    def without_the_key_that_is_needed(self):
        with self.at_the_page() as page:
            problem = self.service.get("/v1/headings").json()
            assert problem["status"] == 401
            expect(page.locator("#said")).to_have_text(problem["detail"])

    def with_a_key_and_a_limit_and_gaps_in_the_rate_book(self):
        with self.at_the_page() as page:
            expect(page.locator("#style option").first).to_be_attached()
            page.get_by_label("Heading").select_option("tab-top")
            page.get_by_label("Width").fill("96")
            page.get_by_label("Drop").fill("84")
            expect(page.locator("#said")).to_contain_text("Not priced: the rate book lacks")
            page.get_by_label("Cloth").select_option(TEASEL)
            expect(page.locator("#cloth-wrong")).to_contain_text("a rate book describes a fabric of this name")
            page.get_by_label("Width").fill("97")
            expect(page.locator("#said")).to_contain_text("as many requests as there may be in a minute")
            expect(page.locator("#cloth-wrong")).to_be_empty()

    def take(self, pictures):
        """Leave pictures of the page, for somebody to look at."""
        pictures.mkdir(parents=True, exist_ok=True)
        for scheme in ("light", "dark"):
            for width in WIDTHS:
                with self.at_the_page(scheme=scheme, width=width) as page:
                    expect(page.locator("#style option").first).to_be_attached()
                    whole(page, pictures / f"empty-{scheme}-{width}.png")
                    self.fill_in(page, width="ninety")
                    expect(page.locator("#width-wrong")).not_to_be_empty()
                    whole(page, pictures / f"wrong-{scheme}-{width}.png")
                    page.get_by_label("Width").fill("96")
                    self.shown(page, self.asked("96", "84", "goblet"))
                    whole(page, pictures / f"priced-{scheme}-{width}.png")
                    page.screenshot(path=pictures / f"in-sight-{scheme}-{width}.png")
                    page.evaluate("document.getElementById('price').ariaBusy = 'true'")
                    page.screenshot(path=pictures / f"waiting-{scheme}-{width}.png")


def whole(page, picture):
    """Take all of the page, in a window as tall: what stays in sight would else stand in the middle of it."""
    size = page.viewport_size
    page.set_viewport_size(size | {"height": 2400})
    tall = page.evaluate("document.querySelector('footer').getBoundingClientRect().bottom")
    page.set_viewport_size(size | {"height": int(tall)})
    page.screenshot(path=picture)
    page.set_viewport_size(size)
