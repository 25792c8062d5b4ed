"""All papers of a job, gathered, numbered, and those that an audience gets picked out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import chain
from typing import NamedTuple

from batch.papers.circuit_test_papers import circuit_test_papers
from batch.papers.control_box_papers import control_box_papers
from batch.papers.control_papers import control_wiring_papers, ladder_papers
from batch.papers.country_papers import in_country
from batch.papers.job_at_hand import AtHand, Figures
from batch.papers.label_papers import label_papers
from batch.papers.material_papers import material_papers
from batch.papers.nameplate_papers import control_label_papers, nameplate_papers
from batch.papers.one_line_papers import one_line_papers
from batch.papers.paper_data import PAGE, SCHEMA, Paper, PaperGroup, PaperSet, ProjectWords
from batch.papers.paper_sets import (
    AUDIENCES,
    GROUPS,
    LABELS,
    LADDER,
    MATERIALS,
    NAMEPLATES,
    ONE_LINE,
    RECORDS,
    SCHEDULE,
    TRANSMITTAL,
    TYPE,
    WIRING,
    paper_number,
)
from batch.papers.record_papers import record_papers
from batch.papers.region_words import in_region_words
from batch.papers.run_papers import run_papers
from batch.papers.schedule_papers import schedule_papers
from batch.papers.shop_test_papers import shop_test_papers
from batch.papers.transmittal_papers import transmittal_papers
from batch.papers.type_papers import single_circuit_papers, type_papers, wiring_papers
from batch.results import JobResult, ProjectResult
from batch.schedules.country_words import of_one_country

MADE_BY: Mapping[str, Callable[[AtHand], Iterable[Paper]]] = {
    TRANSMITTAL: transmittal_papers,
    ONE_LINE: one_line_papers,
    SCHEDULE: lambda at: chain(schedule_papers(at), run_papers(at)),
    TYPE: lambda at: chain(type_papers(at), single_circuit_papers(at), control_box_papers(at)),
    LADDER: ladder_papers,
    WIRING: lambda at: chain(wiring_papers(at), control_wiring_papers(at)),
    LABELS: lambda at: chain(label_papers(at), control_label_papers(at)),
    NAMEPLATES: nameplate_papers,
    MATERIALS: material_papers,
    RECORDS: lambda at: chain(shop_test_papers(at), () if at.audience == "shop" else chain(circuit_test_papers(at), record_papers(at))),
}


class PapersGathered(NamedTuple):
    """What the templates are given, and the drawings among it by file."""

    papers: PaperSet
    figures: Figures


def gather_papers(
    result: JobResult, audience: str, us: bool | None, page: str, program: str, *, earlier: JobResult | None = None
) -> PapersGathered:  # fmt: skip
    """The papers of a job for an audience, project by project; numbers do not hang on the audience. `us`: their units, None = each
    project's own. `page` is that of a job of one country, else each project has its own. `earlier`: the revision that each paper is
    compared with.
    """
    papers, figures = _gathered(result, audience, us)
    papers = [in_country(paper, result.projects[paper.project].wording) for paper in papers]
    if earlier is not None:
        before, drawn = _gathered(earlier, audience, us)
        before = [in_country(paper, earlier.projects[paper.project].wording) for paper in before]
        papers = _compared(papers, figures, result, before=before, drawn=drawn, earlier=earlier)
    words = tuple(_words(project, page if of_one_country(result) else PAGE[project.country.paper]) for project in result.projects)
    groups = tuple(PaperGroup(number, _in_all_countries(name, result)) for number, name in GROUPS.items())
    return PapersGathered(PaperSet(SCHEMA, result.job.name, program, audience, page, words, groups, tuple(papers)), figures)


def _gathered(result: JobResult, audience: str, us: bool | None) -> tuple[list[Paper], Figures]:
    figures = Figures()
    at = AtHand(result, us, figures, audience)
    papers: list[Paper] = []
    for number in range(len(result.projects)):
        at.turn_to(number)
        papers += _of_project(at, AUDIENCES[audience])
    return papers, figures


def _of_project(at: AtHand, groups: Iterable[str]) -> Iterator[Paper]:
    """Papers of a project with their numbers: a serial that a paper brings stands, the others follow on the highest of these."""
    for group in groups:
        papers = list(MADE_BY[group](at)) if group in MADE_BY else []
        serial = max((int(paper.number) for paper in papers if paper.number.isdigit()), default=0)
        for paper in papers:
            own = paper.number
            if not own:
                serial += 1
            yield in_region_words(paper, at.project.wording)._replace(number=paper_number(at.project.project.project, group, own or serial))


def _compared(
    papers: list[Paper], figures: Figures, result: JobResult, *, before: list[Paper], drawn: Figures, earlier: JobResult
) -> list[Paper]:  # fmt: skip
    """The papers with what changed against the earlier ones of the same title; the index names those that are no more."""
    was = {_which(paper, earlier): _content(paper, drawn) for paper in before}
    now = {_which(paper, result) for paper in papers}
    marked = []
    for paper in papers:
        old = was.get(_which(paper, result))
        changed = "new" if old is None else "as before" if old == _content(paper, figures) else "changed"
        if paper.kind == "index":
            name = result.projects[paper.project].project.project
            gone = [f"{one.number} {one.title}" for one in before if _which(one, earlier) not in now and _which(one, earlier)[0] == name]
            paper = paper._replace(notes=(f"Withdrawn since the earlier revision: {', '.join(gone)}.",) if gone else ())
        marked.append(paper._replace(changed=changed))
    return marked


def _which(paper: Paper, result: JobResult) -> tuple[str, str, str]:
    return result.projects[paper.project].project.project, paper.group, paper.title


def _content(paper: Paper, figures: Figures) -> tuple[object, ...]:
    """All that stands on a paper, its drawings by what is drawn."""
    drawings = {name: drawing for drawing, name in figures.files.items()}
    return *paper._replace(project=0, changed="", figures=()), *(drawings[figure.file] for figure in paper.figures)


def _in_all_countries(name: str, result: JobResult) -> str:
    """Name of a group in the words of the job's country, in ours where its projects are of several: the groups are one list for all."""
    said = {project.wording.of(name) for project in result.projects}
    return said.pop() if len(said) == 1 else name


def _words(project: ProjectResult, page: str) -> ProjectWords:
    one = project.project
    return ProjectWords(
        one.project, one.title or "", one.customer or "", one.site or "", one.revision or "", one.date or "", one.prepared_by or "",
        project.rule_set, page,
    )  # fmt: skip
