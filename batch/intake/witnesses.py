"""What a list says twice decides what it means: totals, amps, counts and words tell whether a power is each heater's or the tank's."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence, Set
from math import sqrt

from batch.intake.grid import Grid
from batch.intake.heading_sense import EACH, ROW, TANK
from batch.intake.legends import columns_of_notes
from batch.intake.line_kinds import DATA, DOUBT, OUT, TOTAL, Line
from batch.intake.list_words import heater_word, hits
from batch.intake.plan import ListPlan
from batch.intake.powers_marked import multiplied
from batch.intake.row_totals import against_the_basis, by_row_totals, leave_out_counts
from batch.intake.rows_named import RowsNamed
from batch.intake.rows_themselves import by_own_words, by_singular
from batch.intake.survey import flat
from batch.intake.texts_beside import cell_of
from batch.intake.totals_by_notes import by_stars, shared_by_notes, told_of_marked
from batch.intake.turned import cell_in
from batch.intake.usual_ratings import by_catalogue, by_marks, by_rating, each_of_others
from batch.intake.verdict import Verdict, close, close_amps, count_of, plain, power_of, tanks_named, total_of

ODD_AMPS = 0.15  # beyond rounding, other volts of the supply, and a margin: judgement, no source
# Of fuses and breakers, whose column is headed by amps too: common practice, no source
RATINGS = frozenset({6, 10, 13, 15, 16, 20, 25, 30, 32, 35, 40, 45, 50, 60, 63, 70, 80, 90, 100, 110, 125, 150, 160, 175, 200, 225, 250})
LEAST_FITTING = 3  # rows that fit, for each that does not
OF_POWER = re.compile(
    r"\bk\s?w\b|\bwatts?\b|\bpowers?\b|\bratings?\b|leistung|puissance|potenc|potenz|vermogen|\bmoc\b|effekt|v[ýy]kon|příkon|\bin W\b",
    re.IGNORECASE,
)
LONGEST_SENTENCE = 200
SENTENCES = re.compile(r"[.;]\s+|\n")
DESCRIBED = re.compile(r"(?<![\w.,/])(\d+(?:[.,]\d+)?)\s*k\s?W\b", re.IGNORECASE)
STATED = re.compile(r"(?:total|connected|installed|sum|load)[^.;\n]{0,60}?(\d[\d,. ]*\d|\d)\s*kW", re.IGNORECASE)
EVERY = (DATA, OUT, DOUBT)  # kinds of rows that a total may have in
DIGIT = re.compile(r"\d")
TIMES = re.compile(r"\s*(\d{1,2})\s*[x×*]\s*\d")  # a number of heaters, and the power of one


def weigh(grid: Grid, plan: ListPlan, lines: Sequence[Line], around: Sequence[tuple[int, int, str]], heading: str = "") -> Verdict:
    """What the power of the rows is of, by everything that bears on it.

    around   texts beside the table: row, column, words
    heading  what the heading of the power says
    """
    verdict = Verdict()
    data = [line for line in lines if line.kind == DATA]
    several = [line for line in data if (count_of(line) or 0) > 1 and power_of(line) is not None]
    _by_cells(verdict, data)
    around = by_stars(verdict, several, around) if not verdict.basis else around
    if not verdict.basis and several and "poles" in plan.why and "quantity" not in plan.columns:
        verdict.basis = ROW
        verdict.said.append("a panel's schedule gives the power of each circuit")
    described = any(line.facts["power_kw"].source == "description" for line in data if line.value("power_kw") is not None)
    leave_out_counts(plan, data)
    if not verdict.basis and "total_kw" in plan.columns and ("power_kw" in plan.columns or "power_kw" in plan.fixed or described):
        by_row_totals(verdict, plan, data)
    elif verdict.basis == EACH and described and "total_kw" in plan.columns:  # of descriptions that say it, only rows that are odd
        by_row_totals(beside := Verdict(), plan, data)
        verdict.odd_rows |= beside.odd_rows if beside.basis == EACH or not beside.against else {}
    if "power_kw" not in plan.columns and any(line.value("power_kw") is not None for line in data):
        verdict.basis = verdict.basis or EACH
    if "power_kw" not in plan.columns and "total_kw" in plan.columns:
        verdict.basis, verdict.sure = verdict.basis or TANK, "certain"
        verdict.said.append(f'its heading "{plan.columns["total_kw"].heading}"')
    votes: dict[str, list[str]] = {EACH: [], TANK: []}
    if several:
        _by_totals(votes, verdict, plan, lines)
        _by_amps(votes, plan, several)
        _by_descriptions(votes, verdict, plan, data)
        _by_words(votes, around)
        votes[EACH] += multiplied(around, lines)
        _by_stated(votes, data, around)
    _by_heading(verdict, votes, heading)
    _count(verdict, votes, several)
    if not verdict.basis and several and not verdict.odd:
        by_catalogue(verdict, several)
    if not verdict.basis and several and not verdict.odd and not verdict.against:
        by_rating(verdict, plan, several)
    if not verdict.basis and several and not verdict.odd and not verdict.against:
        by_marks(verdict, several)
    if not verdict.basis and several and not verdict.odd and not verdict.against:
        by_singular(verdict, plan)
    if not verdict.basis:
        by_own_words(verdict, plan, several, around)
    if not verdict.basis and not several and not verdict.odd:
        verdict.basis, verdict.sure = EACH, "certain"
        verdict.said.append("no row has more than one heater, so each heater's power is the tank's")
    against_the_basis(verdict, plan)
    _odd_amps(verdict, plan, data)
    each_of_others(verdict, plan, several)
    of_each = heading == verdict.basis == EACH or (plan.given and plan.power == EACH)  # a map says what the heading does
    if of_each and around:
        told_of_marked(verdict, data, around, columns_of_notes(grid, plan.heading_rows))
    shared_by_notes(verdict, lines, around, plan.columns["tank"].heading if "tank" in plan.columns else "")
    return verdict


def _odd_amps(verdict: Verdict, plan: ListPlan, data: Sequence[Line]) -> None:
    """Rows whose amps fit neither one heater nor all of them, or not that of the two which those of the other rows fit: one of their
    figures is wrong, or they are meant otherwise. While it is open what a power is of, rows of one heater alone."""
    if "amps_a" not in plan.columns:
        return
    ways = Counter[str]()
    fits: list[tuple[Line, frozenset[str], str]] = []
    any_way = 0  # rows whose amps are those of one heater or of several, whichever
    for line in data:
        amps, volts, phases, q = (line.figure(key) for key in ("amps_a", "volts_v", "phases", "quantity"))
        p, total = power_of(line), total_of(line)
        p = total / q if p is None and total is not None and q else p
        if amps is None or not volts or phases is None or q is None or p is None or "power_unit" in plan.columns:
            continue
        one = 1000.0 * p / (volts * (sqrt(3.0) if phases == 3 else 1.0))
        times = {"as given": 1.0, "times the number": q, "divided by the number": 1.0 / q}
        found = frozenset(way for way, factor in times.items() if abs(amps - factor * one) <= max(ODD_AMPS * amps, 0.15))
        any_way += bool(found)
        if verdict.basis or q == 1:
            ways.update(found)
            fits.append((line, found, f"its {amps:g} A are not those of {p:g} kW at {volts:g} V, {phases:g}-phase"))
    usual, fitting = ways.most_common(1)[0] if ways else ("", 0)
    odd = [(line, f"{why}, as in the other rows") for line, found, why in fits if usual not in found]
    if fitting >= LEAST_FITTING and fitting > len(odd):
        for line, why in odd:
            verdict.odd_rows.setdefault(line.index, why)
    elif any_way and not all(line.figure("amps_a") in RATINGS for line in data if line.figure("amps_a")):
        for line, found, why in fits:
            if not found:
                verdict.odd_rows.setdefault(line.index, why)


def _by_heading(verdict: Verdict, votes: dict[str, list[str]], heading: str) -> None:
    """What the heading says holds, unless other witnesses say the opposite and none agrees."""
    if not heading or verdict.basis:
        return
    other = TANK if heading == EACH else EACH
    if votes[other] and not votes[EACH if heading == EACH else TANK]:
        verdict.against += ["its heading says otherwise", *votes[other]]
        votes[other].clear()
        verdict.odd = True
        return
    verdict.basis = heading
    verdict.said.append("its heading says so")


def _count(verdict: Verdict, votes: dict[str, list[str]], several: list[Line]) -> None:
    if verdict.basis:
        other = TANK if verdict.basis == EACH else EACH
        verdict.said += votes[verdict.basis if verdict.basis != ROW else TANK]
        verdict.against += votes[other]
        return
    if votes[EACH] and not votes[TANK]:
        verdict.basis, verdict.said = EACH, votes[EACH]
    elif votes[TANK] and not votes[EACH]:
        verdict.basis, verdict.said = TANK, votes[TANK]
    elif votes[EACH] and votes[TANK]:
        verdict.against += [*votes[EACH], *votes[TANK]]


def _by_cells(verdict: Verdict, data: Sequence[Line]) -> None:
    """Cells that say it themselves: "6 kW ea", "18 kW total"."""
    with_power = [line for line in data if line.value("power_kw") is not None]
    own = [line.facts["power_kw"].basis or (EACH if _times_in_the_cell(line) else "") for line in with_power]
    said = {basis for basis in own if basis}
    if said and all(basis or (count_of(line) or 1) == 1 for line, basis in zip(with_power, own, strict=True)):
        verdict.basis, verdict.sure = next(iter(said)) if len(said) == 1 else EACH, "certain"
        verdict.said.append("its cells say so")
    if len(said) > 1 and verdict.basis:  # "12 each", and "27 total" in another row
        verdict.of_rows |= {line.index: (basis, "its cell says so") for line, basis in zip(with_power, own, strict=True) if basis}


def _times_in_the_cell(line: Line) -> bool:
    """Does the cell of the power say its number as well: "2 x 3" under "Power kW"?"""
    power, count = line.facts["power_kw"], line.facts.get("quantity")
    match = TIMES.match(power.seen) if not power.source else None
    return match is not None and count is not None and count.value == int(match[1])


class _Powers:
    """What the rows of a group add up to, kind by kind, as they stand and times their number: a sum for each total row, and not each time
    all rows over again."""

    def __init__(self, lines: Iterable[Line] = ()) -> None:
        self.lines: dict[int, list[Line]] = {}  # of one row there may be several
        self._sums: dict[str, tuple[float, float]] = {}
        for line in lines:
            self.add(line)

    def add(self, line: Line) -> None:
        self.lines.setdefault(line.index, []).append(line)
        tanks, power = tanks_named(line), power_of(line) or 0.0
        plain, times = self._sums.get(line.kind, (0.0, 0.0))
        self._sums[line.kind] = plain + power * tanks, times + (count_of(line) or 1.0) * power * tanks

    @property
    def in_doubt(self) -> bool:
        return DOUBT in self._sums

    def which(self, number: float, *several: tuple[str, ...], but: _Powers | None = None) -> set[str]:
        """The bases by which the rows of these kinds, or of those, add up to a number; both where they cannot be told apart. `but`: rows of
        the group that are left out."""
        found: set[str] = set()
        for kinds in several:
            here = [self._sums[kind] for kind in kinds if kind in self._sums]
            less = [but._sums[kind] for kind in kinds if kind in but._sums] if but is not None else []
            plain, times = (sum(one[at] for one in here) - sum(one[at] for one in less) for at in (0, 1))
            if not here or close(plain, times):
                continue
            for scale in (1.0, 1000.0):
                if close(plain * scale, number):
                    found.add(TANK)
                if close(times * scale, number):
                    found.add(EACH)
        return found


def _by_totals(votes: dict[str, list[str]], verdict: Verdict, plan: ListPlan, lines: Sequence[Line]) -> None:
    """Total rows: is their figure the sum of the powers, or of number times power?"""
    powered = [line for line in lines if line.kind in EVERY and power_of(line) is not None]
    since, every = _Powers(), _Powers()
    names: RowsNamed | None = None
    key = "power_kw" if "power_kw" in plan.columns else "total_kw"
    for line in lines:
        if line.kind in EVERY and power_of(line) is not None:
            since.add(line)
            every.add(line)
        elif line.kind == TOTAL:
            stated = _numbers_of(line)
            place = plan.columns[key].index if key in plan.columns else plan.first
            stated.sort(key=lambda pair: abs(pair[0] - place))
            texts = [text for _, value in line.cells if isinstance(value, str) and DIGIT.search(text := flat(value))]
            if texts and names is None:
                names = RowsNamed(powered, plan.columns["tank"].heading if "tank" in plan.columns else "")
            for at, number in stated:
                found = _sum_of(number, (since, every), {row for text in texts for row in names.named_in(text)} if names else set())
                if len(found) == 1:
                    basis = found.pop()
                    sum_words = "number times power" if basis == EACH else "the powers as they stand"
                    cell = cell_in(plan.turned, line.index, at)
                    votes[basis].append(f"the total {number:g} kW in {cell} is the sum of {sum_words}")
                    break
            since = _Powers()


def _sum_of(number: float, groups: Sequence[_Powers], named: Set[int]) -> set[str]:
    """The bases by which groups of rows add up to a number: all that are sure; without those that the total names and so leaves out, as
    "not incl. IH-7"; together with all that are in doubt, as who added them up had them in."""
    sure = (DATA, OUT), (DATA,)
    found = {basis for group in groups for basis in group.which(number, *sure)}
    for group in groups if named and not found and not _of_those_named(number, groups, named) else ():
        found |= group.which(number, *sure, but=_Powers(line for index in named for line in group.lines.get(index, ())))
    doubtful = [group for group in groups if group.in_doubt] if not found else []
    return found or {basis for group in doubtful for basis in group.which(number, EVERY, (DATA, DOUBT))}


def _of_those_named(number: float, groups: Sequence[_Powers], named: Set[int]) -> bool:
    """Is a figure the sum of the very rows that its text names, "T-1 has 24 kW total", and none of the others?"""
    own = [_Powers(line for index in named for line in group.lines.get(index, ())) for group in groups]
    sums = [pair for some in own for pair in some._sums.values()]
    return any(close(one, number) for pair in sums for one in pair)


def _numbers_of(line: Line) -> list[tuple[int, float]]:
    found = []
    for at, value in line.cells:
        if isinstance(value, (int, float)) and not isinstance(value, bool) and value > 0:
            found.append((at, float(value)))
        elif isinstance(value, str) and (match := re.search(r"(\d[\d,.]*)\s*kW", value, re.IGNORECASE)):
            number = plain(match[1])
            if number:
                found.append((at, number))
    for key in ("power_kw", "total_kw"):  # figures typed as text, in the columns of powers
        stated, fact = line.figure(key), line.facts.get(key)
        if stated and fact is not None and not fact.source and all(at != fact.index for at, _ in found):
            found.append((fact.index, stated))
    return found


def _by_amps(votes: dict[str, list[str]], plan: ListPlan, several: Sequence[Line]) -> None:
    """Amps of V, phases and power: of one heater, or of all of them (I = P / V, and P / (V times the root of three) on three phases)."""
    tally = {EACH: 0, TANK: 0, "same": 0, "": 0}
    for line in several:
        amps, volts, phases, q, p = (line.figure(key) for key in ("amps_a", "volts_v", "phases", "quantity", "power_kw"))
        if amps is None or not volts or q is None or p is None:
            continue
        one = 1000.0 * p / (volts * (sqrt(3.0) if phases == 3 else 1.0))
        if close_amps(amps, q * one):
            tally[EACH] += 1
        elif close_amps(amps, one / q):
            tally[TANK] += 1
        elif close_amps(amps, one):
            tally["same"] += 1
        else:
            tally[""] += 1
    told = tally[EACH] + tally[TANK]
    heading = plan.columns["amps_a"].heading if "amps_a" in plan.columns else ""
    if told and tally[EACH] >= 3 * (tally[TANK] + tally["same"] + tally[""]):
        votes[EACH].append(f'the amps under "{heading}" are those of number times power in {tally[EACH]} rows')
    elif told and tally[TANK] >= 3 * (tally[EACH] + tally["same"] + tally[""]):
        votes[TANK].append(f'the amps under "{heading}" are those of the power divided by the number in {tally[TANK]} rows')
    elif tally["same"] >= 3 * (told + tally[""]) and tally["same"]:
        low = heading.casefold()
        if re.search(r"\b(each|ea|heater|htr|element)\b", low):
            votes[EACH].append(f'the amps under "{heading}" are those of the power as it stands')
        elif re.search(r"\b(total|tank|line|feeder|circuit|connected)\b", low):
            votes[TANK].append(f'the amps under "{heading}" are those of the power as it stands')


def _by_descriptions(votes: dict[str, list[str]], verdict: Verdict, plan: ListPlan, data: Sequence[Line]) -> None:
    """ "Immersion heater 9 kW" beside a power of 9: the item described is one heater. A row whose two powers differ is in doubt."""
    if "power_kw" not in plan.columns:
        return
    tally = {EACH: 0, TANK: 0}
    odd: dict[int, str] = {}
    for line in data:
        q, p, said = count_of(line) or 1.0, power_of(line), _described_kw(line, plan)
        if p is None or said is None:
            continue
        kw, text = said
        if close(kw, p):
            tally[EACH] += q > 1
        elif close(q * kw, p):
            tally[TANK] += 1
        else:
            odd[line.index] = f'"{text[:60]}" and the {p:g} kW of the row differ'
    if max(tally.values()) >= LEAST_FITTING * max(1, len(odd), min(tally.values())):
        basis = EACH if tally[EACH] > tally[TANK] else TANK
        of = "as it stands" if basis == EACH else "divided by the number"
        votes[basis].append(f"the kW of the descriptions are those of the power {of} in {tally[basis]} rows")
        for index, why in odd.items():
            verdict.odd_rows.setdefault(index, why)


def _described_kw(line: Line, plan: ListPlan) -> tuple[float, str] | None:
    """The one power that a text about a heater gives, apart from the columns of powers."""
    taken = {plan.columns[key].index for key in ("power_kw", "total_kw") if key in plan.columns}
    for at, value in line.cells:
        text = flat(value) if isinstance(value, str) and at not in taken else ""
        found = DESCRIBED.findall(text) if text and heater_word(text) and not hits("total", text) and not hits("per_tank", text) else []
        if len(found) == 1 and (kw := plain(found[0])) is not None:
            return kw, text
    return None


def _by_words(votes: dict[str, list[str]], around: Sequence[tuple[int, int, str]]) -> None:
    seen: set[str] = set()
    said = ((row, column, sentence) for row, column, text in around for sentence in SENTENCES.split(text))
    for row, column, text in said:
        if text in seen or len(text) > LONGEST_SENTENCE or not (OF_POWER.search(text) or _said_of_each(text)):
            continue
        seen.add(text)
        each, tank = hits("per_heater", text), [hit for hit in hits("per_tank", text) if " " in hit.word or "/" in hit.word]
        if bool(each) != bool(tank):
            votes[EACH if each else TANK].append(f'"{text[:80]}" in {cell_of(row, column)}')


def _said_of_each(text: str) -> bool:
    """Do the last words of a title say that what stands below is of one heater: "Heater upgrade, per heater"?"""
    ends = [hit for hit in hits("per_heater", text) if " " in hit.word and not text[hit.end :].strip(" ).:")]
    return any(text[: hit.start].rstrip().endswith((",", "(", ":", "-", "–", "—")) for hit in ends)


def _by_stated(votes: dict[str, list[str]], data: Sequence[Line], around: Sequence[tuple[int, int, str]]) -> None:
    """A total that a sentence states: "total connected load 159 kW"."""
    for row, column, text in around:
        if match := STATED.search(text):
            number = plain(match[1])
            found = _Powers(line for line in data if power_of(line) is not None).which(number, EVERY, (DATA,)) if number else set()
            if len(found) == 1:
                votes[found.pop()].append(f'"{text[:80]}" in {cell_of(row, column)}')
