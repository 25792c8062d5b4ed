"""The command `menu`: what the spreadsheet program and the desktop take, written as files."""

from __future__ import annotations

import argparse
from pathlib import Path

import batch
from batch.cli import closing_table as closing
from batch.cli.job_files import WrongCommand, named

SAYS = "write a menu for LibreOffice Calc, or launchers that take a workbook dropped on them"
MORE = "Open FILE.oxt with LibreOffice to\ninstall it; its menu Tank heaters sizes, checks, compares and fills in the workbook in hand."


def add_menu(made: argparse.ArgumentParser) -> None:
    made.add_argument("file", nargs="?", type=named, metavar="FILE.oxt", help="the extension to write")
    made.add_argument("--launcher", type=named, metavar="FOLDER", 
                      help="write launchers into a folder: a .cmd for Windows, a .desktop for Linux")


def do_menu(options: argparse.Namespace, voice) -> int:
    from batch.watch.menu_files import write_launchers, write_menu

    file: Path | None = options.file
    if file is None and options.launcher is None:
        raise WrongCommand("name what to write: a file that ends in .oxt, or --launcher FOLDER")
    if file is not None and file.suffix.lower() != ".oxt":
        raise WrongCommand(f"{file}: end the name of the menu in .oxt")
    if options.launcher is not None and not options.launcher.is_dir():
        raise WrongCommand(f"--launcher {options.launcher}: there is no such folder; make it first")
    if file is not None:
        voice.out(f"written {write_menu(file, batch.__version__)}: open it with LibreOffice to install it, and start Calc again")
    if options.launcher is not None:
        voice.out(*(f"written {path}: drop job workbooks on it" for path in write_launchers(options.launcher)))
    return closing.SIZED
