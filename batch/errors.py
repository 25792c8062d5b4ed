"""What can stop a run. Everything short of that is a finding, not an exception."""

from __future__ import annotations

from typing import Any


class JobError(Exception):
    """Base of every error that ends a run. Its text is one line: what, where, what to do."""


class InputFileError(JobError):
    """A file that cannot be read as a workbook."""


class OutputFileError(JobError):
    """A file that cannot be written; whatever stood there before is untouched."""


class RuleSetError(JobError):
    """A rule set that is missing, incomplete or inconsistent."""


class SpecificationError(JobError):
    """The column specification or a template of ours is wrong: a programming fault, found when it is built."""


class CannotFill(JobError):
    """A customer's own workbook that results cannot safely be written into."""


class ToBeDivided(Exception):
    """No fault: a job that was read holds more than one workbook holds well, and is to be sized in its `sections`."""

    def __init__(self, sections: list[Any]) -> None:
        super().__init__("more banks than one workbook holds well")
        self.sections = sections


class TemplateError(JobError):
    """A template of papers that cannot be set: which file, which line, what is wrong."""
