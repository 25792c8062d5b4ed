"""The PDF of a job's papers as a file: whole or not at all, and never in place of somebody else's."""

from __future__ import annotations

import json
import re
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from batch.drawings.vector import svg
from batch.errors import InputFileError, OutputFileError
from batch.file_names import job_name
from batch.papers.gathering import gather_papers
from batch.papers.paper_data import PAGE, PaperFact, PaperSet, as_json
from batch.papers.signs import lacking
from batch.papers.typesetting import faces, typeset
from batch.results import JobResult
from batch.whole_file import FileInTheMaking, template_words, whole_file

MARK = b"\n%papers of a sized job: "  # begins the last line of what this program prints; a comment to a reader of PDF
LONGEST_MARK = 4096
PAGES = re.compile(rb"<xmpTPg:NPages>(\d+)<")


class Printed(NamedTuple):
    """Where the papers landed, and how many there are."""

    part: FileInTheMaking
    papers: int
    sheets: int
    lacks: str = ""  # what to say of signs that the type lacks
    templates: str = ""  # whose templates they were set by, where they are not ours


def print_job(
    result: JobResult, path: Path, *, audience: str, us: bool | None, paper: str, program: str, templates: Path | None,
    earlier: JobResult | None = None,
) -> Printed:  # fmt: skip
    """Prints a sized job's papers to `path`, whole or not at all.

    audience   one of AUDIENCES
    us         whether in US units; None = each project in those of its rule set's country
    paper      "letter" or "a4", of a job of one country; else each project has its own
    templates  a firm's own folder; None = ours alone
    earlier    the revision that each paper is compared with, for the index; None = no such
    Raises InputFileError where there is nothing to print, TemplateError where a template is at fault, OutputFileError where the file
    cannot be written or holds another job's papers; whatever stood there is then untouched.
    """
    if not result.projects:
        raise InputFileError(f"{result.job.name}: no project of it could be sized, so there is nothing to print; `check` says why")
    _refuse_another_s(path, result.job.name)
    papers, figures = gather_papers(result, audience, us, PAGE[paper], program, earlier=earlier)
    drawings = {name: svg(drawing) for drawing, name in figures.files.items()}
    data = as_json(papers).decode()
    lacks = lacking((data, *drawings.values()), faces(templates))
    by = template_words(templates)  # before the papers stand, which may be put beside the templates
    told = _told(papers, lacks, by)
    body = typeset(data if told is papers else as_json(told).decode(), drawings, templates, lacks)
    with whole_file(path) as part:
        _refuse_another_s(part.wanted, result.job.name)
        part.why = part.why or _changed_since(part.wanted)
        part.path.write_bytes(body + _mark(body, result.job.name))
    pages = PAGES.search(body)
    return Printed(part, len(papers.papers), int(pages[1]) if pages else 0, _lacking_words(lacks), by)


def _told(papers: PaperSet, lacks: frozenset[str], by: str) -> PaperSet:
    """The papers, the transmittals of which say by whose templates they are set, and what stands for signs that the type lacks."""
    said = {"Set by": by, "Signs": _lacking_words(lacks)}
    facts = tuple(PaperFact(caption, words) for caption, words in said.items() if words)
    if not facts:
        return papers
    told = (paper._replace(facts=(*paper.facts, *facts)) if paper.kind == "transmittal" else paper for paper in papers.papers)
    return papers._replace(papers=tuple(told))


def _lacking_words(lacks: frozenset[str]) -> str:
    """ "" where the type has every sign."""
    if not lacks:
        return ""
    first = f"U+{ord(min(lacks)):04X}"
    what = f"{len(lacks)} signs of this job: their numbers stand" if len(lacks) > 1 else "a sign of this job: its number stands"
    return f"the type lacks {what} in place, [{first}]; install the extra cjk, or put a font that has it beside your templates"


def _mark(body: bytes, job: str) -> bytes:
    """The last line: whose papers these are, and the digest of all before it."""
    return MARK + json.dumps({"job": job_name(job), "sha256": sha256(body).hexdigest()}).encode() + b"\n"


def _marked(data: bytes) -> dict[str, str]:
    """What the last line of papers says; {} where these are none of ours."""
    at = data.rfind(MARK, max(0, len(data) - LONGEST_MARK))
    if at < 0:
        return {}
    try:
        said = json.loads(data[at + len(MARK) :])
    except ValueError:
        return {}
    return {key: str(value) for key, value in said.items()} if isinstance(said, dict) else {}


def _held(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError:
        return b""


def _refuse_another_s(path: Path, job: str) -> None:
    whose = _marked(_held(path)).get("job", "")
    if whose and whose.casefold() != job_name(job).casefold():
        raise OutputFileError(f"{path}: holds the papers of {whose}, which is another job; nothing was changed: name another file with -o, "
                              "or move that one away")  # fmt: skip


def _changed_since(path: Path) -> str:
    """Why a file is left alone: it is none of ours, or somebody marked it up since; "" = it may be replaced."""
    if not path.exists():
        return ""
    data = _held(path)
    said = _marked(data)
    if not said:
        return "it was not printed by this program, or was saved by another since"
    at = data.rfind(MARK)
    if sha256(data[:at]).hexdigest() == said.get("sha256"):
        return ""
    return "another program has saved it since, so it may hold somebody's marks"
