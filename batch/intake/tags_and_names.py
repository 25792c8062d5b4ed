"""Cells that hold a tank's tag and its name together: "TK-14 ALK CLEANER", "Tank 3 - Nickel", "B12 Entfettung"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from batch.findings import Finding, find, remark
from batch.intake.heading_sense import concepts_of
from batch.intake.list_words import names_a_place
from batch.intake.stages import MACHINE, STAGE
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import folded, words

LEAST, MOSTLY = 3, 0.6  # cells of that form, and their part of the column: judgement, no source
MOST_SHOWN = 3
_CODE = r"[A-Z]{1,5}\d{0,3}[-. ]?[A-Z]{0,3}\d{1,4}[A-Z]?"
_NUMBERED = r"(?P<word>[^\W\d_]{2,12})\.?\s?(?:(?i:no|nr|n[°º])\.?\s*|#\s?)?\d{1,4}[A-Za-z]?"
_FORM = re.compile(rf"(?P<tag>{_NUMBERED}|{_CODE})(?:\s*[,:;–—]\s*|\s+-+\s*|\s+)(?P<name>\(?(?P<first>[^\W\d_]+)\b.*)")
_UPPER = re.compile(_CODE)
_NO_TAG = re.compile(r"(?:NO|NR|N)[-. ]?\d.*")  # "NO 1 DEGREASE" is called so
_STATION = re.compile(r"\bstations?\b|\bstationen\b|\bstaz\w*|\bestaci\w*", re.IGNORECASE)
_OF_ANOTHER = re.compile(rf"(?<![\w-])(?:{_CODE})(?![\w-])|\d\s*(?:k?W|V)\b")  # a second tag, or a rating: no name


def tag_and_name(text: str) -> tuple[str, str] | None:
    """The tag that a cell begins with and the name behind it; None where it is not made so."""
    match = _FORM.fullmatch(text.strip())
    if match is None or _OF_ANOTHER.search(match["name"]):
        return None
    by_word = match["word"] is not None and "tank" in concepts_of(folded(match["word"]))
    coded = _UPPER.fullmatch(match["tag"]) and not _NO_TAG.fullmatch(match["tag"])
    if not by_word and (not coded or names_a_place(match["tag"].rstrip("0123456789-. "))):
        return None
    known = vocabulary()
    if len(match["first"]) < 2 or known["and"].whole(match["first"]) or known["to"].whole(match["first"]):
        return None
    return match["tag"].strip(), match["name"].strip()


def tags_before_names(texts: Sequence[str], heading: str) -> dict[str, tuple[str, str]]:
    """Tag and name of the cells of a column, by the cell; none unless nearly all are made so and each tag has one name and each name
    one tag: "W1 wash" and "W1 rinse" are told apart by their names. Under a heading of stages or machines the name is the tank's."""
    found = {text: pair for text in texts if (pair := tag_and_name(text)) is not None}
    many = sum(text in found for text in texts)
    tags = {tag.casefold() for tag, _ in found.values()}
    said = [concepts_of(word) & {"tank", "number"} for word in words(heading) if len(word) > 1]
    plain = bool(said) and all(said)  # "Vasca", "Vasca n.": of a tank, though the sumps of washers are so called
    of_machines = not plain and any(form.search(heading) for form in (STAGE, MACHINE, _STATION))
    return found if len(found) >= LEAST and many >= MOSTLY * len(texts) and len(tags) == len(found) and not of_machines else {}


def said_of_names(names: Mapping[str, tuple[str, str]], sheet: str, cell: str) -> Finding:
    """Once a list: what was taken for the tanks' names, and what for words about them."""
    shown = "; ".join(f'"{text}" is {tag}' for text, (tag, _) in list(names.items())[:MOST_SHOWN])
    more = f"; and {len(names) - MOST_SHOWN} more" if len(names) > MOST_SHOWN else ""
    return find(remark("tag-before-name", "tank", sheet=sheet, tags=shown + more), sheet=sheet, cell=cell)
