"""Which column of a list is which of ours: names and values scored together, all columns at once, each of ours at most once."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence, Set
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from batch.intake import cells_that_describe as told
from batch.intake.best_match import solve
from batch.intake.cell_profiles import READ_AS, TAG, Profile, fit, mostly_alike, usual_volts
from batch.intake.columns_told_apart import counts_those_there, never_both, sides
from batch.intake.heading_sense import KVA, names_a_heater, names_a_tank, of_a_machine
from batch.intake.list_columns import LIST, TANK_TAG
from batch.intake.list_words import basis_of, heater_word, other_equipment, phase_word
from batch.intake.marks_of_tanks import column_of_marks, told_apart_by
from batch.intake.numbers import number_of
from batch.intake.panel_sides import OF_CIRCUITS
from batch.intake.runs_of_figures import LEAST_STEPS, counts, running, years
from batch.intake.survey import HeadingColumn
from batch.intake.tank_words import tank_named
from batch.ooxml.addresses import letters

CERTAIN, LIKELY, OPEN = "certain", "likely", "open"
# How much of a column's score is its name, and what is asked of both: common practice, no source. A test pins both sides of each.
BY_NAME = 0.65
LEAST_FIT = 0.4  # of the cells that a column of figures must be able to hold
LEAST_FIT_PHASES = 0.7  # the same for phases, of which there are two kinds only: acidity has ones and threes too
LEAST_SCORE = 0.45  # below it a heading means nothing of ours
SURE_NAME, SURE_FIT = 0.9, 0.85  # of both, for a column to be certain
SURE_RIVAL = 0.75  # of a name, for a second column of counts to be asked about
NEAR = 0.12  # a rival whose assignment is no further behind leaves the question open
HIDDEN = 0.6  # what a name is worth in a column that is hidden
NONE: Set[int] = frozenset()
LEAST_NAME_OF_TAG = 0.45  # of a heading that may be that of the tank's tag, or that is known to mean something else: judgement, no source
LEAST_NAME = 0.6  # of a column with which little or nothing is sized: a name among many other words is not enough
FREE = frozenset({"tank", "notes", "status", "description", "item"})
SIZED_WITH = frozenset({"tank", "quantity", "power_kw", "total_kw", "volts_v", "phases"})
PERHAPS = 0.6  # the worth of a name that the cells give
MOSTLY = 0.6  # of the cells, for them to say what a column is: judgement, no source
POWER_UNIT = re.compile(r"(?<!\w)k?W(?!\w)", re.IGNORECASE)
LONGEST_SIGN = 2  # letters of a sign such as P, which stands for poles too
NEAR_TAG = 0.04  # the same for the tank's tag, with which nothing is sized
CLOSE_NAME = 0.12  # a rival whose heading says it so much less clearly is none, however well its cells fit: judgement, no source
SURE_TAGS = 0.75  # of the cells, for a column under a heading that says nothing: a total may stand among them
LEAST_TAGGED = 3
UNKNOWN_TAG = re.compile(r"[A-Za-z]{1,4}[-. ]?\d{1,4}[A-Za-z]?")
FACTS = re.compile(r"\d\s*k\s?w\b|\d{3,5}\s*w\b|\d\s*v(?:ac)?\b", re.IGNORECASE)


class Taken(Struct, frozen=True):
    """One column of the list taken for one of ours: how sure, why, and the rival if there is one near."""

    key: str
    index: int
    text: str
    unit: str  # of bare numbers below, as its heading or the row of units has it; "" = not said
    basis: str
    sure: str
    name: float
    fit: float
    rival: str = ""  # what else could be it, in words


Scores = dict[int, dict[str, tuple[float, float, float, str, str]]]
OF_AMPS = re.compile(r"\b(?:amps?|amperes?|ampères?)\b", re.IGNORECASE)
OF_STATIONS = re.compile(
    r"(?:stations?|stages?|stn|stationen|stazion[ei]|estaci[oó]n(?:es)?|esta[cç][aã]o)(?: ?(?:no|nr|n[°º]))?", re.IGNORECASE
)


def scores(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile], hidden: Set[int] = NONE) -> Scores:
    """For each column what it may be: score, name, fit, unit, basis by key of ours."""
    found: Scores = {}
    counted = any(one.key == "quantity" and one.score >= SURE_RIVAL for column in columns for one in column.meanings())
    for column in columns:
        here: dict[str, tuple[float, float, float, str, str]] = {}
        profile = seen[column.index]
        some = column.meanings()
        if column.index in hidden:
            some = tuple(one._replace(score=HIDDEN * one.score) for one in some)
        other = max((one.score for one in some if one.key not in LIST.by_key), default=0.0)
        for one in some:
            if one.key not in LIST.by_key:
                continue
            # of "PH" and "Line V" the values decide
            decided = one.key in ("phases", "description") or (one.key == "volts_v" and usual_volts(profile))
            if other >= one.score and not decided:  # something else is known by this heading
                one = one._replace(score=one.score * 0.5)
            good = fit(one.key, profile, one.unit) if profile.filled else 0.5
            if one.key == "quantity" and running(profile):
                good = min(good, LEAST_FIT / 2)
            if (one.key in READ_AS and good < LEAST_FIT) or (one.key in ("power_kw", "total_kw") and one.unit != "W" and years(profile)):
                continue
            if one.key == "phases" and good < LEAST_FIT_PHASES:
                continue
            if column.text and (one.key == "tank" or (other >= SURE_NAME and one.key in READ_AS)) and one.score < LEAST_NAME_OF_TAG:
                continue
            if one.key not in READ_AS and one.key not in FREE and (one.score < LEAST_NAME or good < LEAST_FIT):
                continue
            here[one.key] = (BY_NAME * one.score + (1 - BY_NAME) * good, one.score, good, one.unit, one.basis)
        item = max((one.score for one in some if one.key == "item"), default=0.0)
        if item >= LEAST_NAME and "quantity" not in here and not counted and counts(profile):  # "No." over no running numbers
            here["quantity"] = (BY_NAME * item * 0.8 + (1 - BY_NAME), item * 0.8, 1.0, "", "")
        told_figures = sum(number_of(cell) is not None for cell in profile.cells) >= SURE_FIT * max(1, profile.filled)
        figures = told_figures and fit("quantity", profile) >= SURE_FIT
        if figures and not counted and counts_those_there(column.text):  # where no other column says how many are wanted
            here["quantity"] = (BY_NAME * PERHAPS + (1 - BY_NAME), PERHAPS, 1.0, "", "")
        if KVA.search(column.text):  # "kVA A" is that of a phase, and no amps
            here.pop("amps_a", None)
        _by_facts_in_cells(here, profile, counted)
        _by_units_in_cells(here, profile)
        if here.keys() & {"phases", "connection"} and "volts_v" not in here and told.of_supplies_alone(profile):  # over "220V mono"
            here.pop("phases", None)
            here["volts_v"] = max(here.pop("connection", (0.0,) * 3 + ("", "")), (BY_NAME * PERHAPS + (1 - BY_NAME), PERHAPS, 1.0, "", ""))
        if {"feeder", "volts_v"} <= here.keys() and told.of_supplies_alone(profile):  # "Supply" over "480V-3PH"
            here.pop("feeder")
        if profile.filled and not of_a_machine(column.text) and not any(score >= LEAST_SCORE for score, *_ in here.values()):
            here |= _by_values(column, profile)
        _by_equipment(column, here, profile)
        found[column.index] = here
    _by_what_describes(columns, seen, found)
    _tanks_by_word(columns, seen, found)
    for index in (*sides(columns), *_of_amps(columns)):
        found[index].pop("power_kw", None)
        found[index].pop("total_kw", None)
    _beside_units(columns, seen, found)
    _signs_of_others(columns, found)
    return found


def _of_amps(columns: Sequence[HeadingColumn]) -> list[int]:
    """The columns headed by amps and no kilowatts: "Full load amps"."""
    return [column.index for column in columns if OF_AMPS.search(column.text) and not POWER_UNIT.search(column.text)]


def _signs_of_others(columns: Sequence[HeadingColumn], found: dict) -> None:
    """Beside "kW", or beside circuits of a panel, a sign such as P is of something else: of poles."""
    of_circuits = any(OF_CIRCUITS.fullmatch(column.text.strip(" .#")) for column in columns)
    if of_circuits or any(
        POWER_UNIT.search(column.text) and found[column.index].get("power_kw", (0.0,))[0] >= SURE_NAME for column in columns
    ):
        for column in columns:
            if len(column.text) <= LONGEST_SIGN and not POWER_UNIT.search(column.text):
                found[column.index].pop("power_kw", None)


def _by_what_describes(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile], found: dict) -> None:
    """Where the cells of one column say the heaters ("Heating" over "3 pcs 6 kW 400 V"), another of mere names does not describe them."""
    said = {column.index: told.share_with_powers(seen[column.index]) for column in columns}
    telling = [index for index, share in said.items() if share >= MOSTLY and not {"power_kw", "total_kw", "volts_v"} & found[index].keys()]
    if len(telling) != 1:
        return
    for index, here in found.items():
        if index != telling[0] and not said[index]:
            here.pop("description", None)
    found[telling[0]].setdefault("description", (0.75, PERHAPS, 1.0, "", ""))


def _tanks_by_word(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile], found: dict) -> None:
    """Beside a column headed by a word for a tank, another mark is the item's, and running numbers, 10, 20, 30, are nobody's tag."""
    tanks = [column.index for column in columns if _best_of(found[column.index]) == "tank" and names_a_tank(column.text)]
    if not tanks:
        return
    sure = max(_numbered(seen[index]) for index in tanks) >= SURE_FIT  # "Bain" over names of baths leaves the tags to "Repère"
    for column in columns:  # "Repère" beside "Cuve" marks the item of the row, and not its tank
        here = found[column.index]
        if sure and column.index not in tanks and _best_of(here) == "tank":
            here.setdefault("bank", here.pop("tank"))
    for column in columns:
        numbers = [number for cell in seen[column.index].cells if (number := number_of(cell)) is not None]
        steps = {after - before for before, after in pairwise(numbers)}
        if not sure and steps == {1.0} and OF_STATIONS.fullmatch(column.text.strip(" .:#")):
            continue  # beside names of baths they are numbered so
        if len(numbers) >= LEAST_STEPS and len(numbers) == seen[column.index].filled and len(steps) == 1 and not names_a_tank(column.text):
            found[column.index].pop("tank", None)


def _best_of(here: Mapping[str, tuple[float, float, float, str, str]]) -> str:
    """The likeliest of what a column may be; "" where it may be nothing of ours."""
    return max(here, key=lambda key: here[key][0], default="")


def _tags_beside_names(one: Profile, other: Profile) -> bool:
    return _numbered(one) >= SURE_FIT and _numbered(other) <= 1 - SURE_FIT


def _numbered(profile: Profile) -> float:
    """The share of cells with a figure in them, as tags have."""
    return sum(any(sign.isdigit() for sign in text) for text in profile.texts) / max(1, profile.filled)


def _beside_units(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile], found: dict) -> None:
    """A column of figures beside one that holds units of power for each of them is the power, however it is headed."""
    for column in columns:
        if found[column.index].get("power_unit", (0.0,))[0] < 0.7 or fit("power_unit", seen[column.index]) < 0.5:
            continue
        for index in (column.index - 1, column.index + 1):
            profile = seen.get(index)
            if profile is None or not profile.filled or profile.numeric() < 0.5 or "power_kw" in found[index] or "total_kw" in found[index]:
                continue
            if max((score for score, *_ in found[index].values()), default=0.0) < 0.7:
                basis = next((basis_of(other.text) for other in columns if other.index == index), "")
                found[index]["power_kw"] = (0.8, 0.7, 1.0, "", basis)
                break


def _by_values(column: HeadingColumn, profile: Profile) -> dict[str, tuple[float, float, float, str, str]]:
    """What a column may be that no heading tells of, by values that speak for themselves."""
    texts = profile.texts
    found = {}
    if fit("power_unit", profile) >= 0.9:
        found["power_unit"] = (0.8, 0.5, 1.0, "", "")
    facts = sum(bool(FACTS.search(text)) for text in texts) / len(texts)
    if facts >= 0.4 and profile.numeric() < 0.3:
        found["description"] = (0.5, 0.3, facts, "", "")
    spoken = sum(
        bool(re.search(r"\d{2,4}\s*(?:v\b|vac|[/-]\s*[13]\b|v?\s*[13]\s*ph)|[13]\s*[~]", text, re.IGNORECASE)) for text in texts
    ) / len(texts)
    powered = any(told.POWERED.search(text) for text in texts)
    if spoken >= 0.8 and not powered and profile.numeric() < 0.2 and fit("volts_v", profile) >= 0.8:
        found["volts_v"] = (0.5, 0.3, spoken, "", "")
    if sum(phase_word(text) for text in texts) == len(texts) >= LEAST_TAGGED:
        found["phases"] = (0.8, 0.5, 1.0, "", "")
    if (
        not column.text
        and sum(bool(TAG.match(text)) and not text.replace(".", "").isdigit() for text in texts) >= 0.8 * len(texts)
        and len(set(texts)) >= 0.6 * len(texts)
    ):
        found["tank"] = (0.46, 0.2, 0.9, "", "")
    return found


def _by_facts_in_cells(here: dict[str, tuple[float, float, float, str, str]], profile: Profile, counted: bool) -> None:
    """ "HEATERS" over "3 x 9 kW 480/3" and "(4) 6 kW, titanium": cells that say more than a count or a power describe the heaters, and so
    does "Installed power" over "3 x 6 kW" where no other column counts."""
    if profile.numeric() > 0:
        return
    if here.keys() & {"quantity", "bank"} and told.share_of_powers(profile) >= MOSTLY:  # "Elementen" over "3 x 6 kW"
        score, name, *_ = max(here.pop(key) for key in here.keys() & {"quantity", "bank"})
        here["description"] = max((score, name, 1.0, "", ""), here.get("description", (0.0, 0.0, 0.0, "", "")))
    powers = here.keys() & {"power_kw", "total_kw"}
    if powers and not counted and told.share_counted(profile) >= MOSTLY:
        score, name, good, *_ = max(here.pop(key) for key in powers)
        here["description"] = max((score, name, good, "", ""), here.get("description", (0.0, 0.0, 0.0, "", "")))


def _by_units_in_cells(here: dict[str, tuple[float, float, float, str, str]], profile: Profile) -> None:
    """Cells that nearly all say kW or W are powers, under whatever heading: "Capacity" over "6 kW"."""
    if not profile.filled or profile.numeric() > 0 or "power_kw" in here or "total_kw" in here or "description" in here:
        return
    if told.share_of_powers_alone(profile) >= MOSTLY:
        here["power_kw"] = (BY_NAME * PERHAPS + (1 - BY_NAME), PERHAPS, 1.0, "", "")


def _by_equipment(column: HeadingColumn, here: dict[str, tuple[float, float, float, str, str]], profile: Profile) -> None:
    """A column whose words name heaters and other equipment describes its rows, however it is headed."""
    if not profile.filled or profile.numeric() > 0.1 or "description" in here:
        return
    heaters = sum(heater_word(text) != "" or names_a_heater(text) for text in profile.texts)
    others = sum(other_equipment(text) != "" for text in profile.texts)
    if heaters >= 2 and heaters + others >= MOSTLY * profile.filled:
        here["description"] = (0.62, PERHAPS, 1.0, "", "")
        if not names_a_tank(column.text):  # "LOAD SERVED" over "HTR 12A - TANK TK-12"
            here.pop("tank", None)


def assign(
    columns: Sequence[HeadingColumn], seen: Mapping[int, Profile], hidden: Set[int] = NONE, rows: Sequence[Sequence[object]] = ()
) -> list[Taken]:
    """The best reading of all columns together, each with how sure it is. `rows`: of the table, to see what stands beside what."""
    table = scores(columns, seen, hidden)
    order = [column.index for column in columns]
    keys = [key for key in LIST.by_key if any(key in here for here in table.values())]
    worth = [
        [max(0.0, table[index].get(key, (0.0,))[0] - LEAST_SCORE + 1e-9) if key in table[index] else 0.0 for key in keys] for index in order
    ]
    best, total = solve(worth)
    texts = {column.index: column.text for column in columns}
    taken: list[Taken] = []
    for at, place in enumerate(best):
        if place < 0 or worth[at][place] <= 0:
            continue
        index, key = order[at], keys[place]
        _, name, good, unit, basis = table[index][key]
        instead, behind = _rival(worth, at, place, total, order)
        rival = (texts[instead] or f"column {letters(instead)}") if instead >= 0 else ""
        if instead >= 0 and behind <= NEAR and never_both(rows, index, instead):
            behind = 1.0  # labels of blocks, of which each has one or the other: what stands under the other is asked about by itself
            if seen[instead].filled > seen[index].filled:
                index = instead
                _, name, good, unit, basis = table[index][key]
        if instead >= 0 and behind <= NEAR and key == "volts_v" and mostly_alike(rows, index, instead):
            behind = 1.0  # rows in which the two differ are asked about one by one
        if instead >= 0 and behind <= NEAR and key == "tank" and _tags_beside_names(seen[index], seen[instead]):
            behind = 1.0  # under "Tank" both: "Ref." over T-1, and "Bath" over names
        if instead >= 0 and behind <= NEAR and _less_said(key, name, texts[index], table[instead][key][1], texts[instead]):
            behind = 1.0
        if instead >= 0 and behind <= NEAR and key == "description" and (most := told.says_more(seen, index, instead)) >= 0:
            behind, index = 1.0, most  # SHORT_TEXT over "HTR IMM 12KW 480V", beside LONG_TEXT over remarks
            _, name, good, unit, basis = table[index][key]
        sure = CERTAIN if name >= SURE_NAME and (good >= SURE_FIT or not seen[index].filled) and behind > NEAR else LIKELY
        sure = OPEN if behind <= NEAR and rival and not (key == "tank" and behind > NEAR_TAG) else sure
        if index in hidden and key in SIZED_WITH:  # nothing hidden wins without a word
            sure, rival, behind = OPEN, "none, for this column is hidden", 0.0
        taken.append(Taken(key, index, texts[index], unit, basis, sure, name, good, rival if behind <= NEAR else ""))
    taken = [_counted_twice(one, columns, table, seen) for one in taken]
    tank = next((one for one in taken if one.key == "tank"), None)
    if tank is None or not told_apart_by(next(column for column in columns if column.index == tank.index), seen[tank.index]):
        used = {one.index for one in taken if one.key not in FREE} | ({tank.index} if tank is not None else set())
        names = seen[tank.index] if tank is not None else None
        if (marks := column_of_marks([column for column in columns if column.index not in used | hidden], seen, names)) is not None:
            taken = [one for one in taken if one.index != marks.index and one is not tank]
            return [*taken, Taken("tank", marks.index, marks.text, "", "", LIKELY, 0.3, 1.0)]
    return taken if tank is not None else [*taken, *_untitled_tags(columns, seen, taken)]


def _counted_twice(one: Taken, columns: Sequence[HeadingColumn], table: Mapping[int, dict], seen: Mapping[int, Profile]) -> Taken:
    """Two columns that both count heaters, with other figures: installed and to buy, say. Which counts is asked."""
    if one.key != "quantity" or one.sure == OPEN:
        return one
    for column in columns:
        _, name, good, *_ = table[column.index].get("quantity", (0.0, 0.0, 0.0))
        if column.index != one.index and name >= SURE_RIVAL and good >= SURE_FIT and seen[column.index].texts != seen[one.index].texts:
            return replace(one, sure=OPEN, rival=column.text or f"column {column.index}")
    return one


def _untitled_tags(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile], taken: Sequence[Taken]) -> list[Taken]:
    """Without a column of tags: the one whose cells name tanks, or are tags; else the leftmost one without a heading, or of item numbers,
    whose cells tell the rows apart."""
    used = {one.index for one in taken}
    most = max((profile.filled for profile in seen.values()), default=0)
    free = [column for column in columns if column.index not in used and seen[column.index].filled >= max(2, MOSTLY * most)]
    for column in free:  # "Becken 12", "Becken 14", under whatever heading
        texts = seen[column.index].texts
        if sum(tank_named(text).by_word and tank_named(text).start == 0 for text in texts) >= MOSTLY * len(texts):
            return [Taken("tank", column.index, column.text, "", "", LIKELY, 0.3, 1.0)]
    for column in free:  # TK-0210, TK-0212, and a pump's tag among them
        if not column.meanings() and _share_of(TANK_TAG, seen[column.index].texts) >= MOSTLY:
            return [Taken("tank", column.index, column.text, "", "", LIKELY, 0.3, 0.9)]
    for column in free:  # under a heading that means nothing else
        texts = seen[column.index].texts
        if _of_figures_only(column) and len(set(texts)) == len(texts) and _share_of(UNKNOWN_TAG, texts) >= SURE_TAGS:
            return [Taken("tank", column.index, column.text, "", "", LIKELY, 0.3, 0.9)]
    for column in free:  # W9, W10 under "Nr", and one of them twice
        texts = seen[column.index].texts
        item = any(one.key == "item" and one.score >= LEAST_NAME for one in column.meanings())
        if item and len(texts) >= LEAST_TAGGED and all(UNKNOWN_TAG.fullmatch(text) for text in texts):
            return [Taken("tank", column.index, column.text, "", "", LIKELY, 0.3, 0.9)]
    for column in columns:
        profile = seen[column.index]
        item = any(one.key == "item" and one.score >= LEAST_NAME for one in column.meanings())
        if column.index in used or (column.text and not item) or profile.filled < 0.6 * most or profile.filled < 2:
            continue
        if len(set(profile.texts)) >= 0.9 * profile.filled and all(len(text) <= 24 for text in profile.texts):
            if item and _named_in_texts(taken, seen):
                return []  # "HTR IMM 12KW 480V TK-101": items 10, 20, 30 of what each text says
            if item and (running(profile) or not names_a_tank(column.text)):  # 3, 4, 8 under "Pos. vasca" are places of tanks
                return [Taken("tank", column.index, column.text, "", "", OPEN, 0.3, 0.9, "none, for these may be running numbers")]
            return [Taken("tank", column.index, column.text, "", "", LIKELY, 0.3, 0.9)]
    return []


def _named_in_texts(taken: Sequence[Taken], seen: Mapping[int, Profile]) -> bool:
    """Do the descriptions of heaters name their tanks, all but a few?"""
    told = next((one for one in taken if one.key == "description"), None)
    texts = [text for text in seen[told.index].texts if heater_word(text) or names_a_heater(text)] if told is not None else []
    return len(texts) >= LEAST_TAGGED and sum(tank_named(text).by_word for text in texts) >= MOSTLY * len(texts)


def _share_of(pattern: re.Pattern[str], texts: Sequence[str]) -> float:
    return sum(bool(pattern.fullmatch(text)) for text in texts) / max(1, len(texts))


def _of_figures_only(column: HeadingColumn) -> bool:
    """Does a heading mean nothing of ours, or only what figures say: "ID", an inside diameter, over WA-1 and WA-2?"""
    return all(one.key in LIST.by_key and LIST[one.key].kind != "text" for one in column.meanings()[:1])


def _rival(worth: list[list[float]], at: int, place: int, total: float, order: list[int]) -> tuple[int, float]:
    """The column that would be taken if this one were not (-1 = none), and how far that reading is behind."""
    without = [list(row) for row in worth]
    without[at][place] = 0.0
    other, second = solve(without)
    rows = enumerate(zip(order, other, strict=True))
    instead = next((index for row, (index, one) in rows if one == place and without[row][place] > 0), -1)
    return instead, total - second if instead >= 0 else 1.0


def _less_said(key: str, name: float, text: str, other_name: float, other_text: str) -> bool:
    """Does the rival's heading say less of it: a weaker name, or for a tank's tag none of the words for a tank?"""
    if key == "tank" and names_a_tank(text) != names_a_tank(other_text):
        return names_a_tank(text)
    if key == "power_kw" and bool(POWER_UNIT.search(text)) != bool(POWER_UNIT.search(other_text)):  # "kW" beside "P"
        return bool(POWER_UNIT.search(text)) and len(other_text) <= LONGEST_SIGN
    return name >= SURE_RIVAL and other_name < name - CLOSE_NAME
