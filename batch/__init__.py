"""Sizes the electrical supply of immersion heaters for a whole plant of tanks, workbook to workbook.

The public verbs do what their commands do, and return instead of printing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace

from batch.program import PROGRAM, VERSION

if TYPE_CHECKING:
    from batch.comparing.history import History
    from batch.intake.column_map import ColumnMap
    from batch.quoting.quotation_files import Quotation
    from batch.records import Job
    from batch.results import JobResult
    from batch.rules import Difference, RuleSet

__version__ = VERSION
__all__ = [
    "blank", "check", "code", "codes", "column_map", "compare", "comparison_path", "editions", "fill", "filled_path", "firm",
    "letter_template", "own_editions", "papers_path", "print_papers", "propose_map", "quote", "result_path", "size",
]  # fmt: skip

Progress = Callable[[str, int, int], None]


def check(
    source: str | Path,
    *,
    keep_from: str | Path | None = None,
    renamed: Sequence[str] = (),
    column_map: str | Path | ColumnMap | None = None,
    answers: str | Path | None = None,
    look: Callable[[Job], Job] = lambda job: job,
    progress: Progress | None = None,
) -> JobResult:
    """Read and size a workbook without writing anything.

    `source` may be a results workbook: its sheets As received are the job, and what was typed into it is taken. `keep_from` is an
    earlier revision whose decisions are kept where these inputs allow it; `renamed` says what goes by another name now ("T-5=T-5A").
    `column_map` says how a customer's own list is laid out (a TOML file, see `propose_map`). `answers` is a file with answers to the
    questions: the quotation that a customer sent back, its workbook or its letter, or results. `look` is shown a job that has no earlier
    decisions, and gives it as it is to be sized. Raises InputFileError where a file cannot be read, JobError for a rename of what is
    not there.
    """
    from batch.reopening.results_book import read_any
    from batch.schedules.reconciliation import reconcile
    from batch.sizing.project import size_job

    plan = _map_of(column_map)
    read = partial(read_any, Path(source), progress, plan)
    job, stored = read()
    if stored is None and keep_from is None and answers is None:
        result = size_job(look(job), progress)
    else:  # earlier decisions are looked into only where there are any
        from batch.reopening.answers_received import answers_of
        from batch.reopening.carry import size_keeping
        from batch.reopening.reopen import open_revision, revision_of

        given = answers_of(Path(answers)) if answers is not None else ()
        now = None if stored is None and answers is None else revision_of(job, stored, PROGRAM, progress=progress, given=given, read=read)
        if now is not None and keep_from is None:
            result = now.result
        elif keep_from is not None:
            old = open_revision(Path(keep_from), PROGRAM, progress, plan)
            result = size_keeping(old, job if now is None else now.job, renamed, progress)[1]
    return replace(result, checks=reconcile(result))


def result_path(source: str | Path) -> Path:
    """Where the results of a workbook go unless told otherwise: "JOB sized.xlsx" beside JOB.xlsx, "JOB sized (2).xlsx" beside that."""
    from batch.file_names import results_name

    source = Path(source)
    return source.with_name(results_name(source.name))


def size(
    source: str | Path,
    target: str | Path | None = None,
    *,
    keep_from: str | Path | None = None,
    renamed: Sequence[str] = (),
    column_map: str | Path | ColumnMap | None = None,
    answers: str | Path | None = None,
    us: bool | None = None,
    stamp: str = "",
    print_set: str = "",
    also: Sequence[str] = (),
    may_divide: bool = False,
    progress: Progress | None = None,
) -> JobResult:
    """The main job: read, size, and write the results workbook beside the source, or to `target`.

    `us`: results in US units; None = as the projects' country has them, of several countries SI in what they share.
    `print_set`: "manager", "estimator" or "all", the sheets in sight and on paper; "default", all in sight and the estimator's on paper;
    "" = all of both. `stamp` is written as the run stamp, word for word.
    `also`: "csv" and "json" write the result sheets as plain tables beside it. `keep_from`, `renamed`, `column_map` and `answers` are as in
    `check`. `may_divide`: raises ToBeDivided where there are more banks than one workbook holds well (`batch.watch.sections` does those).
    Raises InputFileError or OutputFileError; never overwrites the source, nor the results of another job.
    """
    from batch.errors import OutputFileError
    from batch.sizing.job_sections import refuse_undivided
    from batch.writing.earlier_file import refuse_in_time
    from batch.written_results import write_results

    source = Path(source)
    target = result_path(source) if target is None else Path(target)
    for read, what in ((source, "the input"), (keep_from, "the revision to keep from"), (answers, "the file with the answers")):
        if read is not None and target.resolve() == Path(read).resolve():
            raise OutputFileError(f"{target}: this is {what}; name another file for the results.")
    refuse_in_time(target, source)
    judged = partial(check, source, keep_from=keep_from, renamed=renamed, column_map=column_map, answers=answers, progress=progress)
    result = judged(look=refuse_undivided) if may_divide else judged()
    if progress is not None:
        progress("writing", 0, 0)  # how far it has come is not known
    result = write_results(result, target, us=us, stamp=stamp, print_set=print_set, also=also)
    if not result.job.map_text:
        return result
    from batch.map_beside import write_map  # where a customer's own list was read

    written = write_map(source, Path(result.written), result.job.map_text)
    return replace(result, about=(*result.about, f"how its list was read: {written} (correct it, and size by it with --map)"))


def column_map(path: str | Path) -> ColumnMap:
    """A column map from its file; InputFileError where it is none, in one line that says what and where."""
    from batch.intake.column_map import load_map

    return load_map(Path(path))


def _map_of(given: str | Path | ColumnMap | None) -> ColumnMap | None:
    return column_map(given) if isinstance(given, (str, Path)) else given


def propose_map(source: str | Path, target: str | Path) -> Path:
    """Drafts a column map for a customer's list: what is certain, and what is likely as comments. Never replaces a file."""
    from batch.errors import OutputFileError
    from batch.intake.map_draft import draft
    from batch.whole_file import whole_file

    target = Path(target)
    if target.exists():
        raise OutputFileError(f"{target}: exists, and may hold somebody's map: name a new file")
    text = draft(Path(source))
    with whole_file(target) as part:
        part.path.write_text(text, encoding="utf-8", newline="\n")
    return part.landed


