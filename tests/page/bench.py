"""The bench page as a maker's hands and eyes have it, and the service's own answers to hold it against."""

import json
import re
import urllib.error
import urllib.request
from pathlib import Path

PROJECT = Path(__file__).parent.parent.parent
EXAMPLES = PROJECT / "openapi" / "examples"
RATES = PROJECT / "deploy" / "rates.example.toml"
STATUS_OF_A_PROBLEM = re.compile(r"Failed to load resource: the server responded with a status of 4\d\d")
WINDOW = {"rod": {"width": "96"}, "hang": {"drop": "84"}, "heading": {"style": "three-fold-pinch"}, "fabric": "Linen"}


class Refusal(Exception):
    """A problem that the service answered with."""

    def __init__(self, status, problem):
        super().__init__(problem["detail"])
        self.status = status
        self.errors = problem.get("errors", [])


def post(address, body, accept="application/json", key=""):
    """Return what the service answers. Raises Refusal."""
    headers = {"Content-Type": "application/json", "Accept": accept}
    if key:
        headers["Authorization"] = f"Bearer {key}"
    body = body if isinstance(body, bytes) else json.dumps(body).encode()
    try:
        with urllib.request.urlopen(urllib.request.Request(address, body, headers)) as reply:
            return reply.read()
    except urllib.error.HTTPError as error:
        with error:
            raise Refusal(error.code, json.load(error)) from None


def plain(text):
    """Return a text with plain spaces for those that a line is not broken at."""
    return text.replace("\u00a0", " ")


class Bench:
    """The page, what it asked for, and what went wrong in it without being shown."""

    def __init__(self, page, address):
        self.page = page
        self.address = address
        self.asked = []
        self.wrong = []
        self.pending = 0
        page.on("request", self._asks)
        page.on("requestfinished", self._is_answered)
        page.on("requestfailed", self._is_answered)
        page.on("pageerror", lambda error: self.wrong.append(str(error)))
        page.context.on("console", self._heard)

    def _asks(self, request):
        self.asked.append(request.url)
        self.pending += 1

    def _is_answered(self, _request):
        self.pending -= 1

    def _heard(self, message):
        # The browser notes every problem that the service answers with; the page shows those.
        if message.type in ("error", "warning") and not STATUS_OF_A_PROBLEM.match(message.text):
            self.wrong.append(message.text)

    def answer(self, operation, body, key=""):
        """Return what the service says to the same question."""
        return json.loads(post(f"{self.address}/v1/{operation}", body, key=key))

    def field(self, label):
        """Return the control with a label, whatever the units behind it."""
        return self.page.get_by_label(re.compile(rf"^{re.escape(label)}( \(\w+\))?$"))

    def type(self, **given):
        """Type into fields, by their labels with _ for spaces."""
        for label, text in given.items():
            self.field(label.replace("_", " ").capitalize()).fill(text)

    def window(self, width="96", drop="84", cloth_width="54"):
        """Type a window of a cloth of its own."""
        self.type(rod_width=width, drop=drop, cloth_width=cloth_width)
        self.settle()

    def settle(self):
        """Wait until nothing is typed, asked or drawn any more."""
        for _ in range(1200):
            busy = self.page.locator("[aria-busy=true]").count()
            if not busy and not self.pending:
                return
            self.page.wait_for_timeout(25)
        raise AssertionError("the page does not come to rest")

    def tally(self):
        """Return the figures in the tally, by their names."""
        terms = self.page.locator("#tally dt").all_text_contents()
        return dict(zip(terms, map(plain, self.page.locator("#tally dd").all_text_contents()), strict=True))

    def row(self, name, table="The panels"):
        """Return what stands in a row of a table."""
        head = self.page.get_by_role("rowheader", name=name, exact=True)
        rows = self.page.get_by_role("table", name=table).locator("tr").filter(has=head)
        return [plain(each) for each in rows.locator("td").all_text_contents()]

    def open(self, title):
        """Open what a summary hides, if it is shut."""
        summary = self.page.locator("summary", has_text=title)
        if summary.locator("xpath=..").get_attribute("open") is None:
            summary.click()

    def open_file(self, job):
        """Open a job from a file."""
        text = job if isinstance(job, str) else json.dumps(job)
        self.page.locator("#aside").evaluate("aside => aside.replaceChildren()")
        self.page.set_input_files(
            "#file", {"name": "job.json", "mimeType": "application/json", "buffer": text.encode()}
        )
        self.page.locator("#aside:not(:empty)").wait_for()
        self.settle()

    def saved(self):
        """Return the job that is saved to a file."""
        with self.page.expect_download() as download:
            self.page.get_by_role("button", name="Save").click()
        return json.loads(download.value.path().read_text("utf-8"))

    def stored(self):
        """Return the job that the browser keeps while the tab is open."""
        return json.loads(self.page.evaluate("sessionStorage.getItem('pleatwright-job')"))

    def problems(self):
        """Return what the list of problems says; "" when there is none."""
        return self.page.locator("#problems").inner_text()
