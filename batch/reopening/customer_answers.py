"""Answers to the questions put into the job.

An answer goes only where its question was asked and where the list still says what it said then; all else is left, and said.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from batch.comparing.input_changes import same
from batch.comparing.lines import SHEETS, lines_of
from batch.comparing.revision import Revision
from batch.counted_words import few
from batch.findings import Effect, Finding, find, remark
from batch.ooxml.addresses import letters
from batch.price.question_places import BY_HAND, CELLS, CONFIRM, RECORDS, Place, Places
from batch.price.questions import Asked, ask, question_kinds
from batch.received_rows import Answered
from batch.records import Job, Tank
from batch.reopening.answer_words import BUILD, Unclear, ValueSaid, answered, is_yes, spoken_of, to_be_built
from batch.reopening.answers_received import Given
from batch.reopening.carried_forward import worded as value_worded
from batch.reopening.edits import Edit, apply
from batch.schedules.answer_references import Reference, read_reference
from batch.schedules.question_list import QUESTIONS, cells_named
from batch.sizing.previous_decisions import PreviousDecisions

Filled = Mapping[tuple[str, str], str]
IN_DOUBT = frozenset({"row-in-doubt", "row-still-open", "row-hidden"})
AS_ASKED = "yes"
LEFT_OUT = "deleted"  # what the reader takes a row out by
NAMED = 12  # places in one finding
SUPPLY = "heaters.feeder"  # column of a question of which supply feeds some heaters


class Answers(NamedTuple):
    """What was answered, and how the workbook is read again with cells filled in."""

    given: Sequence[Given]
    again: Callable[[Filled], Revision]


class _Taken(NamedTuple):
    """One answer, as far as it was understood."""

    given: Given
    asked: Asked
    reference: Reference
    places: tuple[Place, ...]
    feeders: Mapping[str, str]  # of its project, by folded tag
    beside: tuple[Place, ...] = ()  # what else it may name: asked about by now, or no longer
    settled: tuple[Place, ...] = ()  # those of them of which it was said that what the answer says of them is not taken
    said: tuple[ValueSaid, ...] = ()
    cells: tuple[tuple[Place, str], ...] = ()
    settles: tuple[Place, ...] = ()
    did: str = ""


def take(revision: Revision, answers: Answers, size: Callable[[Job, PreviousDecisions, str], Revision]) -> Revision:
    """The revision with what was answered, sized again. `size`: sizes a job with its earlier decisions."""
    found: list[Finding] = []
    open_ones = {one.mark: one for one in reversed(ask(revision.result))}
    found += (_astray(one, open_ones) for one in answers.given if one.beside)
    given = _once_each([one for one in answers.given if not one.beside], found)
    taken = [one for each in given if (one := _understood(each, revision, open_ones, found)) is not None]
    received = revision
    while True:
        filled = {(place.sheet, place.cell): text for one in taken for place, text in one.cells}
        unread = dict(_unread_cells(received.job, taken))
        filled |= {(sheet, f"{column}{row}"): text for (sheet, row, column), text in unread.items()}
        revision = answers.again(filled) if filled else received
        still = dict(_not_read(revision.job, taken))
        if not still:
            break
        found += (_in_vain(one, place, words, still[place]) for one in taken for place, words in one.cells if place in still)
        taken = [_without(one, still) for one in taken]  # the cell stays as the list has it
    taken = [_with_rows(one, revision.job, found) for one in taken]
    taken = [one for one in taken if one.said or one.cells or one.settles]
    job, edits = _edits(revision, taken, {(sheet, row) for sheet, row, _ in unread}, found)
    found += _of_cells(taken)
    new = apply(job, edits, found, lines_of(job, revision.labels))
    places = Places(replace(revision.result, job=new))
    own = [*new.answered]
    for one in taken:
        marks = [places.again(place) if place.table and place.row >= 0 else place.mark for place in one.settles]
        own.append(Answered(
            one.asked.project, one.asked.sort, one.asked.words, cells_named(one.asked), one.asked.until, one.given.text, one.did,
            one.reference.mark, tuple(mark for mark in marks if mark), one.reference.as_asked,
        ))  # fmt: skip
    return size(replace(new, answered=tuple(own)), revision.previous, revision.program)


def _astray(given: Given, open_ones: Mapping[str, Asked]) -> Finding:
    """What stands beside the place for an answer, named with its cell; of the columns that are not typed at all, why."""
    known = read_reference(given.reference)
    asked = open_ones.get(known.mark) if known is not None else None
    words = asked.words if asked is not None else f"question {given.number}" if given.number else "a question"
    if given.beside == QUESTIONS["state"].heading:
        why = "State is not typed: it follows from what stands under Answer"
    else:
        why = f"it stands under {given.beside}; answers are read from the column for answers alone"
    return _find(given, "answer-unclear", asked, answer=given.text, question=words, why=why)


def _not_read(job: Job, taken: Iterable[_Taken]) -> Iterator[tuple[Place, str]]:
    """Cells that hold the words of an answer by now, and still stop their row, with what is said of each."""
    codes = {code for kind in question_kinds() if kind.takes == CELLS for code in kind.codes}
    said = {(finding.sheet, finding.cell): finding.message for finding in job.findings
            if finding.code in codes and finding.kind.effect is not Effect.NONE}  # fmt: skip
    for one in taken:
        yield from ((place, said[place.sheet, place.cell]) for place, _ in one.cells if (place.sheet, place.cell) in said)


def _in_vain(one: _Taken, place: Place, words: str, message: str) -> Finding:
    why = f"with it {place.shown} is not clear either: {message}"
    return _find(one.given, "answer-unclear", one.asked, answer=words, question=one.asked.words, why=why)


def _without(one: _Taken, still: Collection[Place]) -> _Taken:
    if not any(place in still for place, _ in one.cells):
        return one
    return _with_cells(one, {place: words for place, words in one.cells if place not in still})


def _once_each(given: Sequence[Given], found: list[Finding]) -> list[Given]:
    """The answers, each question's once. Of one that is answered in two places and not alike, none is taken, which is said at both."""
    by_question: dict[str, list[Given]] = {}
    for one in given:
        known = read_reference(one.reference)
        by_question.setdefault(known.mark if known is not None else f"\0{one.file}\0{one.sheet}\0{one.cell}", []).append(one)
    once = []
    for several in by_question.values():
        if len({" ".join(one.text.split()).casefold() for one in several}) == 1:
            once.append(several[0])
            continue
        for one in several:
            others = ", ".join(f"“{other.text}” in {other.file or other.sheet} {other.cell}" for other in several if other is not one)
            found.append(_find(one, "answer-unclear", answer=one.text, question=one.number, why=f"another answer to it says {others}"))
    return once


