"""Builds the order form of deploy/order-form, and uses it in a browser as customers do.

python tests/order_form/run.py [FOLDER] [--pictures FOLDER]

The Python is that of the tests, with playwright; node, npm and Chromium are needed as well. Chromium is what
PLEATWRIGHT_CHROMIUM names, or `chromium` on the PATH. All that is fetched and made goes into FOLDER, or into a folder
that is removed in the end: nothing into this project.
"""

import argparse
import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from contextlib import ExitStack
from pathlib import Path

import httpx
from customer import Customers
from shop import EXAMPLE, open_shop

HERE = Path(__file__).resolve().parent
PROJECT = HERE.parents[1]
sys.path.insert(0, str(PROJECT))
from tests.clients.run import run, served  # noqa: E402 - found only now that the project is on the path

RATES = str(PROJECT / "deploy" / "rates.example.toml")
KEY = "a-key-that-the-page-shows-to-everybody"


def main():
    """Build the page, try the README's snippet, and let the customers in."""
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("folder", nargs="?", type=Path)
    arguments.add_argument("--pictures", type=Path)
    asked = arguments.parse_args()
    chromium = os.environ.get("PLEATWRIGHT_CHROMIUM") or shutil.which("chromium")
    needed = {"node": shutil.which("node"), "npm": shutil.which("npm"), "chromium": chromium}
    if missing := [name for name, found in needed.items() if found is None]:
        sys.exit(f"Not found: {' and '.join(missing)}. Install Node.js 20 or later, with npm, and Chromium.")
    with ExitStack() as ending:
        work = asked.folder or Path(ending.enter_context(tempfile.TemporaryDirectory()))
        work = work.resolve()
        work.mkdir(parents=True, exist_ok=True)
        pictures = asked.pictures.resolve() if asked.pictures else None
        try_the_form(work, built(work), chromium, pictures)


def built(work):
    """Build a copy of the example as its README says, and return the folder of the page."""
    form = work / "deploy" / "order-form"
    shutil.copytree(EXAMPLE, form, ignore=shutil.ignore_patterns(*ignored()), dirs_exist_ok=True)
    (work / "openapi").mkdir(exist_ok=True)
    shutil.copy(PROJECT / "openapi" / "openapi.json", work / "openapi")
    tools = work / "tools"
    tools.mkdir(exist_ok=True)
    shutil.copy(HERE / "package.json", tools)
    for folder in (form, tools):
        run(folder, "npm", "install", "--no-package-lock", "--no-audit", "--no-fund", "--loglevel=error")
    run(form, "npm", "run", "build")
    return form / "dist"


def ignored():
    """Return what the example's .gitignore keeps out."""
    return [line.strip("/") for line in (EXAMPLE / ".gitignore").read_text().split()]


def try_the_form(work, page, chromium, pictures):
    """Open the shop and the service, each on its own origin."""
    axe = (work / "tools" / "node_modules" / "axe-core" / "axe.min.js").read_text()
    with ExitStack() as ending:
        shop, stranger = (ending.enter_context(open_shop(page)) for _ in range(2))
        sample = {"PLEATWRIGHT_RATES": RATES, "PLEATWRIGHT_ORIGINS": shop.address}
        address = ending.enter_context(served(work / "service.log", sample))
        shop.service = stranger.service = address
        try_the_snippet(page.parent, address)

        customers = Customers(chromium, axe, httpx.Client(base_url=address), shop.address)
        ending.enter_context(customers)
        customers.try_all(pictures)
        customers.from_an_origin_that_is_not_allowed(stranger.address)
    with ExitStack() as ending:
        shop = ending.enter_context(open_shop(page))
        guarded = {
            "PLEATWRIGHT_RATES": str(with_gaps(work / "rates.toml")),
            "PLEATWRIGHT_ORIGINS": shop.address,
            "PLEATWRIGHT_CUSTOMER_KEYS": f"shop:{hashlib.sha256(KEY.encode()).hexdigest()}",
            "PLEATWRIGHT_REQUESTS_PER_MINUTE": "3",
        }
        shop.service = ending.enter_context(served(work / "guarded.log", guarded))
        customers = Customers(chromium, axe, httpx.Client(base_url=shop.service), shop.address)
        ending.enter_context(customers)
        customers.without_the_key_that_is_needed()
        shop.key = KEY
        customers.with_a_key_and_a_limit_and_gaps_in_the_rate_book()
    sys.stdout.write("order form: all held\n")


def with_gaps(book):
    """Write the sample rate book without the printed cloth, and without labour for styles that it does not name."""
    text = Path(RATES).read_text()
    for gap in (r"^\[\[cloth\]\]\nname = \"Teasel.*?(?=^\[\[)", r"^\[\[labour\]\] +# all other styles.*?(?=^\n# ----)"):
        text, found = re.subn(gap, "", text, flags=re.MULTILINE | re.DOTALL)
        assert found == 1, gap
    book.write_text(text)
    return book


def try_the_snippet(form, address):
    """Compile the README's snippet as strictly as the example, and have it price a job and refuse one."""
    [snippet] = re.findall(r"^```ts\n(.*?)^```", (PROJECT / "README.md").read_text(), re.MULTILINE | re.DOTALL)
    job = json.loads((PROJECT / "openapi" / "examples" / "priced" / "estimate-four-fields.json").read_bytes())
    wrong = json.loads(json.dumps(job))
    wrong["windows"][0]["rod"]["width"] = "ninety"
    assert snippet.count("http://127.0.0.1:8000") == 1
    (form / "snippet.ts").write_text(snippet.replace("http://127.0.0.1:8000", address))
    shutil.copy(HERE / "asks.mjs", form)
    settings = json.loads((form / "tsconfig.json").read_text())
    (form / "tsconfig.snippet.json").write_text(json.dumps(settings | {"files": ["snippet.ts"]}))
    tools = form / "node_modules" / ".bin"
    run(form, tools / "tsc", "--project", "tsconfig.snippet.json")
    run(form, tools / "esbuild", "snippet.ts", "--bundle", "--format=esm", "--outfile=snippet.mjs")
    command = ["node", "asks.mjs", json.dumps([job, wrong])]
    said = subprocess.run(command, cwd=form, capture_output=True, text=True, check=True).stdout
    priced, refused = map(json.loads, said.splitlines())
    reply = httpx.post(f"{address}/v1/estimate", json=job).json()
    assert priced == {name: reply["price"][name] for name in ("total", "currency", "range")} | {
        name: reply[name] for name in ("assumed", "cautions")
    }
    assert [fault["pointer"] for fault in refused["faults"]] == ["/windows/0/rod/width"]


if __name__ == "__main__":
    main()
