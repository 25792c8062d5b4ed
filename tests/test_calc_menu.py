"""The menu for LibreOffice Calc and the launchers: each entry driven in a real headless LibreOffice, through its own interface."""

from __future__ import annotations

import json
import shutil
import socket
import subprocess
import sys
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import openpyxl
import pytest

import batch
from batch.cli import launch
from batch.cli.app import main
from batch.watch import menu_call
from tests.make_samples import HERE

ROOT = Path(__file__).resolve().parents[1]
SYSTEM_PYTHON = "/usr/bin/python3"


def has_uno() -> bool:
    """Whether there is a LibreOffice, and a Python that speaks its interface."""
    if shutil.which("soffice") is None or not Path(SYSTEM_PYTHON).exists():
        return False
    return subprocess.run([SYSTEM_PYTHON, "-c", "import uno"], capture_output=True, check=False).returncode == 0


@pytest.fixture
def menu(tmp_path: Path) -> Path:
    assert main(["menu", str(tmp_path / "menu.oxt")]) == 0
    return tmp_path / "menu.oxt"


def test_the_extension_names_its_parts_and_its_python(menu):
    with zipfile.ZipFile(menu) as package:
        for name in package.namelist():
            ElementTree.fromstring(package.read(name).replace(b"library.dtd", b"").replace(b"module.dtd", b""))
        basic = ElementTree.fromstring(package.read("TankHeaters/Menu.xba")).text
        entries = package.read("Addons.xcu").decode()
    assert f'Const PYTHON = "{sys.executable}"' in basic and "@" not in basic
    for entry in ("SizeThisWorkbook", "CheckThisWorkbook", "CompareThisWorkbook", "FillThisList"):
        assert f"TankHeaters.Menu.{entry}?" in entries and f"Function {entry}(" in basic
    assert main(["menu", str(menu.with_name("again.oxt"))]) == 0
    assert menu.read_bytes() == menu.with_name("again.oxt").read_bytes()


@pytest.mark.skipif(not has_uno(), reason="no LibreOffice with its Python interface here")
def test_every_entry_in_a_real_spreadsheet_program(menu, tmp_path):
    job, lists, odd = tmp_path / "my job.xlsx", tmp_path / "list.xlsx", tmp_path / "pänels.xlsx"
    shutil.copy(HERE / "small-clean.xlsx", job)
    shutil.copy(HERE / "customer-list-to-fill.xlsx", lists)
    shutil.copy(HERE / "broken" / "text.xlsx", odd)
    before = {path: path.read_bytes() for path in (job, lists)}
    with socket.socket() as free:
        free.bind(("localhost", 0))
        port = str(free.getsockname()[1])
    office = subprocess.Popen(
        ["soffice", "--headless", "--norestore", f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}",
         f"--accept=socket,host=localhost,port={port};urp;"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    try:
        calls = [
            str(job), "SizeThisWorkbook", "-", str(job), "CheckThisWorkbook", "-",
            str(job), "CompareThisWorkbook", str(HERE / "revisions" / "line-4-rev-A.xlsx"), str(lists), "FillThisList", "-",
            str(job), "CompareThisWorkbook", str(tmp_path / "none.xlsx"),
        ]  # fmt: skip
        command = [SYSTEM_PYTHON, str(ROOT / "tests" / "calc_driver.py"), port, str(menu), *calls]
        done = subprocess.run(command, capture_output=True, text=True, timeout=240, check=False)
    finally:
        office.kill()
        office.wait()
    size, check, compare, fill, fault = (json.loads(line) for line in done.stdout.splitlines())
    assert size["answer"].startswith("8 banks, 30 heaters, 132.0 kW; 0 holds")
    assert size["opened"][0][0] == str(tmp_path / "my job sized.xlsx")
    assert check["opened"][0][1] == "Findings"
    assert compare["opened"] == [[str(tmp_path / "my job against line-4-rev-A.xlsx"), "What changed"]]
    assert fill["opened"][0][0] == str(tmp_path / "list filled.xlsx")
    assert fault["opened"] == [] and "there is no such file" in fault["answer"] and "\n" not in fault["answer"]
    assert not any(one["touched"] for one in (size, check, compare, fill, fault))
    assert {path: path.read_bytes() for path in before} == before


def asked(tmp_path: Path, *lines: str) -> list[str]:
    request = tmp_path / "request.txt"
    request.write_text("\n".join(lines) + "\n", encoding="utf-8")
    assert menu_call.main([str(request)]) == 0
    return (tmp_path / "answer.txt").read_text(encoding="utf-8").splitlines()


def test_faults_come_as_one_line(tmp_path):
    copy = tmp_path / "copy" / "j.xlsx"
    copy.parent.mkdir()
    copy.write_text("no workbook", encoding="utf-8")
    words, opened = (*asked(tmp_path, "size", str(copy), str(tmp_path / "j.xlsx")), "")[:2]
    assert opened == "" and "j.xlsx" in words and "copy" not in words
    assert "does not know" in asked(tmp_path, "dance", str(copy), str(copy))[0]


def test_findings_lead_to_the_cells_of_the_workbook(tmp_path):
    shutil.copy(HERE / "every-finding.xlsx", tmp_path / "copy.xlsx")
    job = tmp_path / "job.xlsx"
    _, opened = asked(tmp_path, "check", str(tmp_path / "copy.xlsx"), str(job))
    sheet = openpyxl.load_workbook(opened)["Findings"]
    links = {cell.value: cell.hyperlink for (cell,) in sheet.iter_rows(min_col=2, max_col=2) if cell.hyperlink}
    assert len(links) > 50
    for words, link in links.items():
        assert link.target.endswith("job.xlsx") and link.location.replace("'", "").split("!")[1] in words


def test_launchers_size_what_is_dropped_on_them(tmp_path, monkeypatch):
    assert main(["menu", "--launcher", str(tmp_path)]) == 0
    for name in ("size heaters.cmd", "size heaters.desktop"):
        assert f'"{sys.executable}" -m batch.cli.launch' in (tmp_path / name).read_text(encoding="utf-8")
    shown = []
    monkeypatch.setattr(launch, "show", shown.append)
    shutil.copy(HERE / "small-clean.xlsx", tmp_path / "a.xlsx")
    shutil.copy(HERE / "broken" / "truncated.xlsx", tmp_path / "b.xlsx")
    assert launch.main([str(tmp_path / "a.xlsx"), str(tmp_path / "b.xlsx")]) == 3
    assert shown == [batch.result_path(tmp_path / "a.xlsx")]
    assert launch.main([]) == 2
    (tmp_path / ".~lock.a sized.xlsx#").write_text("somebody", encoding="utf-8")
    assert launch.main([str(tmp_path / "a.xlsx")]) == 0
    assert shown[1:] == [tmp_path / "a sized (2).xlsx"]  # the old ones are open elsewhere: shown is what is new


@pytest.mark.parametrize("arguments", [[], ["menu.zip"], ["--launcher", "nowhere-at-all"]])
def test_what_cannot_be_written_is_refused(arguments, capsys):
    assert main(["menu", *arguments]) == 2
    assert capsys.readouterr().err.startswith("heaterbatch: ")


def test_another_extension_of_that_name_is_left(tmp_path, capsys):
    target = tmp_path / "menu.oxt"
    with zipfile.ZipFile(target, "w") as package:
        package.writestr("description.xml", "<description/>")
    held = target.read_bytes()
    assert main(["menu", str(target)]) == 3 and "name another file" in capsys.readouterr().err and target.read_bytes() == held
    target.unlink()
    assert main(["menu", str(target)]) == 0 == main(["menu", str(target)])  # our own is replaced
