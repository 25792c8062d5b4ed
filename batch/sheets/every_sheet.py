"""Columns and choices that several input sheets share."""

from __future__ import annotations

from batch.sheets.column import Column

YES_NO = {
    "yes": ("y", "true", "1", "x", "fitted", "present", "installed", "with"),
    "no": ("n", "false", "0", "none", "without", "not fitted"),
}
PAIRS = {
    "A-B": ("ab", "a/b", "l1-l2", "l1l2", "1-2", "ba", "b-a"),
    "B-C": ("bc", "b/c", "l2-l3", "l2l3", "2-3", "cb", "c-b"),
    "C-A": ("ca", "c/a", "l3-l1", "l3l1", "3-1", "ac", "a-c"),
    "A-N": ("an", "a/n", "l1-n", "a", "l1"),
    "B-N": ("bn", "b/n", "l2-n", "b", "l2"),
    "C-N": ("cn", "c/n", "l3-n", "c", "l3"),
}

PROJECT = Column(
    "project", "Project", width=14, example="P-1",
    help="Name of the project. Blank: the workbook's only project.",
    also=("project no", "project number", "project name", "job", "job no", "job number", "bid"),
)
NOTES = Column(
    "notes", "Notes", width=30, help="Free text, carried to the results.",
    also=("note", "remark", "remarks", "comment", "comments"),
)


def yes_no(key: str, heading: str, **more) -> Column:
    return Column(key, heading, kind="choice", choices=YES_NO, width=11, **more)
