"""Rows that no reading took for heaters, and that speak of them by a number and a power, or labels with figures: all are asked about."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise

from batch.intake.grid import Broken
from batch.intake.heading_sense import machine_in, names_a_heater
from batch.intake.line_kinds import AGAIN, BANNER, DOUBT, NOTE, SPARE, UNHEATED, Line, supply_in
from batch.intake.list_columns import CATALOGUE_KW, USUAL_VOLTS
from batch.intake.list_words import hits, is_heater, meanings, nothing_word, other_equipment, total_word
from batch.intake.sentence_words import forms
from batch.intake.survey import flat, like_data
from batch.intake.tank_words import tank_named

POWER = re.compile(r"(?<![\d.,])\d[\d.,]*\s*(?:k\s?W\b|kilowatts?\b)|(?<![\d.,])\d{3,5}\s*W(?:atts?)?\b", re.IGNORECASE)
KILOWATTS = re.compile(r"k\s?W\b", re.IGNORECASE)
COUNT = re.compile(
    r"\(\d{1,2}\)|\b\d{1,2}\s*[x×*]\s*\d|\d\s*k\s?W\s*[x×*]\s*\d|\b\d{1,2}\s*(?:ea|each|pcs?|off|nos?|st(?:k|ck|ück|uks?|yk)?|szt|ks|uds?|pz|un|htrs?|heaters?"
    r"|thermoplongeurs?|resist\w+|r[ée]sist\w+|heiz\w+|grza\w+|verwarm\w+|calentador\w*|aquecedor\w*|varme(?:legem|element)\w*|doppv[äa]rm\w+|elpatron\w*|\w*kolbe\w*|t[eě]les\w*|oh[rř][ií]va[cč]\w*)\b",
    re.IGNORECASE,
)
ROW_IN_ONE = re.compile(  # "T-2  3 x 6  400 3": a tag, and figures at the end of what no column holds
    r"(?=[A-Z]|\d+[A-Z])\S*\d[^\s,;|]*(?:[\s,;|]+\S+)*?(?:[\s,;|]+\d{1,4}(?:[.,]\d{1,2})?){2,}[\s,;|]*", re.IGNORECASE
)
MOST_OF_A_ROW = 24  # heaters of one row, for a figure to look like their number: common practice, no source
LABEL_NAME = 0.75  # of a label that means a number or a power: judgement, no source
LONGEST_LABEL = 40


def ask_passed_over(lines: Sequence[Line], keep: Sequence[int], leave: Sequence[int]) -> None:
    """Rows of a list of heaters that were taken for notes, banners, spare rows: in doubt, where they speak of heaters."""
    for line in lines:
        if line.kind in (NOTE, BANNER, AGAIN, SPARE, UNHEATED) and line.index + 1 not in (*keep, *leave) and (said := speaks(line.cells)):
            line.kind, line.why = DOUBT, f'"{said[:60]}", which no column of the list holds,'


def speaks(cells: Sequence[tuple[int, object]]) -> str:
    """What in a row sounds like heaters that somebody wants; "" where nothing does."""
    texts = [flat(value) for _, value in cells if isinstance(value, str) and type(value) is not Broken]
    figures = [float(value) for _, value in cells if isinstance(value, (int, float)) and not isinstance(value, bool) and value > 0]
    heated = next((text for text in texts if is_heater(text)), "")
    if len(cells) == len(texts) == 1 and _as_another().fullmatch(texts[0]):
        return texts[0]
    if any(total_word(text) for text in texts) or (not heated and any(other_equipment(text) or machine_in(text) for text in texts)):
        return ""
    for text in texts:
        if POWER.search(text) and not hits("total", text) and not hits("totals", text):
            counted = COUNT.search(text) is not None or (len(texts) > 1 and (figures or any(COUNT.search(other) for other in texts)))
            if counted or tank_named(text).by_word or (len(cells) > 1 and (heated or any(supply_in(other) for other in texts))):
                return text
    if heated and len(figures) >= 2:
        return heated
    if len(cells) == len(texts) == 1 and ROW_IN_ONE.fullmatch(texts[0].strip()):
        return texts[0]
    if texts and _sized(figures, texts):
        return next((text for text in texts if not nothing_word(text)), texts[0])
    return ""


@lru_cache(maxsize=1)
def _as_another() -> re.Pattern[str]:
    """ "T-2 same as T-1" in one cell: a tank whose heaters are those of another, and no heading of the rows below it."""
    tag = r"(?:[^\W\d_]+\.?\s+)?[\w./-]*\d[\w./-]*"
    return re.compile(rf"\s*{tag}\s*[:,–—-]?\s+{forms('same')}\s+{tag}\W*", re.IGNORECASE)


def heaters_named(rows: Iterable[Sequence[tuple[int, object]]]) -> bool:
    """Do cells name heaters and kilowatts, though no table of theirs was found: pumps, below a list that was not made out?"""
    texts = [flat(value) for cells in rows for _, value in cells if isinstance(value, str)]
    return any(is_heater(text) or names_a_heater(text) for text in texts) and any(KILOWATTS.search(text) for text in texts)


def _sized(figures: Sequence[float], texts: Sequence[str]) -> bool:
    """Are a number of heaters, a usual rating and volts among the figures of a row that has words too?"""
    volts = any(figure in USUAL_VOLTS for figure in figures) or any(supply_in(text) is not None for text in texts)
    rest = [figure for figure in figures if figure not in USUAL_VOLTS]
    counts = [at for at, figure in enumerate(rest) if figure <= MOST_OF_A_ROW and figure.is_integer()]
    return volts and any(power in CATALOGUE_KW and any(at != other for other in counts) for at, power in enumerate(rest))


def labelled(cells: Sequence[tuple[int, object]]) -> list[tuple[str, str]]:
    """ "KW PER HEATER | 9": labels that mean a number or a power of heaters, each right before its figure: column of ours and label."""
    found = []
    for (_, label), (_, value) in pairwise(cells):
        if not isinstance(label, str) or not isinstance(value, (int, float)) or value <= 0:
            continue
        if like_data(label) or len(label) > LONGEST_LABEL:
            continue
        best = next(iter(meanings(label.rstrip(": "))), None)
        if best is not None and best.key in ("quantity", "power_kw", "total_kw") and best.score >= LABEL_NAME:
            found.append(("quantity" if best.key == "quantity" else "power_kw", flat(label)))
    return found
