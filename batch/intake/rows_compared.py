"""Rows of a list held against each other: tanks that share one, marks that come twice, rows unlike all others. What is odd is asked."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence

from batch.intake.described import described
from batch.intake.grid import worded
from batch.intake.heading_sense import EACH, OFFERED
from batch.intake.line_kinds import BANNER, DATA, DOUBT, OTHER, OUT, Line
from batch.intake.list_words import is_heater
from batch.intake.plan import ListPlan
from batch.intake.rows_to_renew import ask_beside_renewed
from batch.intake.sentence_words import saying
from batch.intake.survey import flat
from batch.ooxml.addresses import letters

LABELLED = 0.5  # of the rows that say heater, for the others to be asked about in a list said to be of heaters: judgement, no source
LEAST_ALIKE = 3  # tags that begin alike, for one that does not to be odd
MOSTLY_ONCE = 0.7  # of the marks that stand once, for one that stands twice to be odd: judgement, no source
LISTED_TAG = re.compile(r"(?<![\w.-])([a-z]{1,4}-)\d{1,4}[a-z]?(?![\w-])")
ALIKE = re.compile(  # words that let a row stand for a second tank too
    r"\d[a-z]?\s*(?:,|&|\+|/|\b(?:and|und|et|y|e|en|i|og|och|a|thru|to|til|till|bis|až)\b)\s*[a-z]|\b(?:alike|also|both|identical|with|mit|avec|con|met|com|typ(?:ical)?|auch|aussi|tambi[eé]n"
    r"|anche|ook|tak[zż]e|tamb[eé]m|også|också|även|med|samt|rovněž|stejně|taky|také)\b",
    re.IGNORECASE,
)
MARK = re.compile(r"(?:E?I?H(?:E|T|TR|R|K)?|EL|TP|GR|RES)[-_. ]?\d{2,6}[A-Za-z]?", re.IGNORECASE)  # common practice, no source
BETWEEN_LINES, TO_NEUTRAL = (380.0, 415.0), (220.0, 240.0)  # of one supply: IEC 60038, table 1, 230/400 V, and its former names
COMMA_BETWEEN = re.compile(r"\d{1,2}\s+[^\W\d_]+,\s*\d[\d.,]*\s*k?W\b", re.IGNORECASE)  # "2 heaters, 6 kW"
RATED_AT = re.compile(  # "@ 240 V", "at 240 V", "(240 V)": of the power, where a group's supply says "(240 V 1 ph)"
    r"(?:@|\b(?:at|bei|à|a|bij|przy|em|ved|vid|p[řr]i|rated)\s|\((?=\s*\d{3}\s?V(?:AC)?\s*\)))\s*(?P<volts>\d{3})\s?(?:V|VAC|volts?)(?![\w/])",
    re.IGNORECASE,
)
LEAST_SIGNED = 2  # rows that say by a sign of times that their power is of each: judgement, no source
LEAST_ON_ONE = 2  # other rows on one phase: judgement, no source
NO_CODES: Mapping[str, str] = {}
LONGEST_CODE = 3  # letters
LEAST_CODED, MOSTLY_CODED = 4, 0.7  # rows with a code, and part of the rows, for one without to be odd: judgement, no source
OF_A_HEATER = ("quantity", "power_kw", "volts_v", "phases")


def compare_rows(lines: Sequence[Line], plan: ListPlan, codes: Mapping[str, str] = NO_CODES) -> None:
    """Puts in doubt the rows that the others contradict."""
    _mixed(lines, plan)
    _tags_in_remarks(lines, plan)
    _marked_twice(lines, plan)
    _tank_again(lines, plan)
    _alternates(lines, plan)
    _alone_on_one_phase(lines, plan)
    _rated_at(lines, plan)
    _without_a_sign(lines, plan)
    _without_a_code(lines, plan, codes)
    ask_beside_renewed(lines, plan)


def _without_a_code(lines: Sequence[Line], plan: ListPlan, codes: Mapping[str, str]) -> None:
    """A row that is blank where nearly all others bear a code of the list's legend: what is to be done with it is not said."""
    used = {column.index for key, column in plan.columns.items() if key not in ("status", "notes")}
    heated = [line for line in lines if line.kind in (DATA, DOUBT, OUT) and line.value("power_kw") is not None]
    for at in range(plan.first, plan.last + 1) if codes else ():
        marks = {id(line): flat(value) for line in heated for column, value in line.cells if column == at and at not in used}
        short = [mark for mark in marks.values() if len(mark) <= LONGEST_CODE and not mark.isdecimal()]  # not numbers of notes
        if len(short) < max(LEAST_CODED, MOSTLY_CODED * len(heated)) or not any(mark.casefold() in codes for mark in short):
            continue
        for line in heated:
            if id(line) not in marks and line.kind == DATA and line.index + 1 not in plan.keep_rows:
                line.kind, line.at = DOUBT, at
                line.why = f"{letters(at)}{line.index + 1}, blank where other rows bear a code,"


