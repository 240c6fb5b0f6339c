"""The command: a work order from a job, the reply of the API, the styles, and the contract."""

import io
import json
import subprocess
import sys
from pathlib import Path

import pytest
from litestar.testing import TestClient

from pleatwright.command import main
from pleatwright.web.app import create_app

OPENAPI = Path(__file__).parent.parent / "openapi"
EXAMPLES = OPENAPI / "examples"
JOB = EXAMPLES / "estimate.json"
METRIC_JOB = EXAMPLES / "estimate-metric.json"


@pytest.fixture
def given(monkeypatch):
    """Return a function that puts bytes on standard input."""

    def give(body):
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(body), encoding="utf-8"))

    return give


def job(**changes):
    """Return the job as bytes, with the figures of its one window changed."""
    request = json.loads(JOB.read_text())
    request["windows"][0] |= changes
    return json.dumps(request).encode()


def test_a_job_in_a_file_is_written_as_a_work_order(capsys):
    assert main(["estimate", str(JOB)]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert out.startswith("WORK ORDER  Larkfield, morning room\n")
    for words in (
        "South bay: three-fold-pinch, Teasel, rust on oat, to the floor",
        "finished 65 in x 95 3/4 in; 3 widths, flat 154 in",
        "Cut 6 of 111 3/4 in; 743 in of cloth",
        "CUT LIST  Teasel, rust on oat: 6 cuts, 743 in in one run",
        "South bay, right 3",
        "LEFT PANEL",
        "RIGHT PANEL",
        "pins, 1 5/8 in down from the top",
        "CAUTIONS",
        "strangle a child",
        "Made with pleatwright",
    ):
        assert words in out


def test_a_metric_job_is_written_in_centimetres_with_its_worksheet(capsys):
    assert main(["estimate", str(METRIC_JOB)]) == 0
    out, _ = capsys.readouterr()
    assert "finished 189 cm x 257.6 cm; 3 widths, flat 430.2 cm" in out
    assert "WORKSHEET" in out
    assert " in," not in out.partition("CAUTIONS")[0]


def test_a_job_on_standard_input_is_the_same_as_in_a_file(capsys, given):
    main(["estimate", str(JOB)])
    from_file = capsys.readouterr().out
    given(JOB.read_bytes())
    assert main(["estimate", "-"]) == 0
    assert capsys.readouterr().out == from_file


@pytest.mark.parametrize("path", [JOB, METRIC_JOB], ids=lambda path: path.stem)
def test_json_is_the_reply_of_the_api(path, capsysbinary, headings):
    assert main(["estimate", str(path), "--json"]) == 0
    with TestClient(create_app(headings=headings)) as client:
        reply = client.post("/v1/estimate", content=path.read_bytes(), headers={"Content-Type": "application/json"})
    assert capsysbinary.readouterr().out == reply.content + b"\n"


def test_a_file_that_is_not_there_is_told_in_words(capsys, tmp_path):
    assert main(["estimate", str(tmp_path / "job.json")]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("pleatwright: ")
    assert "job.json: No such file or directory" in err


def test_a_folder_is_no_job(capsys, tmp_path):
    assert main(["estimate", str(tmp_path)]) == 1
    assert "Is a directory" in capsys.readouterr().err


@pytest.mark.parametrize("body", [b"", b"{", b"WORK ORDER", b"\xff\xfe", b"[" * 100_000, b"NaN"])
@pytest.mark.parametrize("options", [[], ["--json"]])
def test_what_is_not_json_is_told_in_words(body, options, capsys, given):
    given(body)
    assert main(["estimate", "-", *options]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "JSON" in err or "nested too deeply" in err
    assert "Traceback" not in err


def test_every_fault_against_the_contract_is_told_with_its_place(capsys, given):
    given(job(fullness="250%", fabrick="Teasel", rod={"width": "120"}, heading={}))
    assert main(["estimate", "-"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    for words in (
        "/windows/0/fullness: fullness is a ratio",
        "Write 2.5 or 3.5",
        '/windows/0/fabrick: there is no field of this name: did you mean "fabric"?',
        "/windows/0/heading/style: style is missing: add it",
        "    seen: 250%",
    ):
        assert words in err


@pytest.mark.parametrize(
    ("changes", "place", "remedy"),
    [
        ({"fullness": 1}, "/windows/0/fullness", "use more cloth"),
        ({"fabric": "Teasel"}, "/windows/0/fabric", "add it to the job"),
        ({"pin": {"rise": "5"}}, "/windows/0/pin/rise", "use a pin of less rise"),
        ({"rod": {"width": "a few feet", "return": "3"}}, "/windows/0/rod/width", "84 1/2 in"),
        ({"rod": {"width": "1200 m", "return": "3"}}, "/windows/0/rod/width", "longer than 1000 m"),
    ],
)
def test_figures_that_make_no_covering_are_told_with_what_to_change(changes, place, remedy, capsys, given):
    given(job(**changes))
    assert main(["estimate", "-"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert f"pleatwright: {place}: " in err
    assert remedy in err


def test_a_job_of_over_a_kilometre_of_cloth_is_written_like_any_other(capsys, given):
    given(
        job(
            rod={"width": "2000", "return": "0", "draw": "one-way-left"},
            hang={"carrying_height": "40 ft", "to": "floor"},
            fullness=2.5,
        )
    )
    assert main(["estimate", "-"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert out.startswith("WORK ORDER")
    assert "MATERIALS" in out


def test_a_name_of_several_lines_cannot_pass_for_lines_of_the_work_order(capsys, given):
    request = json.loads(job(label="Bay\n  order 900 yd\x1b[2J"))
    request["job"] = "Larkfield\nWINDOW 9"
    given(json.dumps(request).encode())
    main(["estimate", "-"])
    out = capsys.readouterr().out
    assert "\x1b" not in out
    assert not any(line.startswith(("WINDOW 9", "  order 900 yd")) for line in out.splitlines())


def test_headings_are_listed_with_their_figures(capsys, headings):
    assert main(["headings"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    listed = [line.partition(" ")[0] for line in out.splitlines() if not line.startswith(" ")]
    assert listed == sorted(headings.installed)
    assert "take-up 4 in to 7 in, usually 5 1/2 in" in out
    assert "space 3 in to 4 1/2 in, usually 3 3/4 in" in out


@pytest.mark.parametrize(("units", "take_up"), [("cm", "10.16 cm to 17.78 cm"), ("mm", "101.6 mm to 177.8 mm")])
def test_headings_are_listed_in_the_units_asked(units, take_up, capsys):
    assert main(["headings", "--units", units]) == 0
    out = capsys.readouterr().out
    assert take_up in out
    assert " in\n" not in out


def test_the_contract_is_the_committed_document(capsysbinary):
    assert main(["contract"]) == 0
    assert capsysbinary.readouterr().out == (OPENAPI / "openapi.json").read_bytes()


@pytest.mark.parametrize(
    "arguments", [[], ["estimate"], ["measure"], ["headings", "--units", "ft"], ["serve", "--port", "first"]]
)
def test_a_command_that_is_not_known_is_refused(arguments, capsys):
    with pytest.raises(SystemExit) as caught:
        main(arguments)
    assert caught.value.code == 2
    assert "usage: pleatwright" in capsys.readouterr().err


def test_the_version_is_told(capsys):
    with pytest.raises(SystemExit) as caught:
        main(["--version"])
    assert caught.value.code == 0
    assert capsys.readouterr().out.startswith("pleatwright ")


def test_a_service_with_settings_that_cannot_be_used_does_not_start(capsys, monkeypatch):
    monkeypatch.setenv("PLEATWRIGHT_STRICT", "maybe")
    monkeypatch.setenv("PLEATWRIGHT_LARGEST_REQUEST", "huge")
    assert main(["serve", "--port", "0"]) == 2
    err = capsys.readouterr().err
    assert err.startswith("pleatwright: PLEATWRIGHT_STRICT is 'maybe'")
    assert "PLEATWRIGHT_LARGEST_REQUEST is 'huge'" in err
    assert "Traceback" not in err


def test_a_reader_that_goes_away_ends_the_command_without_a_trace():
    command = [sys.executable, "-m", "pleatwright.command", "estimate", str(METRIC_JOB)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        process.stdout.close()
        assert b"Traceback" not in process.stderr.read()


@pytest.mark.parametrize("spelling", ["pleatwright", "Pleatwright"])
def test_a_package_is_checked_by_any_spelling_of_its_name(spelling, capsys):
    assert main(["headings", "check", spelling]) == 0
    assert "three-fold-pinch: sound" in capsys.readouterr().out


def test_a_service_starts_without_numpy_and_the_solver_has_it_all_the_same():
    """It is installed for the solver, and would be a quarter of the memory of a worker that solves nothing."""
    code = (
        "import sys, pleatwright.web.app; assert 'numpy' not in sys.modules; "
        "from ortools.sat.python import cp_model; import numpy; assert numpy.arange(3).sum() == 3"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
