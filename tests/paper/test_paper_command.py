"""The command that draws: the same drawing as the library's, or what is wrong in words."""

import json
from pathlib import Path

import pytest

from pleatwright import workroom
from pleatwright.command import main
from pleatwright.paper import drawings

JOB = Path(__file__).parent.parent.parent / "openapi" / "examples" / "estimate-metric.json"


@pytest.fixture
def drawn(tmp_path):
    def draw(*given):
        file = tmp_path / "drawing.svg"
        assert main(["paper", str(JOB), "-o", str(file), "--drawing", *given]) == 0
        return file.read_text(encoding="utf-8")

    return draw


def test_each_drawing_is_that_of_the_window_and_the_panel_asked_for(drawn, estimated, headings):
    reply = estimated("estimate-metric")
    study = reply.windows[1]
    (bramble,) = [each for each in reply.materials.fabrics if each.fabric == study.fabric]
    wanted = {
        "panel-flat": drawings.panel_flat(study, study.panels[1], "cm"),
        "panel-finished": drawings.panel_finished(study, study.panels[1], "cm"),
        "heading": drawings.heading_section(workroom.heading("three-fold-pinch", headings, "cm")),
        "hang": drawings.hang_section(study, reply.windows, "cm"),
        "cut-plan": drawings.cut_plan(bramble, "cm"),
    }
    for name, drawing in wanted.items():
        assert drawn(name, "--window", "2", "--panel", "2") == drawings.svg(drawing), name
    assert drawn("panel-flat") == drawings.svg(drawings.panel_flat(reply.windows[0], reply.windows[0].panels[0], "cm"))


def test_a_layer_has_a_cut_plan_of_its_own(tmp_path, estimated):
    (lining,) = estimated("estimate").materials.layers
    job, file = JOB.with_name("estimate.json"), tmp_path / "lining.svg"
    assert main(["paper", str(job), "--drawing", "cut-plan", "--layer", "1", "-o", str(file)]) == 0
    assert file.read_text(encoding="utf-8") == drawings.svg(drawings.layer_plan(lining, "in"))


@pytest.mark.parametrize(
    ("name", "job", "layer", "words"),
    [
        ("cut-plan", "estimate", "2", "each layer that the job orders has a cut plan: there are 1"),
        ("hang", "estimate", "1", "there is none here: leave this out"),
        ("cut-plan", "headings/estimate-rods", "1", "there is none here: leave this out"),
    ],
)
def test_a_layer_that_has_no_such_drawing_is_said(name, job, layer, words, capsys):
    file = JOB.parents[0] / f"{job}.json"
    assert main(["paper", str(file), "--drawing", name, "--layer", layer]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(f"pleatwright: /layer: {words}\n")


def test_a_drawing_goes_to_standard_output(capsysbinary, estimated):
    assert main(["paper", str(JOB), "--drawing", "hang"]) == 0
    reply = estimated("estimate-metric")
    text = drawings.svg(drawings.hang_section(reply.windows[0], reply.windows, "cm"))
    assert capsysbinary.readouterr().out == text.encode()


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (["--window", "3"], "/window: the job has windows 1 to 2\n    seen: 3"),
        (["--panel", "2"], "/panel: this window has panels 1 to 1\n    seen: 2"),
        (["-o", "drawing.pdf"], "drawing.pdf: this paper is not written as .pdf"),
        (["-o", "/nowhere/at/all.svg"], "/nowhere/at/all.svg: No such file or directory"),
    ],
)
def test_what_cannot_be_drawn_is_said(given, words, capsys):
    assert main(["paper", str(JOB), "--drawing", "panel-flat", *given]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert err == f"pleatwright: {words}\n"


@pytest.mark.parametrize("given", [["--window", "0"], ["--panel", "-1"], ["--window", "two"], ["--ticket"]])
def test_what_makes_no_sense_is_refused_with_the_usage(given, capsys):
    with pytest.raises(SystemExit):
        main(["paper", str(JOB), "--drawing", "hang", *given])
    assert "usage: pleatwright paper" in capsys.readouterr().err


def test_a_ticket_is_html_or_pdf_by_the_name_of_its_file(tmp_path):
    for name, begins in (("ticket.html", b"<!doctype html>"), ("ticket.pdf", b"%PDF-1.")):
        file = tmp_path / name
        assert main(["paper", str(JOB), "--ticket", "--sheet", "letter", "-o", str(file)]) == 0
        assert file.read_bytes().startswith(begins)


def test_a_tape_is_pdf(tmp_path, capsysbinary):
    assert main(["paper", str(JOB), "--tape", "--window", "2"]) == 0
    tape = capsysbinary.readouterr().out
    assert tape.startswith(b"%PDF-1.")
    file = tmp_path / "tape.pdf"
    assert main(["paper", str(JOB), "--tape", "--window", "2", "-o", str(file)]) == 0
    assert file.read_bytes() == tape


def test_a_job_that_cannot_be_made_is_told_with_its_faults(tmp_path, capsys):
    request = json.loads(JOB.read_text())
    request["windows"][0]["fabric"] = "nothing known"
    file = tmp_path / "job.json"
    file.write_text(json.dumps(request))
    assert main(["paper", str(file), "--drawing", "hang"]) == 1
    assert "/windows/0/fabric" in capsys.readouterr().err