def _understood(given: Given, revision: Revision, open_ones: Mapping[str, Asked], found: list[Finding]) -> _Taken | None:
    """What an answer means; what cannot be taken is said. `open_ones`: the questions by their marks."""
    known = read_reference(given.reference)
    asked = open_ones.get(known.mark) if known is not None else None
    if known is None or asked is None:
        again = known is not None and any(one.mark == known.mark and one.answer == given.text for one in revision.job.answered)
        if not again:
            found.append(_find(given, "answer-no-question", answer=given.text))
        return None
    places = tuple(_as_then(place, known) for place in asked.places if place.mark in known.places)
    others = [place for place in asked.places if place.mark not in known.places]
    gone = [place for place in _no_more_asked(revision.job, asked) if _names_it(given.text, place)]
    others += gone
    if others:
        what = _several([place.shown for place in others])
        found.append(_find(given, "answer-changed", asked, answer=given.text, question=_number(given, asked), what=what))
    if not places:
        return None
    feeders = {one.feeder.strip().casefold(): one.feeder for one in revision.job.feeders if one.project == asked.project}
    taken = _Taken(given, asked, known, places, feeders, (*others, *_no_more_asked(revision.job, asked)), tuple(others))
    if asked.takes == CONFIRM and is_yes(given.text):
        found.append(_find(given, "answer-confirmed", asked, question=_number(given, asked)))
        return taken._replace(settles=places, did="confirmed: nothing changes")
    if asked.takes in (CONFIRM, BY_HAND) or not any(place.table or (place.cell and asked.takes == CELLS) for place in places):
        cells = ", ".join(asked.cells[:NAMED]) or "the list"
        found.append(_find(given, "answer-by-hand", asked, answer=given.text, question=_number(given, asked), cells=cells))
        return taken._replace(settles=places, did=f"kept here; to be put into {cells} by hand")
    try:
        return _cells(taken, revision.job.findings) if asked.takes == CELLS else _columns(taken)
    except Unclear as why:
        found.append(_find(given, "answer-unclear", asked, answer=given.text, question=asked.words, why=str(why)))
        return None


def _names_it(text: str, place: Place) -> bool:
    """Whether an answer has the name of a place before what it says."""
    begin = rf"(?:^|[\s,;&+]){re.escape(place.names[0])}(?:/\S+)?\s*[:=]"
    return re.search(begin, text.casefold()) is not None


