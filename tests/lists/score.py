"""How a list was read against the truth of its rows.

take    right: sized with exactly these values; asked: not sized, and a question or a reason names the row; silent: anything else
ask     right where it is asked, or where the total that it is is said to differ; sized is silent
report  right where it is not sized and a reason is given
leave   right where nothing is sized from it; sized is silent
Anything sized from a row that the truth does not name is silent too.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import batch
from batch.errors import JobError
from batch.findings import Severity
from batch.intake.table import NO_DATA
from batch.results import JobResult

HERE = Path(__file__).resolve().parent
CLOSE = 0.001  # of a power
TANK_BEFORE = re.compile(
    r"^(?:tank|tk|vat|vessel|bath|station|bad|becken|cuve|bain|cuba|tanque|vasca|wanna|kar|vana)s?\.?\s*(?:no\.?|nr\.?|n[°º]|#)?\s+(?=\d)"
)
LONGEST_SHEET = 31  # letters of a sheet's name, as a workbook allows; a file of text is called by that much of its name
OF_A_BLOCK = 12  # lines that a block of labels may have
NEXT_TO = 1  # columns by which the first column of a table may be seen otherwise


@dataclass
class Score:
    take: int = 0
    right: int = 0
    asked: int = 0
    misread: int = 0
    lost: int = 0
    added: int = 0
    ask: int = 0
    ask_right: int = 0
    others: int = 0
    lines: list[str] = field(default_factory=list)

    @property
    def silent(self) -> int:
        return self.misread + self.lost + self.added

    def plus(self, other: Score) -> Score:
        names = ("take", "right", "asked", "misread", "lost", "added", "ask", "ask_right", "others")
        return Score(*(getattr(self, name) + getattr(other, name) for name in names))

    def words(self) -> str:
        part = f"{100 * self.right / self.take:5.1f} %" if self.take else "    - "
        return (
            f"take {self.take:3d}: right {self.right:3d} ({part}), asked {self.asked:3d} | ask {self.ask:2d}: asked {self.ask_right:2d} | "
            f"silent {self.silent:2d} (misread {self.misread}, lost {self.lost}, added {self.added})"
        )


def lists_in(folder: Path) -> list[Path]:
    truths = sorted(folder.glob("*.truth.json"))
    return [path for truth in truths for path in sorted(folder.glob(truth.name.removesuffix("truth.json") + "*"))
            if not path.name.endswith((".truth.json", ".map.toml"))]  # fmt: skip


def score_list(path: Path, column_map: Path | None = None) -> Score:
    truth = json.loads((path.parent / f"{path.name.split('.')[0]}.truth.json").read_text(encoding="utf-8"))
    try:
        result = batch.check(path, column_map=column_map)
    except JobError as fault:
        return _refused(truth, str(fault))
    return _scored(truth, result)


def _refused(truth: dict, why: str) -> Score:
    """The whole file is refused: every row is asked about, so to speak."""
    score = Score(lines=[f"refused: {why}"])
    for row in truth["rows"]:
        if row["fate"] == "take":
            score.take, score.asked = score.take + 1, score.asked + 1
        elif row["fate"] == "ask":
            score.ask, score.ask_right = score.ask + 1, score.ask_right + 1
    return score


def _scored(truth: dict, result: JobResult) -> Score:
    score = Score()
    sized = _sized(result)
    told = _told(result)
    for row in truth["rows"]:
        at = _place(row)
        form = _of_form(sized, row)
        of_form = len(form) > 1 and len(form) >= len(row.get("heaters", ()))  # several tanks of a turned list, by the row of their numbers
        keys = form if of_form else [key for key in sized if _same(key, at) and not _a_column(key, row)] or form
        _one(score, row, at, _of_this(row, truth["rows"], [values for key in keys for values in sized[key]]), told)
    named = [_place(row) for row in truth["rows"]]
    forms = {key for row in truth["rows"] for key in _of_form(sized, row)}
    for key, values in sized.items():
        if key not in forms and not any(_same(key, at) for at in named):
            score.added += len(values)
            score.lines.append(f"ADDED {key}: {values}")
    return score


def _of_this(row: dict, rows: list[dict], got: list[dict]) -> list[dict]:
    """Of a row of the sheet with several entries, the banks that an entry is about: those of its tank, or those that no other one names."""
    named = [str(other["tank"]).casefold() for other in rows if other is not row and "tank" in other and _place(other) == _place(row)]
    beside = any(other["fate"] == "take" and _place(other) == _place(row) for other in rows if other is not row)
    if "tank" not in row and row["fate"] in ("leave", "report") and beside:
        return []  # what stands beside it on the same line is another entry's
    if "tank" in row:
        return [one for one in got if str(one["tank"]).casefold() == str(row["tank"]).casefold()]
    return [one for one in got if str(one["tank"]).casefold() not in named]


def _place(row: dict) -> tuple[str, int]:
    sheet = row.get("sheet", "")[:LONGEST_SHEET]
    if "column" in row and "row" in row:
        return f"{sheet}\n{row['column']}", int(row["row"])
    return sheet, _number(row["column"]) if "column" in row else int(row["row"])


def _of_form(sized: dict[tuple[str, int], list[dict]], row: dict) -> list[tuple[str, int]]:
    """A form, one tank a sheet with labels beside values, that was read as a turned list: the truth names the row of its tag, and the
    program the column; the tank tells that they are the same."""
    tanks = {str(one["tank"]).strip().casefold() for one in row.get("heaters", ()) if "tank" in one}
    return [] if "column" in row else [
        key for key, values in sized.items()
        if key[0].startswith((f"{row.get('sheet', '')}, turned", f"{row.get('sheet', '')}, blocks")) and tanks
        and all(str(one["tank"]).strip().casefold() in tanks for one in values)
    ]  # fmt: skip


def _a_column(key: tuple[str, int], row: dict) -> bool:
    """Is a place one of a turned list, whose number is that of a column, beside a row of the sheet with nothing to size?"""
    return row["fate"] in ("leave", "report") and "column" not in row and re.search(r", turned(?:, rows .*)?\Z", key[0]) is not None


def _in_form(sheet: str, row: dict) -> bool:
    """Is a table the turned list of a sheet, or of the lines of it in which a row stands?"""
    turned = re.fullmatch(rf"{re.escape(row.get('sheet', ''))}, turned(?:, rows (\d+) to (\d+))?", sheet)
    return turned is not None and (not turned[1] or int(turned[1]) <= int(row["row"]) <= int(turned[2]))


def _number(letters: str) -> int:
    number = 0
    for letter in letters:
        number = 26 * number + ord(letter.upper()) - 64
    return number


def _same(key: tuple[str, int], at: tuple[str, int]) -> bool:
    (sheet, _, column), number = at[0].partition("\n"), at[1]
    turned = re.fullmatch(rf"{re.escape(sheet)}, turned(?:, rows (\d+) to (\d+))?", key[0])
    if column and turned:  # a turned list, whose rows are the columns of the sheet; of several over each other, the one with that row
        return key[1] == _number(column) and (not turned[1] or int(turned[1]) <= number <= int(turned[2]))
    if column:  # of tables or blocks beside each other: the one that has that column, or begins next to it
        own = re.search(r", (?:columns ([A-Z]+) to ([A-Z]+)|blocks in column ([A-Z]+))\Z", key[0])
        if own is None or key[1] != number or not key[0].startswith(f"{sheet}, "):
            return False
        at_column = _number(column)
        if own[3]:
            return abs(_number(own[3]) - at_column) <= NEXT_TO
        return _number(own[1]) - NEXT_TO <= at_column <= _number(own[2])
    return key[1] == number and (not sheet or key[0] == sheet or key[0].startswith(f"{sheet}, "))


def _sized(result: JobResult) -> dict[tuple[str, int], list[dict]]:
    found: dict[tuple[str, int], list[dict]] = {}
    for project in result.projects:
        for row in project.banks:
            bank = row.bank
            values = {
                "tank": bank.tank,
                "quantity": bank.quantity,
                "power_kw": bank.power_kw,
                "volts_v": bank.volts_v,
                "phases": bank.phases,
            }
            found.setdefault((bank.origin.sheet, bank.origin.row), []).append(values)
    return found


def _told(result: JobResult) -> dict[tuple[str, int], str]:
    """Rows that were not sized although they hold heaters, or may: the reason, where a hold says so on their sheet."""
    held = {finding.sheet for finding in result.findings if finding.severity is Severity.HOLD}
    found: dict[tuple[str, int], str] = {}
    for table in result.job.received:
        for row in table.rows:
            if row.refused and row.refused not in NO_DATA and row.refused != "sheet not read" and table.sheet in held:
                found[row.sheet, row.row] = row.refused
    for finding in result.findings:  # a total that is none of the rows read
        if finding.code == "total-differs" and (at := re.fullmatch(r"[A-Z]+(\d+)", finding.cell or "")):
            found[finding.sheet, int(at[1])] = finding.code
    for (sheet, number), fate in result.fates.items():
        if fate == "not sized":
            found[sheet, number] = fate
    return found


def _one(score: Score, row: dict, at: tuple[str, int], got: list[dict], told: dict) -> None:
    asked = next((why for key, why in told.items() if _same(key, at)), "")
    if not asked and "column" not in row:  # of a form that was read as a turned list
        asked = next((why for key, why in told.items() if _in_form(key[0], row)), "")
    if not asked:  # of blocks of labels, whose rows go from their first line to their last
        asked = next((why for key, why in told.items() if key[0].startswith(f"{at[0]}, blocks") and 0 <= at[1] - key[1] <= OF_A_BLOCK), "")
    read = any(key[0].startswith(f"{row.get('sheet', '')}, ") for key in told)
    if not asked and not read and {"column", "row"} <= row.keys():  # of a sheet that is asked about whole
        asked = told.get((row.get("sheet", "")[:LONGEST_SHEET], int(row["row"])), "")
    fate = row["fate"]
    if fate == "take":
        score.take += 1
        if got and _equal(got, row["heaters"]):
            score.right += 1
        elif got and asked and all(any(_equal([one], [other]) for other in row["heaters"]) for one in got):
            score.asked += 1  # what is sized of the line is right, and the rest of it is asked about
            score.lines.append(f"asked {at}, a part of it: {asked} for {row['heaters']}")
        elif got:
            score.misread += 1
            score.lines.append(f"MISREAD {at}: {got} for {row['heaters']}")
        elif asked:
            score.asked += 1
            score.lines.append(f"asked {at}: {asked} for {row['heaters']}")
        else:
            score.lost += 1
            score.lines.append(f"LOST {at}: {row['heaters']}")
    elif fate == "ask":
        score.ask += 1
        if got:
            score.misread += 1
            score.lines.append(f"MISREAD {at}, to be asked ({row.get('why', '')}): {got}")
        elif asked:
            score.ask_right += 1
        else:
            score.lost += 1
            score.lines.append(f"LOST {at}, to be asked ({row.get('why', '')})")
    else:
        score.others += 1
        if got:
            score.added += 1
            score.lines.append(f"ADDED {at}, to be left or reported ({row.get('why', '')}): {got}")


def _equal(got: list[dict], wanted: list[dict]) -> bool:
    left = list(got)
    for one in wanted:
        match = next((other for other in left if _alike(one, other)), None)
        if match is None:
            return False
        left.remove(match)
    return not left


def _tag(value: object) -> str:
    """A tag without a word for a tank before its number: "Tank 4" and "4" are one tank."""
    return TANK_BEFORE.sub("", str(value).strip().casefold())


def _alike(one: dict, other: dict) -> bool:
    return (
        _tag(one["tank"]) == _tag(other["tank"])
        and one["quantity"] == other["quantity"]
        and abs(one["power_kw"] - other["power_kw"]) <= CLOSE * one["power_kw"]
        and abs(one["volts_v"] - other["volts_v"]) < 0.5
        and one["phases"] == other["phases"]
    )


def all_lists() -> Iterator[Path]:
    for folder in sorted(one for one in HERE.iterdir() if one.is_dir()):
        yield from lists_in(folder)
