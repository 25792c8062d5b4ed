"""Sets the data of the papers by text templates into a PDF. Typst, the typesetter, is loaded here and nowhere else.

Templates see nothing but themselves, the data and the drawings: no file of the machine, no font of it, no clock. So the same data by
the same templates gives the same bytes.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from batch.errors import InputFileError, TemplateError
from batch.papers.signs import in_numbers, more_faces

MAIN = "papers.typ"
TEXTS = (".typ",)
PICTURES = (".svg", ".png", ".jpg", ".jpeg")  # a firm's mark, say
FONTS = (".ttf", ".otf")
FACES = ("Regular", "It", "Semibold", "Bold")  # of the family that our templates ask for
MOST_BYTES = 20_000_000  # of a folder of templates
INSTALLED, CHECKED_OUT = Path(__file__).parent / "templates", Path(__file__).parents[2] / "templates" / "papers"
_PLACE = re.compile(r"┌─ (.+?):(\d+):(\d+)")


def our_templates() -> Path:
    """The folder of our templates: beside this file where the program is installed, at the top of a checkout."""
    return INSTALLED if INSTALLED.is_dir() else CHECKED_OUT


def read_templates(folder: Path | None) -> dict[str, bytes]:
    """Templates by name: ours, and in place of those of the same name the ones in `folder`, with the pictures beside them.

    Raises:
        InputFileError: a folder that is none, that cannot be read, that holds no template, or far too much.
    """
    found = {path.name: path.read_bytes() for path in sorted(our_templates().glob("*.typ"))}
    if folder is None:
        return found
    if not folder.is_dir():
        raise InputFileError(f"{folder}: there is no such folder of templates: name the folder that holds the .typ files")
    try:
        own = {path.name: path for path in sorted(folder.iterdir()) if path.suffix.lower() in (*TEXTS, *PICTURES) and path.is_file()}
        if not any(path.suffix.lower() in TEXTS for path in own.values()):
            raise InputFileError(f"{folder}: no template in this folder: name its files as ours, {_listed(found)}")
        if sum(path.stat().st_size for path in own.values()) > MOST_BYTES:
            raise InputFileError(f"{folder}: more than {MOST_BYTES / 1e6:g} MB of templates and pictures: keep what they use, and no more")
        return found | {name: path.read_bytes() for name, path in own.items()}
    except OSError as fault:
        raise InputFileError(f"{folder}: the templates cannot be read ({fault.strerror or fault}): check their permissions") from fault


def _listed(names: Mapping[str, bytes]) -> str:
    return ", ".join(names)


def faces(templates: Path | None) -> list[Path]:
    """Files of all the type that there is: ours, that of packages with more signs, a firm's own."""
    import font_source_sans_pro

    ours = Path(font_source_sans_pro.__file__).parent / "files"
    found = [*(ours / f"SourceSansPro-{face}.ttf" for face in FACES), *more_faces()]
    if templates is not None and templates.is_dir():
        found += sorted(path for path in templates.iterdir() if path.suffix.lower() in FONTS)
    return found


def typeset(data: str, drawings: Mapping[str, str], templates: Path | None = None, lacks: frozenset[str] = frozenset()) -> bytes:
    """The PDF of `data`, papers as JSON. `drawings` are SVG texts by the file that the data name them by; `templates` a firm's own folder;
    `lacks` signs that no face has.

    Raises:
        TemplateError: what is wrong in a template, with file and line.
        InputFileError: as `read_templates`.
    """
    import typst

    files = read_templates(templates)
    names = {name: str(templates / name) if templates is not None and (templates / name).exists() else f"our {name}" for name in files}
    files |= {"data.json": in_numbers(data, lacks).encode()}
    files |= {name.lstrip("/"): in_numbers(text, lacks).encode() for name, text in drawings.items()}
    with TemporaryDirectory() as root, TemporaryDirectory() as folder:  # faces alone, since of several of one any would be taken
        for name, body in files.items():  # in a folder, since of what is handed over as bytes all is read as a template first, data too
            _file_in(Path(root), name).write_bytes(body)
        for face in faces(templates):
            shutil.copy(face, folder)
        fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder])
        begin = str(Path(root) / MAIN)
        try:
            return typst.compile(begin, root=root, font_paths=fonts, ignore_system_fonts=True, format="pdf", pdf_tags=False)
        except typst.TypstError as fault:
            raise TemplateError(_fault_words(getattr(fault, "diagnostic", "") or "", str(fault), names, Path(root))) from fault
        except BaseException as fault:  # a panic of the typesetter is not even an Exception
            if type(fault).__name__ != "PanicException":
                raise
            raise TemplateError(f"{templates or 'our templates'}: the typesetter gave up on these templates ({fault})") from fault


def _file_in(root: Path, name: str) -> Path:
    """Where a file of this name goes, its folder made."""
    path = root / name
    path.parent.mkdir(parents=True, exist_ok=True)
    return path


def _fault_words(diagnostic: str, message: str, names: Mapping[str, str], root: Path) -> str:
    """ "/firm/title_block.typ, line 12, column 4: unknown variable: nam; correct it there, or leave --templates out"."""
    said = " ".join(message.split()).replace(f"{root}/", "")
    place = _PLACE.search(diagnostic)
    if place is None:
        return f"{names.get(MAIN, MAIN)}: {said}; correct the templates, or leave --templates out"
    name = place[1].rpartition(root.name)[2].lstrip("/\\")  # the typesetter names a file as seen from where it was called
    file = names.get(name, name)
    return f"{file}, line {place[2]}, column {place[3]}: {said}; correct it there, or leave --templates out"