def _as_then(place: Place, known: Reference) -> Place:
    """The place with the address that it had when it was asked about, by which an answer may call it."""
    then = known.places[place.mark]
    if not then:
        return place
    folded = then.casefold()
    return place._replace(names=tuple(dict.fromkeys((*place.names, folded, folded.rpartition(" ")[2]))))


def _no_more_asked(job: Job, asked: Asked) -> Iterator[Place]:
    """Tanks and supplies of the project that the question is not about (any more), so that an answer that names one is understood."""
    known = {name for place in asked.places for name in place.names}
    feeders = () if SUPPLY in asked.takes else job.feeders  # a supply is there what an answer says, not what it is about
    tags = dict.fromkeys([*(bank.tank for bank in job.banks if bank.project == asked.project),
                          *(one.feeder for one in feeders if one.project == asked.project)])  # fmt: skip
    for tag in tags:
        if tag and tag.strip().casefold() not in known:
            folded = tag.strip().casefold()
            banks = [f"{folded}/{bank.bank.strip().casefold()}" for bank in job.banks if bank.tank == tag and bank.bank]
            yield Place("", (folded, *banks), tag, (), "", 0, "", (asked.project, tag, ""), "")


def _columns(taken: _Taken) -> _Taken:
    places = [place for place in taken.places if place.table]
    said = tuple(answered(taken.given.text, places, taken.beside, taken.settled, taken.asked.of_all))
    if not said:
        raise Unclear("it says nothing of what the question is about")
    strange = next((one for one in said if one.key == "feeder" and str(one.value).strip().casefold() not in taken.feeders), None)
    if strange is not None:
        listed = ", ".join(taken.feeders.values()) or "none"
        raise Unclear(f"“{strange.value}” is no supply of the list, which has {listed}; a new one is to be listed on Feeders")
    return _with_values(taken, said)


def _with_values(taken: _Taken, said: Sequence[ValueSaid]) -> _Taken:
    settles = tuple(dict.fromkeys(one.place for one in said))
    by_value: dict[tuple[str, str, str], list[str]] = {}
    for one in said:
        column = SHEETS[one.place.table][one.key]
        by_value.setdefault((one.place.table, column.heading, _words(one)), []).append(one.place.shown)
    did = "; ".join(f"{heading} {value}: {_several(names)}" for (_, heading, value), names in by_value.items())
    return taken._replace(said=tuple(said), settles=settles, did=did)


def _with_rows(one: _Taken, job: Job, found: list[Finding]) -> _Taken:
    """The answer without what no row of the job can take: of that nothing claims that it was taken, and it is asked on."""
    lost = [said for said in one.said if said.place.row and _record(job, said.place) is None]
    if not lost:
        return one
    names = _several(list(dict.fromkeys(said.place.shown for said in lost)))
    found.append(_find(one.given, "answer-unclear", one.asked, answer=one.given.text, question=one.asked.words,
                       why=f"{names} has no row that can take it; write it into the list itself"))  # fmt: skip
    return _with_values(one, [said for said in one.said if said not in lost])


def _cells(taken: _Taken, findings: Iterable[Finding]) -> _Taken:
    """Words for cells of the list: as they are; the list is read again with them. A row in doubt is to be built or not: what says neither
    is not taken, since in the place of the words that left it open it would build the row.
    """
    cells: dict[Place, str] = {}
    in_doubt = {(finding.sheet, finding.cell) for finding in findings if finding.code in IN_DOUBT}
    for named, words in spoken_of(taken.given.text, taken.places, taken.beside):
        some = [place for place in named if place in taken.places]
        columns = {place.cell.rstrip("0123456789") + place.sheet for place in some}
        if len(columns) > 1:
            raise Unclear("it is about cells of several columns: write each cell, a colon and what stands there, with semicolons between")
        cells |= {place: _for_row(words, place) if (place.sheet, place.cell) in in_doubt else words for place in some}
    return _with_cells(taken, cells)


def _for_row(words: str, place: Place) -> str:
    """What stands in the cell of a row in doubt once it is answered whether the row is to be built.

    Raises:
        Unclear: it says neither.
    """
    built = to_be_built(words)
    if built is None:
        raise Unclear(f"it does not say of {place.shown} whether the heaters are to be supplied: write yes or no")
    if not built:
        return LEFT_OUT
    return AS_ASKED if words.strip(" .!").casefold() in BUILD else words  # "keep" in a cell would be about heaters that are there