def _without_a_sign(lines: Sequence[Line], plan: ListPlan) -> None:
    """ "2 heaters, 6 kW" among rows that say "3 x 6 kW": whether the power is of each is not said there, where the others say it."""
    told = [line for line in lines if line.kind in (DATA, DOUBT) and {"quantity", "power_kw"} <= line.facts.keys()]
    told = [line for line in told if line.facts["quantity"].source == line.facts["power_kw"].source == "description"]
    signed = [line for line in told if line.facts["power_kw"].basis == EACH]
    for line in told if len(signed) >= LEAST_SIGNED else ():
        power = line.facts["power_kw"]
        if power.basis or plan.power or line.index + 1 in plan.keep_rows or not COMMA_BETWEEN.search(power.seen):
            continue
        if line.kind == DATA and (line.figure("quantity") or 0) > 1:
            line.kind, line.at, other = DOUBT, power.index, signed[0].facts["power_kw"].seen[:30]
            line.why = f'"{power.seen}" (whether the power is of each or of all, which other rows say by a sign, as "{other}")'


def _alone_on_one_phase(lines: Sequence[Line], plan: ListPlan) -> None:
    """One row on one phase at 400 V, where the others on one phase are at 230 V: between two lines, or a slip."""
    ones = [line for line in lines if line.kind in (DATA, DOUBT) and line.figure("phases") == 1 and line.figure("volts_v")]
    high = [line for line in ones if BETWEEN_LINES[0] <= (line.figure("volts_v") or 0.0) <= BETWEEN_LINES[1]]
    low = [line for line in ones if TO_NEUTRAL[0] <= (line.figure("volts_v") or 0.0) <= TO_NEUTRAL[1]]
    for line in high if len(high) == 1 and len(low) >= LEAST_ON_ONE else ():
        if line.kind == DATA and line.index + 1 not in plan.keep_rows and not line.facts["phases"].source:
            line.kind, line.at = DOUBT, line.facts["phases"].index
            volts, others = line.figure("volts_v"), low[0].figure("volts_v")
            line.why = f"{volts:g} V on one phase, where the other {len(low)} rows of one phase are at {others:g} V,"


def _rated_at(lines: Sequence[Line], plan: ListPlan) -> None:
    """ "kW each @ 240 V" above rows of 480 V: whether the heaters are rated so, or take that where they are, is asked."""
    column = plan.columns.get("power_kw") or plan.columns.get("total_kw")
    match = RATED_AT.search(column.heading) if column is not None else None
    if column is None or match is None:
        return
    rated = float(match["volts"])
    for line in lines:
        volts = line.figure("volts_v")
        if line.kind == DATA and volts and volts != rated and line.index + 1 not in plan.keep_rows:
            line.kind, line.at, line.open = DOUBT, column.index, ("power_kw",)
            line.why = f'"{column.heading[:40]}", where the row is at {volts:g} V,'


