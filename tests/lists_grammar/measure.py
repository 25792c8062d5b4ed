"""Lists written as workbooks and read; what was not read whole, and what those lists had in common."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path

import xlsxwriter

from tests.lists.score import Score, score_list
from tests.lists_grammar.kinds import PLAIN, made_of_kind
from tests.lists_grammar.sheet import Made, Sheet


def write(list_made: Made, path: Path) -> None:
    """The workbook, and the truth of its rows beside it."""
    with xlsxwriter.Workbook(path, {"strings_to_urls": False, "strings_to_formulas": False}) as book:
        struck = book.add_format({"font_strikeout": True})
        for sheet in list_made.sheets:
            _write(book.add_worksheet(sheet.name), sheet, struck)
    path.with_name(f"{path.stem}.truth.json").write_text(json.dumps({"rows": list_made.truth}), encoding="utf-8")


def _write(page: xlsxwriter.worksheet.Worksheet, sheet: Sheet, struck: object) -> None:
    for number, row in enumerate(sheet.rows):
        for column, value in enumerate(row):
            if value is not None and value != "":
                page.write(number, column, value, *([struck] if number in sheet.struck else []))
    for top, left, bottom, right in sheet.merged:
        page.merge_range(top, left, bottom, right, sheet.rows[top][left])


def score_one(language: str, seed: int, folder: Path, kind: str = PLAIN) -> tuple[Made, Score]:
    one = made_of_kind(kind, language, seed)
    path = folder / f"{kind}-{language}-{seed}.xlsx"
    write(one, path)
    return one, score_list(path)


def _reason(line: str) -> str:
    """Why a row was not taken, without its place and values."""
    return re.sub(r"\A(\w+) \(.*?\)(?=[:,])|\[\{.*", r"\1", line).replace("\n", " ")[:150]


class Tally:
    """The scores of many lists, and the choices of those not read whole."""

    def __init__(self) -> None:
        self.lists = 0
        self.whole = 0
        self.nothing = 0
        self.sum = Score()
        self.tried: Counter[str] = Counter()
        self.missed: Counter[str] = Counter()
        self.reasons: Counter[str] = Counter()

    def add(self, one: Made, score: Score) -> None:
        self.lists += 1
        whole = score.right == score.take and not score.silent
        self.whole += whole
        self.nothing += score.right == 0 and score.take > 0
        self.sum = self.sum.plus(score)
        self.tried.update(set(one.said))
        if not whole:
            self.reasons.update({_reason(line) for line in score.lines})
            self.missed.update(set(one.said))

    def why(self, count: int) -> list[str]:
        """The commonest reasons, by lists."""
        return [f"{lists:3d} lists: {reason}" for reason, lists in self.reasons.most_common(count)]

    def worst(self, count: int) -> list[str]:
        """Choices by how many of their lists were not read whole, beside how many had them."""
        share = self.missed.total() / max(self.tried.total(), 1)
        ranked = sorted(self.missed, key=lambda word: share * self.tried[word] - self.missed[word])
        return [f"{self.missed[word]:3d} of {self.tried[word]:3d}  {word}" for word in ranked[:count]]

    def words(self) -> str:
        score = self.sum
        return (
            f"{self.lists} lists: read whole {self.whole} ({100 * self.whole / max(self.lists, 1):.0f} %), asked whole {self.nothing}; "
            f"rows: right {score.right} of {score.take}, asked {score.asked}; SILENT {score.silent} "
            f"(misread {score.misread}, lost {score.lost}, added {score.added})"
        )
