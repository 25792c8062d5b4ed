"""Makes the generated tables of templates/reference.md from the column specification and the catalogue, and templates/method.md from the
method and the rule sets: `python -m tests.make_docs`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from batch.errors import SpecificationError
from batch.findings import CATALOGUE
from batch.report.input_help import limit_words
from batch.schedules import RESULTS
from batch.sheets import FILLED, INPUTS, Column, Sheet
from batch.writing.as_sized import EDITED, extended, shown
from tests.method_page import page

REFERENCE = Path(__file__).resolve().parent.parent / "templates" / "reference.md"
METHOD = REFERENCE.with_name("method.md")
END = "<!-- end -->"


def columns_markdown() -> str:
    """Every sheet and column, in and out, as Markdown: what the job workbook takes and what the results workbook says."""
    parts = ["### The job workbook\n", "Columns marked * must be filled. Units are the ones read where a heading or cell names no other.\n"]
    parts += [_inputs(sheet) for sheet in INPUTS]
    parts.append("### The results workbook\n")
    parts.append(f"{_edited_words()}\n")
    parts += [_results(sheet) for sheet in RESULTS]
    parts.append("### The list filled in\n")
    parts.append(f"{FILLED.help}\n")
    parts.append(_table(("column", "what"), [(column.title(), column.help) for column in FILLED.columns]))
    return "\n".join(parts).rstrip() + "\n"


def findings_markdown() -> str:
    """Every kind of finding as a Markdown table, worst first, by severity and harm, then by code."""
    kinds = sorted(CATALOGUE.values(), key=lambda kind: (kind.severity, kind.harm, kind.code))
    rows = [(f"`{kind.code}`", kind.severity.word, kind.harm.word, kind.effect.word, kind.title, kind.advice) for kind in kinds]
    return _table(("code", "severity", "harm", "effect on the row", "what", "what to do"), rows)


def replace_generated(text: str, name: str, generated: str) -> str:
    """`text` with what stands between `<!-- generated: name -->` and the next `<!-- end -->` replaced.

    Raises SpecificationError where the markers are missing or out of order.
    """
    start = f"<!-- generated: {name} -->"
    before, found, rest = text.partition(start)
    _, ended, after = rest.partition(END)
    if not found or not ended:
        raise SpecificationError(f"the text has no {start} … {END}")
    return f"{before}{start}\n\n{generated.strip()}\n\n{END}{after}"


def _inputs(sheet: Sheet) -> str:
    needed = "needed" if sheet.required else "may be missing"
    rows = [
        (column.title() + (" *" if column.required else ""), column.help, _accepted(column), column.default) for column in sheet.columns
    ]
    return f"**{sheet.name}** ({needed}), one row for each {sheet.rows}. {sheet.help}\n\n" + _table(
        ("column", "what", "accepted", "blank means"), rows
    )


def _accepted(column: Column) -> str:
    """Choices, limits, or nothing where anything goes."""
    if column.choices:
        return ", ".join(column.offered or column.choices)
    words = limit_words(column, us=False) if column.kind in ("integer", "number", "volts") else ""
    if column.us_unit and column.us_unit != column.unit:
        return f"{words} (also {column.us_unit})" if words else f"also {column.us_unit}"
    return words


def _results(sheet: Sheet) -> str:
    columns = extended(sheet).columns[: shown(extended(sheet))]
    rows = [(column.title(), column.help, "formula" if column.formula else "") for column in columns]
    return f"**{sheet.name}**, one row for each {sheet.rows}. {sheet.help}\n\n" + _table(("column", "what", "live"), rows)


def _edited_words() -> str:
    """What a row says that is edited after it was sized: a status of its own, no finding of a run, since it comes about without one."""
    names = [sheet.name for sheet in RESULTS if sheet.as_sized]
    return (
        f"{', '.join(names[:-1])} and {names[-1]} keep what each row was sized with in columns grouped away at their right. A row whose "
        f"inputs or choices are no longer those says `{EDITED}` by itself, is counted on Read first and on Summary, and turns Checks to "
        "FAIL. Figures marked `formula` follow an edit; all else, panel splits, wires, drawings and findings among it, needs a new run."
    )


def _table(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> str:
    lines = ["| " + " | ".join(heads) + " |", "| " + " | ".join("---" for _ in heads) + " |"]
    lines += ["| " + " | ".join(_cell(words) for words in row) + " |" for row in rows]
    return "\n".join(lines) + "\n"


def _cell(words: str) -> str:
    return " ".join(words.replace("|", "\\|").split())


def filled(text: str) -> str:
    """The text with both tables made anew between their markers."""
    for name, table in (("columns", columns_markdown()), ("findings", findings_markdown())):
        text = replace_generated(text, name, table)
    return text


if __name__ == "__main__":
    REFERENCE.write_text(filled(REFERENCE.read_text(encoding="utf-8")), encoding="utf-8")
    METHOD.write_text(page(), encoding="utf-8")
    print(REFERENCE, METHOD)