def _tank_again(lines: Sequence[Line], plan: ListPlan) -> None:
    """The one tank that stands a second time, below others and with another power, in a list that has every other tank once: a further
    kind of heater would stand below the first; which of the two rows holds is asked."""
    data = [line for line in lines if line.kind in (DATA, DOUBT) and line.value("tank") is not None and not line.facts["tank"].source]
    rows: dict[str, list[int]] = {}
    for at, line in enumerate(data):
        rows.setdefault(worded(line.value("tank")).casefold(), []).append(at)
    again = [some for some in rows.values() if len(some) > 1]
    if "bank" in plan.columns or len(again) != 1 or len(again[0]) != LEAST_SIGNED or len(rows) <= LEAST_ALIKE:
        return
    one, other = (data[at] for at in again[0])
    same = all(one.figure(key) == other.figure(key) for key in ("quantity", "volts_v", "phases"))
    if again[0][1] == again[0][0] + 1 or not same or one.figure("power_kw") == other.figure("power_kw"):
        return
    for line, twin in ((one, other), (other, one)):
        if line.kind == DATA and line.index + 1 not in plan.keep_rows:
            line.kind, line.at = DOUBT, line.facts["tank"].index
            line.why = f'"{worded(line.value("tank"))[:30]}", which stands in row {twin.index + 1} with another power,'


def _alternates(lines: Sequence[Line], plan: ListPlan) -> None:
    """ "Alternate to TH-21": of the two one is built, so that the row which is named is in doubt too, unless the other is only priced."""
    texts = [(line, flat(value)) for line in lines for _, value in line.cells if isinstance(value, str)]
    offers = [(line, text) for line, text in texts if OFFERED.match(text) and not saying("priced_beside").search(text)]
    for line in lines if offers else ():
        marks = {flat(value).casefold() for _, value in line.cells if isinstance(value, str) and MARK.fullmatch(flat(value).strip())}
        marks |= {flat(line.cells[0][1]).casefold()} if line.cells else set()
        for other, text in offers if line.kind == DATA and line.index + 1 not in plan.keep_rows else ():
            named = (mark for mark in marks if any(map(str.isdigit, mark)) and not mark.isdigit())
            if other is not line and any(re.search(rf"(?<![\w/-]){re.escape(mark)}(?![\w/-])", text, re.IGNORECASE) for mark in named):
                line.kind, line.at = DOUBT, line.cells[0][0]
                line.why = f'"{text[:60]}" in row {other.index + 1}'


def _tags_in_remarks(lines: Sequence[Line], plan: ListPlan) -> None:
    """A remark that names a tank of the list's own kind which has no row, "T-209 and T-210 alike": the row may stand for it too."""
    tags = {str(tag).strip().casefold() for line in lines if (tag := line.value("tank")) is not None}
    heads = {match[1] for tag in tags if (match := LISTED_TAG.fullmatch(tag))}
    used = {column.index for key, column in plan.columns.items() if key not in ("notes", "status")}
    for line in lines:
        if line.kind != DATA or line.index + 1 in plan.keep_rows:
            continue
        for at, value in line.cells:
            if at in used or not isinstance(value, str) or not ALIKE.search(flat(value)):
                continue
            found = (match for match in LISTED_TAG.finditer(flat(value).casefold()) if match[1] in heads and match[0] not in tags)
            if other := next(found, None):
                line.kind, line.at = DOUBT, at
                line.why = f'"{flat(value)[:60]}", of which {other[0].upper()} has no row of its own,'


