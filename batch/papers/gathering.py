"""All papers of a job, gathered, numbered, and those that an audience gets picked out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import chain
from typing import NamedTuple

from batch.papers.control_papers import control_wiring_papers, ladder_papers
from batch.papers.job_at_hand import AtHand, Figures
from batch.papers.label_papers import label_papers
from batch.papers.material_papers import material_papers
from batch.papers.nameplate_papers import control_label_papers, nameplate_papers
from batch.papers.one_line_papers import one_line_papers
from batch.papers.paper_data import SCHEMA, Paper, PaperGroup, PaperSet, ProjectWords
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
from batch.papers.schedule_papers import schedule_papers
from batch.papers.transmittal_papers import transmittal_papers
from batch.papers.type_papers import type_papers, wiring_papers
from batch.results import JobResult, ProjectResult

MADE_BY: Mapping[str, Callable[[AtHand], Iterable[Paper]]] = {
    TRANSMITTAL: transmittal_papers,
    ONE_LINE: one_line_papers,
    SCHEDULE: schedule_papers,
    TYPE: type_papers,
    LADDER: ladder_papers,
    WIRING: lambda at: chain(wiring_papers(at), control_wiring_papers(at)),
    LABELS: lambda at: chain(label_papers(at), control_label_papers(at)),
    NAMEPLATES: nameplate_papers,
    MATERIALS: material_papers,
    RECORDS: record_papers,
}


class PapersGathered(NamedTuple):
    """What the templates are given, and the drawings among it by file."""

    papers: PaperSet
    figures: Figures


def gather_papers(result: JobResult, audience: str, us: bool, page: str, program: str) -> PapersGathered:
    """The papers of a job for an audience, project by project; numbers do not hang on the audience."""
    figures = Figures()
    at = AtHand(result, us, figures)
    papers: list[Paper] = []
    for number in range(len(result.projects)):
        at.turn_to(number)
        papers += _of_project(at, AUDIENCES[audience])
    words = tuple(_words(project) for project in result.projects)
    groups = tuple(PaperGroup(number, name) for number, name in GROUPS.items())
    return PapersGathered(PaperSet(SCHEMA, result.job.name, program, audience, page, words, groups, tuple(papers)), figures)


def _of_project(at: AtHand, groups: Iterable[str]) -> Iterator[Paper]:
    serials: Counter[str] = Counter()
    for group in groups:
        for paper in MADE_BY[group](at) if group in MADE_BY else ():
            serials[group] += 1
            yield paper._replace(number=paper_number(at.project.project.project, group, serials[group]))


def _words(project: ProjectResult) -> ProjectWords:
    one = project.project
    return ProjectWords(
        one.project, one.title or "", one.customer or "", one.site or "", one.revision or "", one.date or "", one.prepared_by or "",
        project.rule_set,
    )  # fmt: skip
