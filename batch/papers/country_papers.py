"""Papers in the words of their project's country, its designations among them; names stay as people gave them."""

from __future__ import annotations

from batch.papers.paper_data import ColumnHead, Label, Paper, PaperFact, PaperTable, table
from batch.rules import Wording
from batch.schedules.designations import lettered


def in_country(paper: Paper, wording: Wording) -> Paper:
    """The paper with everything that is read on it in these words; itself where they are ours."""
    if not wording:
        return paper

    def said(text: str) -> str:
        return lettered(wording.of(text), wording)

    def heading(head: ColumnHead) -> str:
        return lettered(wording.heading(head.words, head.unit), wording)

    def fact(one: PaperFact) -> PaperFact:
        return PaperFact(said(one.caption), said(one.words))

    def label(one: Label) -> Label:
        return one._replace(title=said(one.title), warning=said(one.warning), facts=tuple(map(fact, one.facts)))

    def spoken(one: PaperTable) -> PaperTable:
        headings = [head._replace(words=heading(head), unit=said(head.unit)) for head in one.headings]
        rows = (tuple(map(said, row)) for row in one.rows)
        return table(said(one.title), headings, rows, one.held, said(one.note))

    return paper._replace(
        title=said(paper.title),
        band=said(paper.band),
        facts=tuple(map(fact, paper.facts)),
        figures=tuple(figure._replace(says=said(figure.says)) for figure in paper.figures),
        tables=tuple(map(spoken, paper.tables)),
        labels=tuple(map(label, paper.labels)),
        notes=tuple(map(said, paper.notes)),
    )