def filled_path(source: str | Path) -> Path:
    """Where the filled copy of a list goes unless told otherwise: "LIST filled.xlsx" beside LIST.xlsx, or .xlsm beside .xlsm."""
    source = Path(source)
    return source.with_name(f"{source.stem} filled{source.suffix}")


def fill(
    source: str | Path,
    target: str | Path | None = None,
    *,
    column_map: str | Path | ColumnMap | None = None,
    progress: Progress | None = None,
) -> JobResult:
    """Size a customer's own list and write a copy of it with results to the right of its rows, nothing else changed.

    `JobResult.about` says into which columns; a sheet that cannot safely be filled is left as it is and is a finding. `column_map` is as
    in `check`.
    Raises InputFileError, OutputFileError, or CannotFill where results cannot safely be written into it (signed, protected, no room …);
    never overwrites the source.
    """
    from batch.errors import CannotFill, OutputFileError
    from batch.filling import may_fill, write_filled
    from batch.reopening.results_book import read_any
    from batch.schedules.reconciliation import reconcile
    from batch.sizing.project import size_job

    source = Path(source)
    target = filled_path(source) if target is None else Path(target)
    if target.resolve() == source.resolve():
        raise OutputFileError(f"{target}: this is the customer's list; name another file for the filled copy.")
    if target.suffix.casefold() != source.suffix.casefold():
        raise OutputFileError(f"{target}: end the name of the filled copy in {source.suffix}, as the list's own.")
    may_fill(source)
    job, stored = read_any(source, progress, _map_of(column_map))
    if stored is not None:
        raise CannotFill(f"{source}: not filled in: it is a results workbook of this program, and its answers stand on Banks already")
    result = size_job(job, progress)
    result = replace(result, checks=reconcile(result))
    if progress is not None:
        progress("writing", 0, 0)
    return write_filled(source, result, target, PROGRAM)


def comparison_path(old: str | Path, new: str | Path) -> Path:
    """Where a comparison goes unless told otherwise: "NEW against OLD.xlsx" beside NEW.xlsx."""
    return Path(new).with_name(f"{Path(new).stem} against {Path(old).stem}.xlsx")


