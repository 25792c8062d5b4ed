"""Alternates and options of a list that a sentence beside it says are bought: "Alternate B was accepted on 9 May"."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from batch.intake.grid import worded
from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.remark_words import ACCEPTED, accepted, asks, read_row_words
from batch.intake.sentence_words import saying
from batch.intake.survey import flat

OFFER = re.compile(
    r"(?<!\w)(?:option\w*|opt|altern\w*|alt|variante?\w*|opci[oó]n\w*|opzion\w*|optie|opcja|op[cç][aã]o|tilvalg|tillval|opsjon|opce|se[çc]enek)"
    r"\.?\s*(?:no\.?|nr\.?|n[°º]|#)?\s*(?P<code>\d{1,2}|(?-i:[A-Z]))(?!\w)",
    re.IGNORECASE,
)
PAST = re.compile(  # "was accepted on 9 May": the day is past, as that of "released by Monday" is not
    r"\b(?:was|were|has been|have been|wurden?|a [ée]t[ée]|ont [ée]t[ée]|fue(?:ron)?|[èe] stat[ao]|sono stat[ei]|werd(?:en)?|zosta[łl]\w*"
    rf"|foi|foram|blev|ble|byl[aoiy]?)\s+(?:\w+\s+)?{ACCEPTED.pattern}",
    re.IGNORECASE,
)
SENTENCES = re.compile(r"(?<=[^\d\s.])\.\s+|;\s+|\n")


def take_offers(lines: Sequence[Line], notes: Sequence[tuple[int, int, str]]) -> None:
    """Rows in doubt for no more than their "Alt. B" are built, where a sentence says that B is bought, and none that it is not. One whose
    tank has another row, or that stands in place of something, is asked about all the same: the other would go."""
    offered = [(line, code) for line in lines if line.kind == DOUBT and (code := _only_offered(line))]
    said = [part for _, _, text in notes for part in SENTENCES.split(text)] if offered else []
    tanks = Counter(worded(line.value("tank") or "").casefold() for line in lines)
    for line, code in offered:
        of_it = [part for part in said if {match["code"] for match in OFFER.finditer(part)} == {code} and ACCEPTED.search(part)]
        if of_it and all(map(_bought, of_it)) and tanks[worded(line.value("tank") or "").casefold()] == 1:
            line.kind, line.why = DATA, ""
            line.aside = (line.at, code, f'"{of_it[-1][:60]}" says that it is bought')


def _bought(part: str) -> bool:
    """Does a sentence say that an offer is bought, and nothing else that leaves it open?"""
    past = PAST.search(part)
    taken, rest = (part[: past.end()], part[past.end() :]) if past is not None else (part, "")
    return bool(accepted(taken)) and "?" not in rest and not read_row_words(rest).fate


def _only_offered(line: Line) -> str:
    """The letter or number by which a row is an alternate, and nothing else leaves it open; "" where it is none."""
    texts = {at: flat(value) for at, value in line.cells if isinstance(value, str)}
    own = OFFER.fullmatch(texts.get(line.at, "").strip(" ."))
    if own is None or line.doubt or line.why != f'"{texts[line.at][:60]}"':
        return ""
    others = [text for at, text in texts.items() if at != line.at]
    beside = any(read_row_words(text).fate or asks(text) or saying("in_place_of").search(text) for text in others)
    return own["code"] if not beside else ""
