"""README.md and DEVELOPERS.md say what is so: their examples are executed."""

import re
import subprocess
from pathlib import Path

import pytest

from pleatwright import workroom
from pleatwright.contract.reading import RequestReader
from pleatwright.headings.host import find_headings

PROJECT = Path(__file__).parent.parent
README = (PROJECT / "README.md").read_text()
DEVELOPERS = (PROJECT / "DEVELOPERS.md").read_text()
CURLS = re.findall(r"^```sh\n(.*?)^```", README, re.MULTILINE | re.DOTALL)


@pytest.mark.parametrize("block", CURLS)
def test_every_curl_of_the_readme_is_answered(block, served):
    script = block.replace("http://127.0.0.1:8000", served).replace("curl ", "curl --fail-with-body ")
    done = subprocess.run(["sh", "-ec", script], cwd=PROJECT, capture_output=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout


def test_the_readme_calls_every_operation_of_the_workroom():
    for path in ("/v1/panel", "/v1/pleats", "/v1/pins", "/v1/repeat", "/v1/estimate", "/v1/headings"):
        assert any(path in block for block in CURLS)


def test_the_readme_names_every_style_that_ships(headings):
    section = README.partition("## Heading styles")[2].partition("\n## ")[0].lower().replace("\n", " ")
    for each in headings.installed.values():
        label = each.heading.label.lower().replace("euro, three-fold", "euro in three folds")
        assert label in section


def test_the_style_of_the_guide_is_let_in_and_pleats_a_panel(tmp_path, monkeypatch):
    module = re.search(r'^```python\n(""".*?)^```', DEVELOPERS, re.MULTILINE | re.DOTALL)[1]
    entry_point = re.search(r"^```toml\n(.*?)^```", DEVELOPERS, re.MULTILINE | re.DOTALL)[1]
    package = tmp_path / "thornfield_headings"
    package.mkdir()
    (package / "__init__.py").touch()
    (package / "tulip.py").write_text(module)
    information = tmp_path / "thornfield_headings-1.0.dist-info"
    information.mkdir()
    (information / "METADATA").write_text("Metadata-Version: 2.1\nName: thornfield_headings\nVersion: 1.0\n")
    (information / "entry_points.txt").write_text(
        re.sub(r'\[project.entry-points."(.*)"\]', r"[\1]", entry_point).replace('"', "")
    )
    monkeypatch.syspath_prepend(tmp_path)

    found = find_headings()
    assert not found.refused
    assert found.installed["tulip"].package == "thornfield_headings"
    body = (PROJECT / "openapi" / "examples" / "pleats.json").read_bytes()
    body = body.replace(b'"three-fold-pinch"', b'"tulip", "stem": 0.1')
    reply = workroom.pleats(RequestReader(found.options).read("pleats", body), found)
    assert reply.stations[-1].end == 127
    assert reply.made_with.styles == {"tulip": "thornfield_headings 1.0"}
