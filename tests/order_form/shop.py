"""The shop's web server: it serves the page with the content policy that the example's README suggests."""

import html
import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

EXAMPLE = Path(__file__).resolve().parents[2] / "deploy" / "order-form"
POLICY = re.search(r"Content-Security-Policy: (.+)", (EXAMPLE / "README.md").read_text())[1]


class Shop:
    """A page as the shop has set it up: `service` and `key` are what its developer writes into index.html."""

    service = ""
    key = ""

    def __init__(self, address, page):
        self.address, self.page = address, page

    def index(self):
        """Return index.html with the shop's settings."""
        page = (self.page / "index.html").read_text()
        settings = {"http://127.0.0.1:8000": self.service, 'data-key=""': f'data-key="{html.escape(self.key)}"'}
        for usual, own in settings.items():
            assert page.count(usual) == 1, f"index.html has {usual} other than once"
            page = page.replace(usual, own)
        return page.encode()


class Handler(SimpleHTTPRequestHandler):
    """Serves one shop's page, quietly."""

    shop = None

    def do_GET(self):
        if self.path != "/":
            super().do_GET()
            return
        body = self.shop.index()
        self.send_response(200)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def end_headers(self):
        self.send_header("Content-Security-Policy", POLICY.replace("https://prices.example", self.shop.service))
        super().end_headers()

    def log_message(self, *_):
        pass


@contextmanager
def open_shop(page: Path) -> Iterator[Shop]:
    """Serve the folder `page` on a free port of loopback, under a name that makes it another site than the service."""
    own = type("Handler", (Handler,), {})
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(own, directory=str(page)))
    own.shop = Shop(f"http://localhost:{server.server_port}", page)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield own.shop
    finally:
        server.shutdown()
        server.server_close()
