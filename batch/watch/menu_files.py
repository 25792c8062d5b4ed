"""The menu for the spreadsheet program as a file to install, and launchers that take a workbook dropped on them."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, BadZipFile, ZipFile, ZipInfo

from batch.errors import OutputFileError
from batch.whole_file import whole_file

MENU = "TankHeaters/Menu.xba"
HOME = Path(__file__).parent / "calc_menu"
MODULE = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Menu" script:language="StarBasic">{text}</script:module>
"""
PLACES = {  # in the package -> here
    "Addons.xcu": "Addons.xcu", "description.xml": "description.xml", "META-INF/manifest.xml": "manifest.xml",
    "TankHeaters/script.xlb": "script.xlb", "TankHeaters/dialog.xlb": "dialog.xlb",
}  # fmt: skip
MADE = (2000, 1, 1, 0, 0, 0)  # no clock goes into the file
COMMAND_FILE = """@echo off
rem Drop job workbooks on this file: they are sized, and the results are opened.
"{python}" -m batch.cli.launch %*
if errorlevel 2 pause
"""
DESKTOP_FILE = """[Desktop Entry]
Type=Application
Name=Size tank heaters
Comment=Drop a job workbook on it: it is sized, and the results are opened
Exec="{python}" -m batch.cli.launch %F
Terminal=true
MimeType=application/vnd.openxmlformats-officedocument.spreadsheetml.sheet;application/vnd.oasis.opendocument.spreadsheet;
"""


def write_menu(target: Path, version: str, python: str = sys.executable) -> Path:
    """Writes the menu as an extension (.oxt) of LibreOffice Calc to `target`.

    python  the interpreter that this program is installed with: the menu calls it by its whole path
    Raises:
        OutputFileError: the file cannot be written, or what stands there is not our menu.
    """
    if target.exists() and not _ours(target):
        raise OutputFileError(f"{target}: this is another extension or file; nothing was changed: name another file")
    with whole_file(target) as part, ZipFile(part.path, "w", ZIP_DEFLATED) as package:
        for name, text in _parts(version, python):
            package.writestr(ZipInfo(name, MADE), text)
    return part.landed


def _ours(target: Path) -> bool:
    """Whether a file is this menu, of whatever edition."""
    try:
        with ZipFile(target) as package:
            return MENU in package.namelist()
    except (OSError, BadZipFile):
        return False


def _parts(version: str, python: str) -> Iterator[tuple[str, str]]:
    for name, file in PLACES.items():
        yield name, (HOME / file).read_text(encoding="utf-8").replace("@VERSION@", version)
    basic = (HOME / "Menu.bas").read_text(encoding="utf-8").replace("@PYTHON@", python.replace('"', '""'))
    yield MENU, MODULE.format(text=escape(basic))


def write_launchers(folder: Path, python: str = sys.executable) -> tuple[Path, ...]:
    """Writes both launchers into `folder`: "size heaters.cmd" for Windows, "size heaters.desktop" for a Linux desktop.

    Raises:
        OutputFileError: a file cannot be written.
    """
    written = []
    for name, text, end in (("size heaters.cmd", COMMAND_FILE, "\r\n"), ("size heaters.desktop", DESKTOP_FILE, "\n")):
        with whole_file(folder / name) as part:
            part.path.write_text(text.format(python=python), encoding="utf-8", newline=end)
        if name.endswith(".desktop"):
            part.landed.chmod(0o755)
        written.append(part.landed)
    return tuple(written)
