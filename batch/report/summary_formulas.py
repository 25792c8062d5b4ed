"""Live look-ups from a Summary into the schedules, that hold after those are sorted or filtered."""

from __future__ import annotations

from collections.abc import Mapping

from batch.writing.as_sized import FLAG, count_edited
from batch.writing.placed import Placed

_MEANT = frozenset('*?~<>="')  # marks that a spreadsheet's criterion takes for more than themselves


class Lookups:
    """Formulas for one project, each "" where a name could be taken for another: then the stored figure alone is written."""

    def __init__(self, placed: Mapping[str, Placed], project: str, several: bool) -> None:
        self._placed, self._project, self._several = placed, project, several

    def range(self, sheet: str, key: str) -> str:
        """Reference to a column's data, whatever the project; "" where the sheet is left out."""
        placed = self._placed.get(sheet)
        return "" if placed is None else placed.range(key)

    def edited(self) -> tuple[str, str]:
        """What is counted, and the formula: the project's rows edited since sizing, or all rows where the project cannot be told apart;
        no formula where no sheet has rows."""
        speaking = [id for id, placed in self._placed.items() if FLAG in placed.columns]
        if not speaking:
            return "", ""
        own = [formula for id in speaking if (formula := self.total(id, FLAG))]
        if len(own) < len(speaking):
            return "Edited, all projects", f"={count_edited(self._placed[id] for id in speaking)}"
        return "Rows edited", "=" + "+".join(formula.removeprefix("=") for formula in own)

    def total(self, sheet: str, key: str) -> str:
        """Sum of a column over the project's rows."""
        placed = self._placed.get(sheet)
        if placed is None or (self._several and not plain(self._project)):
            return ""
        values = placed.range(key)
        return f'=SUMIFS({values},{values},">=0"{self._own(placed)})'

    def count(self, sheet: str, key: str) -> str:
        """Rows of the project, by a column that every row fills with a number; one project only, since two criteria need more."""
        placed = self._placed.get(sheet)
        return "" if placed is None or self._several else f'=COUNTIF({placed.range(key)},">=0")'

    def one(self, sheet: str, key: str, by: str, name: str, cell: str) -> str:
        """The value of a column in the row whose column `by` says what `cell` says."""
        placed = self._placed.get(sheet)
        if placed is None or key not in placed.columns or (placed.us and placed.sheet[key].us_unit):
            return ""
        if not plain(name) or (self._several and not plain(self._project)):
            return ""
        return f"=SUMIFS({placed.range(key)},{placed.range(by)},{cell}{self._own(placed)})"

    def words(self, sheet: str, key: str, by: str, name: str, cell: str) -> str:
        """The words of a column in the row whose column `by` says what `cell` says; one project only."""
        placed = self._placed.get(sheet)
        if placed is None or self._several or not plain(name):
            return ""
        return f"=INDEX({placed.range(key)},MATCH({cell},{placed.range(by)},0))"

    def counted(self, sheet: str, key: str, word: str) -> str:
        """How many rows say our own word; one project only, since two criteria need more."""
        placed = self._placed.get(sheet)
        return "" if placed is None or self._several else f'=COUNTIF({placed.range(key)},"{word}")'

    def _own(self, placed: Placed) -> str:
        return f',{placed.range("project")},"{self._project}"' if self._several else ""


def plain(name: str) -> bool:
    """True where a criterion made of this name matches it alone: no wild card, no comparison, nothing that reads as a number or a date."""
    return bool(name) and name[0].isalpha() and name == name.strip() and not _MEANT.intersection(name)