def _with_cells(taken: _Taken, cells: Mapping[Place, str]) -> _Taken:
    did = "; ".join(f"{place.shown} says {words}" for place, words in cells.items())
    return taken._replace(cells=tuple(cells.items()), settles=(), did=did)


def _unread_cells(job: Job, taken: Iterable[_Taken]) -> Iterator[tuple[tuple[str, int, str], str]]:
    """Answers to columns of rows that could not be read go into their cells."""
    read = {(one.origin.sheet, one.origin.row) for field in RECORDS.values() for one in getattr(job, field)}
    tables = {(table.sheet, table.kind): table for table in job.received}
    for one in taken:
        for said in one.said:
            place = said.place
            table = tables.get((place.sheet, place.table))
            if place.row and (place.sheet, place.row) not in read and table is not None and said.key in table.keys:
                column = SHEETS[place.table][said.key]
                words = f"{said.value:.12g} {column.unit}".strip() if isinstance(said.value, float) else str(said.value)
                yield (place.sheet, place.row, letters(table.first + table.keys.index(said.key))), words


def _edits(
    revision: Revision, taken: Iterable[_Taken], unread: Collection[tuple[str, int]], found: list[Finding]
) -> tuple[Job, list[Edit]]:
    """The job, with a row for each tank that had none, and what is put into its records. `unread`: sheet and row of those that could not
    be read before their cells said what was answered.
    """
    job = revision.job
    edits: list[Edit] = []
    for one in taken:
        told: dict[tuple[str, str, str, str], list[str]] = {}
        for said in one.said:
            place, field = said.place, RECORDS[said.place.table]
            number = _record(job, place)
            if number is None and place.table == "tanks" and not place.row:
                job = replace(job, tanks=(*job.tanks, Tank(project=place.tags[0], tank=place.tags[1])))
                number = len(job.tanks) - 1
            if number is None:
                continue
            column = SHEETS[place.table][said.key]
            before = getattr(getattr(job, field)[number], said.key)
            filled = (place.sheet, place.row) in unread
            if same(column, before, said.value) and not filled:
                continue
            was = "not to be read" if filled else value_worded(column, before)
            code = "answer-over" if before is not None and not filled and place.blank and said.key not in place.blank else "answer-taken"
            told.setdefault((code, column.heading, was, _words(said)), []).append(place.shown)
            if filled:
                continue
            source = f"answer to question {_number(one.given, one.asked)}, {one.given.file or revision.job.name}"
            edits.append(Edit(field, number, said.key, said.value, None, source=source))
        for (code, heading, was, now), names in told.items():
            words = {"question": _number(one.given, one.asked), "column": heading, "what": _several(names), "before": was, "after": now}
            found.append(_find(one.given, code, one.asked, **words))
    return job, edits


def _record(job: Job, place: Place) -> int | None:
    """Which record of the job a place is."""
    records = getattr(job, RECORDS[place.table])
    if place.row:
        where = place.sheet, place.row, place.turn
        return next((at for at, one in enumerate(records) if one.origin.address == where), None)
    tags = tuple(name.strip().casefold() for name in place.tags[:2])
    return next((at for at, one in enumerate(records) if (one.project.strip().casefold(), one.tank.strip().casefold()) == tags), None)


def _of_cells(taken: Iterable[_Taken]) -> Iterator[Finding]:
    for one in taken:
        for place, words in one.cells:
            was = f"“{place.seen}”" if place.seen else "as the list has it"
            fields = {"question": _number(one.given, one.asked), "column": "the cell", "what": place.shown, "before": was, "after": words}
            yield _find(one.given, "answer-taken", one.asked, **fields)


def _find(given: Given, code: str, asked: Asked | None = None, **fields: str) -> Finding:
    tank = asked.tanks[0] if asked is not None and len(asked.tanks) == 1 else ""
    feeder = asked.feeders[0] if asked is not None and len(asked.feeders) == 1 else ""
    sheet = f"{given.file}, {given.sheet}" if given.file else given.sheet
    project = asked.project if asked is not None else ""
    return find(remark(code, "", **fields), project=project, tank=tank, feeder=feeder, sheet=sheet, cell=given.cell, seen=given.text)


def _words(said: ValueSaid) -> str:
    """A value in words; of what is measured in several units as it was answered."""
    column = SHEETS[said.place.table][said.key]
    return said.typed if column.us_unit else value_worded(column, said.value)


def _number(given: Given, asked: Asked) -> str:
    return given.number or str(asked.number)


def _several(names: Sequence[str]) -> str:
    return few(names, NAMED)