def compare(
    old: str | Path,
    new: str | Path,
    *later: str | Path,
    target: str | Path | None = None,
    renamed: Sequence[str] = (),
    column_map: str | Path | ColumnMap | None = None,
    us: bool | None = None,
    stamp: str = "",
    progress: Progress | None = None,
) -> History:
    """Reconcile two revisions of a job or more, oldest first, and write the comparison beside the newest, or to `target`.

    Each may be a job workbook or a results workbook. `renamed`: what goes by another name now, as "T-5=T-5A".
    `column_map` holds for those that are a customer's own list, as in `check`.
    Raises InputFileError, OutputFileError, or JobError for a rename of what is not there; never overwrites an input.
    """
    from batch.comparing.history import compare_all
    from batch.errors import OutputFileError
    from batch.reopening.reopen import open_revision
    from batch.report.changes_workbook import write_comparison
    from batch.schedules.country_words import shared_in_us
    from batch.writing.earlier_file import refuse_in_time
    from batch.written_results import rules_of

    files = [Path(file) for file in (old, new, *later)]
    target = comparison_path(files[0], files[-1]) if target is None else Path(target)
    if any(target.resolve() == file.resolve() for file in files):
        raise OutputFileError(f"{target}: this is one of the revisions; name another file for the comparison.")
    refuse_in_time(target, None)
    plan = _map_of(column_map)
    revisions = [open_revision(file, PROGRAM, progress, plan) for file in files]
    us = shared_in_us(revisions[-1].result, us)
    history = compare_all(revisions, renamed, us, progress)
    part = write_comparison(history, target, stamp=stamp, program=PROGRAM, us=us, paper=rules_of(revisions[-1].result).paper)
    return replace(history, written=str(part.landed), aside=part.why)


def quote(
    source: str | Path,
    target: str | Path | None = None,
    *,
    by: str = "tank",
    project: str = "",
    at_least: bool = False,
    letter: str | Path | None = None,
    answers: str | Path | None = None,
    progress: Progress | None = None,
) -> Quotation:
    """Writes "JOB quotation.xlsx" and "JOB quotation.docx" beside the source, or to `target`, from a job or its results.

    `by`: "tank", "type", "feeder" or "project", what a position is. `project`: which, where there are several. `at_least`: a budget figure
    shows a total of the positions that have a price, and beside it what of the others has one so far. `letter`: a template for that of
    the firm's folder or ours; `answers` as in `check`.
    Returns the files and why it is no offer yet. A file that somebody has edited since, or that is none of ours, is left: both take the
    next free name. Raises InputFileError, OutputFileError; JobError where no heater is sized, so that there is nothing to offer.
    """
    from batch.errors import OutputFileError
    from batch.file_names import job_name
    from batch.quoting.gates import all_sized
    from batch.quoting.letter import write_letter
    from batch.quoting.offer import quote_project
    from batch.quoting.quotation_files import Quotation
    from batch.quoting.quotation_workbook import write_workbook
    from batch.rules import own_template
    from batch.whole_file import template_words
    from batch.writing.earlier_file import free_place
    from batch.written_results import rules_of

    source = Path(source)
    target = source.with_name(f"{job_name(source.name)} quotation.xlsx") if target is None else Path(target)
    if target.resolve() in {Path(file).resolve() for file in (source, answers) if file is not None}:
        raise OutputFileError(f"{target}: this is an input; name another file for the quotation.")
    template = own_template("letter") if letter is None else Path(letter)
    beside = target.with_suffix(".docx")
    if template is not None and beside.resolve() == template.resolve():
        raise OutputFileError(f"{beside}: this is the letter's template; name another file for the quotation.")
    sized = check(source, answers=answers, progress=progress)
    made = quote_project(sized, project=project, by=by, at_least=at_least)
    place, aside = free_place(target, beside=beside.suffix)
    paper = rules_of(sized).paper
    words = write_letter(made.offer, place.with_suffix(beside.suffix), template, paper)
    book = write_workbook(made.offer, place, paper)
    whole = all_sized(sized, made.offer.project)
    priced = f"{made.priced:,.2f} {made.offer.currency}".strip() if made.why and made.priced is not None else ""
    return Quotation(book.landed, words.landed, made.why, aside, template_words(template), whole, priced)


def letter_template(target: str | Path) -> Path:
    """Saves the template of a quotation's letter, to be edited and named when quoting; never over a file. Raises OutputFileError."""
    from batch.errors import OutputFileError
    from batch.quoting.letter import write_template

    if Path(target).exists():
        raise OutputFileError(f"{target} exists and may be somebody's letter: name a new file")
    return write_template(Path(target)).landed


