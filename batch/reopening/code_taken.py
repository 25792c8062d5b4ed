"""The code basis that whoever sizes asks for where a project names none: kept with the results, so that they are sized by it again."""

from __future__ import annotations

from msgspec.structs import replace

from batch.findings import find, remark
from batch.records import CarriedForward, Job, Project
from batch.rules import asked_in_use

BY = "option --code"


def with_code_asked(job: Job) -> Job:
    """The job with the rule set that was asked for in every project whose Code basis is blank, which is said of each."""
    asked = asked_in_use()
    listed = {one.project for one in job.projects}
    unlisted = [Project(project=name) for name in dict.fromkeys(bank.project for bank in job.banks if bank.project not in listed)]
    blank = [one for one in (*job.projects, *unlisted) if one.code_basis is None]
    if asked is None or not blank:
        return job
    projects = tuple(replace(one, code_basis=asked) if one.code_basis is None else one for one in (*job.projects, *unlisted))
    taken = tuple(CarriedForward("projects", one.project, "", "", "", "", "code_basis", asked, None, BY) for one in blank)
    said = tuple(
        find(remark("code-basis-asked", "code_basis", rule_set=asked), project=one.project, sheet=one.origin.sheet,
             cell=one.origin.cell("code_basis"))
        for one in blank
    )  # fmt: skip
    return replace(job, projects=projects, carried_forward=(*job.carried_forward, *taken), findings=(*job.findings, *said))
