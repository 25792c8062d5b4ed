"""Fills the generated tables of templates/reference.md from the column specification and the catalogue: `python -m tests.make_docs`."""

from __future__ import annotations

from pathlib import Path

from batch.report import manual

REFERENCE = Path(__file__).resolve().parent.parent / "templates" / "reference.md"


def filled(text: str) -> str:
    """The text with both tables made anew between their markers."""
    for name, table in (("columns", manual.columns_markdown()), ("findings", manual.findings_markdown())):
        text = manual.replace_generated(text, name, table)
    return text


if __name__ == "__main__":
    REFERENCE.write_text(filled(REFERENCE.read_text(encoding="utf-8")), encoding="utf-8")
    print(REFERENCE)