def papers_path(source: str | Path, audience: str = "all") -> Path:
    """Where the papers of a job go unless told otherwise: "JOB papers.pdf" beside JOB.xlsx, of one audience "JOB papers shop.pdf"."""
    from batch.file_names import job_name

    source = Path(source)
    return source.with_name(f"{job_name(source.name)} papers{'' if audience == 'all' else f' {audience}'}.pdf")


def print_papers(
    source: str | Path,
    target: str | Path | None = None,
    *,
    audience: str = "all",
    templates: str | Path | None = None,
    keep_from: str | Path | None = None,
    renamed: Sequence[str] = (),
    column_map: str | Path | ColumnMap | None = None,
    us: bool | None = None,
    progress: Progress | None = None,
) -> JobResult:
    """Read, size, and print the drawings and lists of a job as one PDF beside the source, or to `target`.

    `audience`: "all", "shop", "field", "inspector" or "customer". `templates`: a folder with a firm's own text templates in place of ours.
    The others are as in `size`; `source` may be a results workbook. With `keep_from` the index says what changed against it.
    Raises InputFileError, OutputFileError, TemplateError (file and line), or SpecificationError for an audience that there is not; never
    overwrites the source, nor another job's papers, nor a file that somebody else made.
    """
    from batch.errors import OutputFileError, SpecificationError
    from batch.papers import AUDIENCES, print_job
    from batch.rules import own_template
    from batch.written_results import rules_of

    if audience not in AUDIENCES:
        raise SpecificationError(f"papers for {audience!r}: there are sets for {', '.join(AUDIENCES)}")
    source = Path(source)
    target = papers_path(source, audience) if target is None else Path(target)
    if target.resolve() in {Path(file).resolve() for file in (source, keep_from) if file is not None}:
        raise OutputFileError(f"{target}: this is an input; name another file for the papers.")
    result = check(source, keep_from=keep_from, renamed=renamed, column_map=column_map, progress=progress)
    if progress is not None:
        progress("printing", 0, 0)
    earlier = None if keep_from is None else check(keep_from)
    printed = print_job(
        result, target, audience=audience, us=us, paper=rules_of(result).paper, program=PROGRAM,
        templates=own_template("papers") if templates is None else Path(templates), earlier=earlier,
    )  # fmt: skip
    words = f"{printed.papers:,} paper{'' if printed.papers == 1 else 's'} on {printed.sheets:,} sheet{'' if printed.sheets == 1 else 's'}"
    told = tuple(filter(None, (words, printed.templates, printed.lacks)))
    return replace(result, written=str(printed.part.landed), aside=printed.part.why, about=told)


def blank(target: str | Path, *, us: bool = True) -> Path:
    """A blank job workbook at `target`, in US or SI units."""
    from batch.report import blank as write_blank
    from batch.rules import own_names
    from batch.rules.thermal import thermal

    target, materials = Path(target), tuple(thermal().materials)
    at_hand = {"liquid": tuple(thermal().liquids), "tank_material": materials, "work_material": materials}
    write_blank(target, us=us, own_editions=own_names(), at_hand=at_hand)
    return target


def firm(folder: str | Path | None) -> AbstractContextManager[None]:
    """While it lasts, what a firm keeps in its own folder is at hand: rule sets, templates, stock, words (see `batch.firm_folder`). Raises
    RuleSetError or InputFileError, naming file, and line, row, cell or entry."""
    from batch.firm_folder import firm_folder

    return firm_folder(None if folder is None else Path(folder).resolve())


def code(name: str | None) -> AbstractContextManager[None]:
    """While it lasts, projects whose Code basis is blank are sized by that rule set, and their results keep it. Raises RuleSetError."""
    from batch.rules import code_asked

    return code_asked(name)


def editions() -> list[RuleSet]:
    """The rule sets at hand, one for each edition of a code."""
    from batch.rules import available, load

    return [load(name) for name in available()]


def own_editions() -> list[tuple[str, str, str, tuple[Difference, ...]]]:
    """Of each of the firm's own rule sets: its name, the one that it extends, its checksum, and what it changes."""
    from batch.rules import differences, load, own_names

    return [(one.name, one.extends.name if one.extends else "", one.checksum, differences(one)) for one in map(load, own_names())]


codes = editions  # its name in version 0.1.0