def _marked_twice(lines: Sequence[Line], plan: ListPlan) -> None:
    """Of heaters with a mark each, two rows of one mark and other figures: one of them is wrong, or out of date."""
    bank, tank = plan.columns.get("bank"), plan.columns.get("tank")
    rows: dict[str, list[Line]] = {}
    for line in lines:
        at, first = line.cells[0] if line.cells else (-1, "")
        fact = line.facts.get("bank")
        mark = worded(fact.value).strip() if fact is not None and not fact.source else ""
        if bank is None and tank is not None and at != tank.index:  # what stands first in a row may be its heaters' own number
            mark = worded(first).strip() if MARK.fullmatch(worded(first).strip()) else ""
        if mark and line.kind in (DATA, DOUBT) and line.value("tank") is not None:
            rows.setdefault(f"{mark.casefold()} {worded(line.value('tank') or '').casefold()}", []).append(line)
    once = sum(len(some) == 1 for some in rows.values())
    if once < max(LEAST_ALIKE, MOSTLY_ONCE * len(rows)):
        return
    for mark, some in rows.items():
        figures = {tuple(line.figure(key) for key in OF_A_HEATER) for line in some}
        if len({line.index for line in some}) < 2 or len(figures) < 2:
            continue
        for line in some:
            if line.kind == DATA and line.index + 1 not in plan.keep_rows:
                others = ", ".join(str(other.index + 1) for other in some if other.index != line.index)
                line.kind, line.at = DOUBT, bank.index if bank is not None else line.cells[0][0]
                line.why = f'"{mark.split()[0].upper()[:30]}", which stands in row {others} with other figures,'


def _mixed(lines: Sequence[Line], plan: ListPlan) -> None:
    """In a list of mixed equipment a row that does not say heater may be anything."""
    data = [line for line in lines if line.kind in (DATA, DOUBT)]
    said = [line for line in data if says_heater(line) or line.referred or _repeated(line)]
    if all(line.referred for line in said) or not any(line.kind == OTHER for line in lines):  # "same as T-3" alone says no heater
        return
    told = plan.columns.get("description")
    headed = told is not None and is_heater(told.heading)  # under "Heater description" a row need not say so
    if headed or (plan.of_heaters and len(said) < LABELLED * len(data)):  # nor in a list of heaters
        _strange_tags(data, plan)
        return
    named = plan.columns.get("description")
    for line in data:
        if line in said or line.index + 1 in plan.keep_rows:
            continue
        own = line.facts.get("description")
        if named is None or own is None or not own.source:
            seen = own.seen if own is not None else next((flat(value) for _, value in line.cells if isinstance(value, str)), "")
            words = f'"{seen[:60]}"' if seen.strip() else "a row without words"
            line.kind, line.why = DOUBT, f"{words}, in a list of mixed equipment,"


def _strange_tags(data: Sequence[Line], plan: ListPlan) -> None:
    """A row whose tag begins as no other does may be something else: P-1 among W-1, W-2, W-3."""
    heads = [re.match(r"\D*", str(line.value("tank") or ""))[0].casefold().strip() for line in data]  # type: ignore[index]
    for line, head in zip(data, heads, strict=True):
        usual = max((heads.count(other) for other in heads), default=0)
        alone = head and heads.count(head) == 1 and usual >= LEAST_ALIKE
        if alone and line.kind == DATA and not says_heater(line) and line.index + 1 not in plan.keep_rows:
            tag = line.facts["tank"]
            line.kind, line.why, line.at = DOUBT, f'"{tag.seen[:40]}", a tag as no other, in a list of mixed equipment,', tag.index


def says_heater(line: Line) -> bool:
    """Does a cell of the row name a heater?"""
    return any(is_heater(flat(value)) for _, value in line.cells if isinstance(value, str))


def _repeated(line: Line) -> bool:
    """Is its description that of the row above, by a mark that repeats it?"""
    fact = line.facts.get("description")
    return fact is not None and fact.source == "above" and isinstance(fact.value, str) and is_heater(fact.value)


def ask_below(lines: list[Line], answered: Collection[int]) -> None:
    """A line below the last row of heaters heads nothing: one that says how many heaters of what power is asked. `answered`: rows by their
    number, which a map leaves out."""
    last = max((at for at, line in enumerate(lines) if line.kind == DATA), default=len(lines))
    for line in lines[last + 1 :]:
        counted = line.kind == BANNER and {"power_kw", "quantity"} <= described(line.text).facts.keys()
        if counted and line.index + 1 not in answered:
            line.kind, line.why = DOUBT, f'"{line.text[:60]}", below the list,'
