"""What a doubt about a row leaves open: whether it is to be built, whether it is a heater of a tank at all, or what a figure of it is.

The sentence of the doubt ends with it, and the lines of the map that are offered as answers fit it.
"""

from __future__ import annotations

import re

from batch.findings import Remark, remark
from batch.intake.heading_sense import OFFERED, concepts_of
from batch.intake.line_kinds import Line
from batch.intake.list_columns import LIST
from batch.intake.plan import ListPlan
from batch.intake.remark_words import OUT, read_row_words
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

HEATER = ("heater",)
FIGURES = {
    "quantity": "how many heaters there are",
    "power_kw": "what the power is",
    "volts_v": "what the volts are",
    "phases": "what the phases are",
}
QUESTIONS = {
    "quantity": "how many heaters are there",
    "power_kw": "what is the power",
    "volts_v": "what are the volts",
    "phases": "what are the phases",
}
EXAMPLE = {"quantity": "2", "power_kw": "9", "volts_v": "480", "phases": "3"}
OWN_WORDS = tuple(  # the reasons of our own rules, by how they end: what each leaves open
    (re.compile(said), keys)
    for said, keys in (
        (r"where the row says \S+ kW,\Z|names two|than the breaker of|heaters take \S+ kW, which\Z|is of each or of all", ("power_kw",)),
        (r"V under|voltages, which\Z|whose volts may be another thing's,\Z|V on a circuit of a panel", ("volts_v",)),
        (r"kW under|for that power in each of the", ("power_kw",)),
        (r"where the row says \S+,\Z|beside those on duty,\Z|beside one number\Z|which of the two is not said", ("quantity",)),
        (r"in place of a number\Z|how many heaters\)|does not say what the|with spares\)|of one or of all is not said", ("quantity",)),
        (r"by which it may be of several tanks,\Z", ("quantity",)),
        (r"under no heading, beside a figure that is read,\Z", ("quantity", "power_kw")),
        (r"in a list of mixed equipment,\Z|where other rows name heaters\Z|though the row counts heaters,\Z", HEATER),
        (r'\A"[^"]*" \([^"()]+\)\Z', HEATER),  # "Dryer sump" (dryer)
    )
)
OF_VOLTS = re.compile(r"voltages, which\Z")
QUOTED = re.compile(r'"([^"]*)"')
KILOWATTS = re.compile(r"\bk\s?W\b", re.IGNORECASE)
GIVEN = re.compile(r"\d[\d.,]*\s*(?P<unit>[kwvp])(?:\s?W|atts?|AC|olts?|h(?:ases?)?)?\b", re.IGNORECASE)
NUMBER = re.compile(
    r"\b(?:how many|number|nombre|combien|wie ?viele?|cu[áa]nt[oa]s|quant[ei]|hoeveel|ile|quant[oa]s|hvor mange|hur m[åa]nga|kolik)\b",
    re.IGNORECASE,
)
OF_A_FIGURE = re.compile(  # a doubt that a figure has, and not the row: "to be confirmed", "noch offen", "à préciser", "n.t.b."
    r"tb[acd]|confirm|advis|decid|determin|verif|check|know|known|sure|certain|clear|pend|await|wait|pick|select|\bopen\b|illegible|read"
    r"|settled|final|review|offen|folgt|kl[äa]r|pr[üu]f|unbekannt|pr[ée]cis|d[ée]fini|v[ée]rifi|inconnu|por |falta|a definir|da |verificar"
    r"|n\.t\.b|nog|volgt|bepalen|bevestig|ustal|potwierd|uzgodni|spr?awdz|afklar|bekr[æa]ft|avklar|bekreft|utred|oklart|ur[čc]en|ov[ěe][řr]"
    r"|up[řr]esn|dopln",
    re.IGNORECASE,
)


def said_in_doubt(line: Line, plan: ListPlan, number: int, name: str) -> Remark:
    """The finding of a row in doubt, which ends with what is open. `name`: the row as [table.rows] of a map names it."""
    keys = what_is_open(line, plan)
    if figures_open(keys):
        return remark("row-figures-open", row=number, why=line.why, what=open_words(keys), line=name, values=values_asked(keys, line))
    return remark("row-in-doubt", row=number, why=line.why, what=open_words(keys), line=name)


def what_is_open(line: Line, plan: ListPlan) -> tuple[str, ...]:
    """Keys of the figures that a row in doubt leaves open; HEATER where it may be none; () where it is whether it is to be built."""
    if line.open:
        return line.open
    own = next((keys for form, keys in OWN_WORDS if form.search(line.why)), ())
    if own:
        return ("volts_v",) if OF_VOLTS.search(line.why) else own
    quoted = next((match[1] for match in QUOTED.finditer(line.why)), "")
    if not quoted or read_row_words(quoted).fate == OUT or OFFERED.search(quoted):
        return ()
    doubts = [hit.word for hit in vocabulary()["doubt"].find(quoted)]
    if not (doubts or "?" in quoted) or not all(OF_A_FIGURE.search(word) for word in doubts):
        return ()
    of_cell = next((key for key, column in plan.columns.items() if column.index == line.at), "")
    of_cell = "power_kw" if of_cell == "total_kw" else of_cell
    return (of_cell,) if of_cell in FIGURES else figures_spoken_of(quoted)


def figures_open(keys: tuple[str, ...]) -> bool:
    """Is it figures that are open, and not the row?"""
    return bool(keys) and keys != HEATER


def figures_spoken_of(text: str) -> tuple[str, ...]:
    """The figures of heaters that a text speaks of by a word; where it does by none, those it gives: "480 V, how many?" asks for one."""
    rest = GIVEN.sub(" ", text)
    said = {concept for word in words(rest) for concept in concepts_of(word)}
    by_word = {
        "quantity": NUMBER.search(rest) is not None or "count" in said,
        "power_kw": KILOWATTS.search(rest) is not None or "power" in said,
        "volts_v": bool(said & {"volts", "supply"}),
        "phases": "phase" in said,
    }
    units = {match["unit"].casefold() for match in GIVEN.finditer(text)}
    given = {"quantity": False, "power_kw": bool(units & {"k", "w"}), "volts_v": "v" in units, "phases": "p" in units}
    return tuple(key for key, spoken in (by_word if any(by_word.values()) else given).items() if spoken)


def open_words(keys: tuple[str, ...]) -> str:
    """What is open, behind "leaves open"."""
    if not keys:
        return "whether it is to be built"
    return "whether it is a heater of a tank" if keys == HEATER else " and ".join(FIGURES[key] for key in keys)


def question_words(keys: tuple[str, ...]) -> str:
    """The same as a question, without its sign."""
    if figures_open(keys):
        return ", and ".join(QUESTIONS[key] for key in keys)
    return open_words(keys).replace("whether it is", "is it")


def values_asked(keys: tuple[str, ...], line: Line) -> str:
    """The values that the map may give a row whose figures are open: its own, to be corrected, else an example: `{ Volts = 480 }`."""
    own = {key: f"{value:g}" for key in keys if (value := line.figure(key)) is not None}
    return f"{{ {', '.join(f'{LIST[key].heading} = {own.get(key, EXAMPLE[key])}' for key in keys)} }}"
