"""README.md and DEVELOPERS.md say what is so: their examples are executed."""

import json
import os
import re
import subprocess
import tomllib
import urllib.request
from pathlib import Path

import pytest

from pleatwright import workroom
from pleatwright.command import main
from pleatwright.contract.operations import OPERATIONS
from pleatwright.contract.reading import RequestReader
from pleatwright.headings.host import find_headings

PROJECT = Path(__file__).parent.parent
README = (PROJECT / "README.md").read_text()
DEVELOPERS = (PROJECT / "DEVELOPERS.md").read_text()
EXAMPLES = sorted((PROJECT / "openapi" / "examples").rglob("*.json"))
CURLS = re.findall(r"^```sh\n(.*?)^```", README, re.MULTILINE | re.DOTALL)


@pytest.mark.parametrize("block", CURLS)
def test_every_curl_of_the_readme_is_answered(block, served, workroom_key, tmp_path):
    (tmp_path / "openapi").symlink_to(PROJECT / "openapi")
    script = block.replace("http://127.0.0.1:8000", served).replace("curl ", "curl --fail-with-body ")
    key = {"WORKROOM_KEY": workroom_key}
    done = subprocess.run(["sh", "-ec", script], cwd=tmp_path, capture_output=True, check=False, env=os.environ | key)
    assert done.returncode == 0, done.stdout + done.stderr
    written = [path for path in tmp_path.iterdir() if path.is_file()]
    assert len(written) == script.count(" -o ")
    assert all(path.stat().st_size for path in written)
    assert done.stdout or written


def test_the_readme_calls_every_operation_of_the_workroom():
    paths = [each.path for each in OPERATIONS if each.tag != "service" and "{" not in each.path]
    for path in paths:
        assert any(path in block for block in CURLS), path


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_is_answered(example, served):
    address = f"{served}/v1/{example.stem.partition('-')[0]}"
    sent = urllib.request.Request(address, example.read_bytes(), {"Content-Type": "application/json"})
    with urllib.request.urlopen(sent) as reply:
        assert reply.status == 200


def test_four_fields_give_a_believable_price(served):
    job = PROJECT / "openapi" / "examples" / "priced" / "estimate-four-fields.json"
    sent = urllib.request.Request(f"{served}/v1/estimate", job.read_bytes(), {"Content-Type": "application/json"})
    with urllib.request.urlopen(sent) as reply:
        price = json.load(reply)["price"]
    # 96 in of rod, 84 in of drop: some five widths of linen 99 in long at 31.68 a metre, and as much again to make up.
    assert 400 < float(price["net"]) < 800
    assert float(price["range"]["least"]) <= float(price["total"]) <= float(price["range"]["most"])


def test_the_picture_in_the_readme_is_what_the_command_draws(tmp_path):
    [picture] = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    job, drawn = PROJECT / "openapi" / "examples" / "estimate.json", tmp_path / "drawn.svg"
    assert main(["paper", str(job), "--drawing", "panel-flat", "-o", str(drawn)]) == 0
    assert drawn.read_bytes() == (PROJECT / picture).read_bytes()


def test_the_table_of_styles_in_the_readme_is_what_the_plugins_say(capsys):
    assert main(["headings", "--table"]) == 0
    table = capsys.readouterr().out
    assert len(table.splitlines()) == len(find_headings().installed) + 2
    assert table in README


def test_the_style_of_the_guide_is_let_in_and_pleats_a_panel(tmp_path, monkeypatch):
    module, use_of_the_kit = re.findall(r"^```python\n(.*?)^```", DEVELOPERS, re.MULTILINE | re.DOTALL)
    project = tomllib.loads(re.search(r"^```toml\n(.*?)^```", DEVELOPERS, re.MULTILINE | re.DOTALL)[1])["project"]
    [(group, points)] = project["entry-points"].items()
    package = tmp_path / "thornfield_headings"
    package.mkdir()
    (package / "__init__.py").touch()
    (package / "tulip.py").write_text(module)
    information = tmp_path / "thornfield_headings-1.0.dist-info"
    information.mkdir()
    metadata = f"Metadata-Version: 2.1\nName: {project['name']}\nVersion: {project['version']}\n"
    (information / "METADATA").write_text(metadata)
    listed = [f"{name} = {module}" for name, module in points.items()]
    (information / "entry_points.txt").write_text("\n".join([f"[{group}]", *listed]))
    monkeypatch.syspath_prepend(tmp_path)

    found = find_headings()
    assert not found.refused
    assert found.installed["tulip"].package == "thornfield-headings"
    body = (PROJECT / "openapi" / "examples" / "pleats.json").read_bytes()
    body = body.replace(b'"three-fold-pinch"', b'"tulip", "stem": 0.1')
    reply = workroom.pleats(RequestReader(found.options).read("pleats", body), found)
    assert reply.stations[-1].end == 127
    assert reply.made_with.styles == {"tulip": "thornfield-headings 1.0"}
    namespace = {}
    exec(use_of_the_kit, namespace)
    namespace["test_the_style_keeps_the_contract"]()
