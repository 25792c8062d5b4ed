"""What notes around a list ask for: each sentence that concerns what is sized is said with its cell, and none is dropped in silence.

Of all that notes may ask for, the sheath of all heaters is taken where it is said of all and no row says otherwise. The rest is settings of
the job, which a list has no place for: it is named with the place where it is to be written.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence, Set
from functools import lru_cache
from importlib import resources
from typing import NamedTuple

from batch.counted_words import in_quotes
from batch.findings import Finding, find, remark
from batch.intake.grid import Grid, shown
from batch.intake.groups_named import NUMBER_OF_NOTE
from batch.intake.line_kinds import BANNER, DATA, DOUBT, HIDDEN, NOTE, supply_in
from batch.intake.note_numbers import number_off
from batch.intake.own_notes import without_own
from batch.intake.rows_referred import ask_referred
from batch.intake.sentences_asked import ask_sentences, heard_by_answers, is_sentence, speaks_of_heaters, without_sentences_heard
from batch.intake.study import Studied
from batch.intake.survey import cells_of, flat
from batch.intake.texts_beside import cell_of
from batch.intake.turned import BLOCKS
from batch.toml_text import parsed

LEAST_WORDS = 4  # of a sentence without a number that is a note, and no title: judgement, no source
LONGEST = 80  # letters of a sentence that a finding quotes
MOST_TOPICS = 3  # of one sentence that are named
MOST_NAMED = 6  # sentences that one finding names


class Topic(NamedTuple):
    """Something that a note may ask for, and where this program has it said."""

    what: str
    where: str
    words: re.Pattern[str]


@lru_cache(maxsize=1)
def topics() -> tuple[Topic, ...]:
    """Every topic of the data file, in its order."""
    file = resources.files("batch.intake") / "languages" / "requirements.toml"
    said = parsed(file.read_text(encoding="utf-8"))["topic"]
    return tuple(Topic(one["what"], one["where"], re.compile("|".join(one["words"]), re.IGNORECASE)) for one in said)


def topics_of(text: str) -> list[Topic]:
    """What a sentence asks for of all that is sized; none where it speaks of nothing of that."""
    return [topic for topic in topics() if topic.words.search(text)]


def said_of_notes(grid: Grid, some: Sequence[Studied], taken: Set[int], *, of_list: bool) -> list[Finding]:
    """Every sentence around the lists of a sheet, or on a sheet without one, of which nothing was taken.

    taken       rows from 0 that turned lists and blocks of labels take, and rows that are asked about
    of_list     whether the sheet has a list: on others, a cover or a letter, only what asks for something of ours is named
    """
    used = _used(some)
    heard = {place for one in some for place in one.heard}
    findings: list[Finding] = []
    rest: dict[str, list[str]] = {"notes-of-heaters": [], "notes-aside": []}
    title, first = next(iter(grid.lines), -1), dict[str, str]()
    for row, column, text in without_own(_sentences(grid, [one for one in some if not one.plan.turned] if of_list else (), taken)):
        quoted = (text, number_off(text))
        if any(f'"{one[:LONGEST]}"' in used or f'"{one[:60]}' in used for one in quoted):
            continue
        asked = topics_of(text)[:MOST_TOPICS]
        numbered = NUMBER_OF_NOTE.match(text) is not None
        if asked and (numbered or len(text.split()) > 1):
            words = {"about": ", and ".join(one.what for one in asked), "where": "; ".join(one.where for one in asked)}
            said = remark("note-asks", sheet=grid.name, value=shown(text), **words)
            findings.append(find(said, sheet=grid.name, cell=cell_of(row, column)))
        elif of_list and row != title and supply_in(text) is None and (row, column) not in heard:
            loud = speaks_of_heaters(text)
            if loud or numbered or len(text.split()) >= LEAST_WORDS:
                code = "notes-of-heaters" if loud else "notes-aside"
                first.setdefault(code, cell_of(row, column))
                rest[code].append(f"{in_quotes(shown(text))} ({cell_of(row, column)})")
    for code, notes in rest.items():
        more = f"; and {len(notes) - MOST_NAMED} more" if len(notes) > MOST_NAMED else ""
        said = remark(code, sheet=grid.name, notes="; ".join(notes[:MOST_NAMED]) + more)
        findings += [find(said, sheet=grid.name, cell=first[code])] if notes else []
    return findings


def ask_of_sentences(grid: Grid, some: Sequence[Studied]) -> None:
    """Rows that sentences around the lists of a sheet are about, and from which nothing was taken, are asked about."""
    if not any(one.heaters == "yes" and not one.plan.given for one in some):
        texts = without_own(_sentences(grid, [one for one in some if not one.plan.turned], turned_rows(some)))
        for one in some:
            one.heard |= heard_by_answers(one, texts) if one.heaters == "yes" and one.plan.given else set()
        _set_aside(some)
        return
    used = _used(some, sentences=False)
    texts = without_own(_sentences(grid, [one for one in some if not one.plan.turned], turned_rows(some)))
    for one in some:
        one.heard |= ask_sentences(one, some, texts, used)
        ask_referred(one, texts)
    _set_aside(some)


def _set_aside(some: Sequence[Studied]) -> None:
    for one in some:
        if one.heaters == "yes" and not one.plan.turned:
            without_sentences_heard(one)


def turned_rows(some: Sequence[Studied]) -> set[int]:
    """The rows of the sheet, from 0, that turned lists and blocks take."""
    found: set[int] = set()
    for one in some:
        if one.plan.turned == BLOCKS:
            found |= one.of_blocks
        elif one.plan.turned:
            found.update(range(one.plan.first, one.plan.last + 1))
    return found


def _used(some: Sequence[Studied], *, sentences: bool = True) -> str:
    """All that is said of what was taken from words, which quotes them. `sentences`: and of those that are asked about themselves."""
    found: list[str] = []
    for one in some:
        found += [*one.plan.why.values(), *(when.why for when in one.plan.when), *one.plan.row_supply_why.values(), *one.verdict.said]
        found += one.plan.row_changes_why.values()
        lines = (line for line in one.lines if line.why and (sentences or not is_sentence(line, one.plan)))
        found += [*one.verdict.against, one.plan.title_out, *(line.why for line in lines)]
        found += [f'"{question.what}"' for question in one.plan.questions]
    return "\n".join(found)


def _sentences(grid: Grid, some: Sequence[Studied], taken: Set[int]) -> Iterable[tuple[int, int, str]]:
    """Texts of a sheet that stand in no row of its tables and in none of their headings: row and column from 0."""
    own = [line for one in some for line in one.lines if not is_sentence(line, one.plan)]
    heated = {line.index for line in own if line.kind not in (BANNER, NOTE)}
    last = max((line.index for line in own if line.kind in (DATA, DOUBT, HIDDEN)), default=-1)
    heads = {number - 1 for one in some for number in (*one.plan.heading_rows, *one.plan.again)}
    banners = {line.index for one in some for line in one.lines if line.kind == BANNER and line.index < last}
    for (row, column), text in sorted(grid.comments.items()):
        if row not in heated and row not in taken and len(flat(text)) > LEAST_WORDS:
            yield row, column, flat(text)
    for line in grid.lines:
        if line in heated or line in heads or line in banners or line in taken:
            continue
        texts = ((at, flat(value)) for at, value in cells_of(grid.rows[line]) if isinstance(value, str))
        yield from ((line, at, text) for at, text in texts if len(text) > LEAST_WORDS)
