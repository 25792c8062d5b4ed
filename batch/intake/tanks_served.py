"""Which column names the tanks, where descriptions, banners or a heater's mark say more of them than the column's heading does."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import pairwise

from msgspec.structs import replace

from batch.intake.assignment import FREE, LIKELY, MOSTLY, OF_STATIONS, SURE_NAME, Taken
from batch.intake.cell_profiles import Profile
from batch.intake.grid import worded
from batch.intake.heading_sense import TANK, names_a_heater, names_a_tank, sense
from batch.intake.list_columns import HEATER_MARK, TANK_TAG
from batch.intake.list_words import is_heater, meanings, names_a_place, total_word
from batch.intake.numbers import number_of
from batch.intake.plan import ListPlan
from batch.intake.survey import Region, cells_of, flat
from batch.intake.tank_in_title import tank_of_title
from batch.intake.tank_words import tank_named
from batch.intake.texts_beside import cell_of

_KIND = re.compile(r"([A-Za-z]{1,5})[-. _]?\d{1,5}[A-Za-z]?")
_IN_A_PLACE = re.compile(r"[A-Za-z]{1,5}\d{1,4}[-./][A-Za-z]{0,5}-?\d{1,4}[A-Za-z]?")  # "AL2-01", "PL2-T-101": a line and its tank
# Tags that are those of panels, halls and drawings: common practice, no source
NO_TANKS = frozenset({"mcc", "dp", "lp", "pp", "p", "pnl", "db", "tgbt", "uv", "hv", "nshv", "q", "dwg", "pid", "iso", "bldg", "hall"})
_EITHER = re.compile(r"postes?|partidas?|positions?|posizion[ei]|posten", re.IGNORECASE)  # of a line, or of a tank
OF_TAGS = re.compile(
    r"(?:tag|no|nr|n[°º]|ref|mark|id|code|pos|kenn\w*|rep[èe]re|c[óo]d\w*|sigla|oznacz\w*|symbol)\.?(?: ?no\.?)?", re.IGNORECASE
)
CLAUSES = re.compile(r"[.;,]\s+|\n")
LONGEST_CLAUSE = 10  # words of one that says as a heading does what the numbers are of: judgement, no source
_HUNDREDS = re.compile(r"[1-9]\d{2,3}")  # 101, 102: no number of a line
LEAST_KINDS = 2
LEAST_NAMED = 3  # rows in which a cell is a tank by its word: judgement, no source
LINE_AND_NUMBER = re.compile(r"\d{1,2}\.\d{1,2}")
LEAST_SERVED, LONGEST_TANK = 2, 6  # rows for that, and letters before the tag: judgement, no source
LEAST_SEVERAL = 2  # tanks with several lines each, for a word above them to tell tanks from tags: judgement, no source


def tanks_told(plan: ListPlan, around: Sequence[tuple[int, int, str]], region: Region, data: Sequence[int]) -> None:
    """What stands beside a list of the tanks of its rows: that numbers are of each, or the one tank of all."""
    counted_per_tank(plan, around)
    tank_of_title(plan, region, data)


def counted_per_tank(plan: ListPlan, around: Sequence[tuple[int, int, str]]) -> None:
    """ "Number of heaters is per tank", beside the table: of a row with several tanks too."""
    for row, column, text in around:
        for clause in CLAUSES.split(text):
            meant = sense(clause) if len(clause.split()) <= LONGEST_CLAUSE and not plan.quantity else None
            if meant is not None and meant.key == "quantity" and meant.basis == TANK:
                plan.quantity = TANK
                plan.why["quantity_of"] = f'"{clause[:80]}" in {cell_of(row, column)} says so'


def _tags_alone(taken: list[Taken], region: Region, seen: Mapping[int, Profile]) -> Taken | None:
    """A column of tags in a list that names its tanks nowhere else: "Tag" over "Bright nickel", or over "TK-4", marks the tanks."""
    bank = next((one for one in taken if one.key == "bank"), None)
    if not {"quantity", "description"} & {one.key for one in taken}:
        return None  # a list of types of heaters counts none
    if bank is None or names_a_heater(bank.text) or any(HEATER_MARK.fullmatch(text) for text in seen[bank.index].texts):
        return None
    alone = sum(len(cells_of(region.grid.rows[line], region.first, region.last)) == 1 for line in region.lines())
    told = next((one for one in taken if one.key == "description"), None)
    named = told is not None and any(tank_named(text).by_word for text in seen[told.index].texts)
    return None if alone > 1 or named else bank


def _runs_on(tank: Taken, seen: Mapping[int, Profile]) -> bool:
    """Was a column of running numbers taken for the tanks, under a heading that does not say tank?"""
    numbers = [number_of(cell) for cell in seen[tank.index].cells]
    return not names_a_tank(tank.text) and numbers == list(range(1, len(numbers) + 1))


def _named_by_word(tank: Taken, taken: Sequence[Taken], region: Region, seen: Mapping[int, Profile]) -> Taken | None:
    """Beside tags that differ in each row a column under a word for a tank, "Bath", in which several rows are of one: it names them."""
    tags = seen[tank.index].texts
    if names_a_tank(tank.text) or OF_STATIONS.fullmatch(tank.text.strip(" .:#")) or len(set(tags)) < len(tags):
        return None  # two stations with one bath are two tanks
    used = {one.index for one in taken if one.key not in ("item", "notes")}
    for column in region.columns:
        texts = seen[column.index].texts
        of_several = sum(texts.count(text) > 1 for text in set(texts))
        if 1 + sum(one != other for one, other in pairwise(texts)) > len(set(texts)):
            continue  # two baths of one name, apart from each other
        if column.index not in used and names_a_tank(column.text) and len(texts) == len(tags) and of_several >= LEAST_SEVERAL:
            return Taken("tank", column.index, column.text, "", "", LIKELY, SURE_NAME, 0.9)
    return None


def _said_in_cells(tank: Taken, taken: Sequence[Taken], region: Region, seen: Mapping[int, Profile]) -> Taken | None:
    """Beside names of baths, or running numbers, a column each of whose cells is a tank by its word, "Vana č. 1", or, beside running
    numbers, a place by line and number, "1.1", "1.2": those are the tanks, whatever stands above them."""
    own = [text for text in seen[tank.index].texts if not total_word(text)]
    if any(tank_named(text).by_word for text in own):
        return None
    used = {one.index for one in taken if one.key not in ("bank", "item", "description")}
    running = _runs_on(tank, seen) or [number_of(text) for text in own] == list(range(1, len(own) + 1))
    for column in region.columns:
        texts = [text for text in seen[column.index].texts if not total_word(text)]
        if column.index in used or len(texts) < max(LEAST_NAMED, len(own)) or len(set(texts)) < len(texts):
            continue
        by_word = all((said := tank_named(text)).by_word and said.start == 0 and said.end == len(text) for text in texts)
        if by_word or (running and all(LINE_AND_NUMBER.fullmatch(text) for text in texts)):
            return Taken("tank", column.index, column.text, "", "", LIKELY, 0.3, 1.0)
    return None


def tanks_described(taken: list[Taken], region: Region, seen: Mapping[int, Profile]) -> list[Taken]:
    """Where descriptions, or banners, name the tanks, a column of running numbers or of other tags does not."""
    tank = next((one for one in taken if one.key == "tank"), None)
    if tank is None and (placed := _placed_in_tanks(taken, region, seen)) is not None:
        return [*taken, placed]
    if tank is None and (tags := _tags_alone(taken, region, seen)) is not None:
        return [*(one for one in taken if one is not tags), replace(tags, key="tank", sure=LIKELY)]
    if tank is not None and (tags := _tags_alone(taken, region, seen)) is not None and _runs_on(tank, seen):
        return [*(one for one in taken if one not in (tank, tags)), replace(tags, key="tank", sure=LIKELY)]
    if tank is not None and (named := _named_by_word(tank, taken, region, seen)) is not None:
        return [*(one for one in taken if one is not tank and one.key != "bank"), replace(tank, key="bank", sure=LIKELY), named]
    if tank is not None and (tags := _tags_beside_names(tank, taken, region, seen)) is not None:
        return [*(one for one in taken if one.index not in (tank.index, tags.index)), tags]
    if tank is not None and (named := _said_in_cells(tank, taken, region, seen)) is not None:
        return [*(one for one in taken if one.index not in (tank.index, named.index)), named]
    if tank is None or names_a_tank(tank.text):
        return taken
    told = next((one for one in taken if one.key == "description"), None)
    if told is not None and _marks_beside_tanks(tank, told, region):
        return [*(one for one in taken if one is not tank and one.key != "bank"), replace(tank, key="bank", sure=LIKELY)]
    if (owner := _owner_of_assets(tank, taken, region, seen)) is not None:
        return [*(one for one in taken if one not in (tank, owner) and one.key != "bank"), replace(tank, key="bank", sure=LIKELY), owner]
    if (tags := _tags_of_tanks(tank, taken, region, seen)) is not None:
        others = [one for one in taken if one is not tank]
        return [*others, tags, *([] if any(one.key == "bank" for one in others) else [replace(tank, key="bank", sure=LIKELY)])]
    if told is None and _marks_of_heaters(seen[tank.index]) and (served := _naming_tanks(taken, region, seen)) is not None:
        others = [one for one in taken if one is not tank and one.key != "bank"]
        return [*others, replace(tank, key="bank", sure=LIKELY), served]
    texts = [text for text in seen[told.index].texts if is_heater(text) or names_a_heater(text)] if told is not None else []
    if told is not None and not texts:  # what they are of stands in a title: "heaters; the following:"
        texts = list(seen[told.index].texts)
    items = any(meaning.key == "item" for meaning in meanings(tank.text)) or _EITHER.fullmatch(tank.text.strip()) is not None
    weak = items and all(number_of(cell) is not None for cell in seen[tank.index].cells)  # of a bid form: its lines are numbered
    weak = weak or len(set(seen[tank.index].texts)) == 1  # one place of all
    described = sum(tank_named(text).by_word or (weak and tank_named(text).start == 0) for text in texts)
    rows = [cells_of(region.grid.rows[line], region.first, region.last) for line in region.lines()]
    alone = [cells for cells in rows if len(cells) == 1 or (len(cells) == 2 and worded(cells[0][1]).replace(".", "").isdigit())]
    banners = sum(tank_named(flat(cells[-1][1])).by_word for cells in alone if isinstance(cells[-1][1], str))
    if described < max(2, MOSTLY * len(texts)) and (banners < 2 or banners < MOSTLY * len(alone)):
        return taken
    others = [one for one in taken if one is not tank]
    if any(one.key == "bank" for one in others) or items:
        return others
    return [*others, replace(tank, key="bank", sure=LIKELY)]


def _placed_in_tanks(taken: Sequence[Taken], region: Region, seen: Mapping[int, Profile]) -> Taken | None:
    """In a register that names no tank, "LOCATION" over TK-31 in every row that says heater: that is where the heaters hang."""
    described = next((one.index for one in taken if one.key == "description"), -1)
    if described < 0:
        return None
    used = {one.index for one in taken}
    for column in region.columns:
        if column.index in used or not names_a_place(column.text):
            continue
        rows = [region.grid.rows[line] for line in region.lines() if len(region.grid.rows[line]) > max(column.index, described)]
        tags = [worded(row[column.index]).strip() for row in rows if is_heater(worded(row[described]))]
        if len(tags) >= LEAST_SERVED and all(map(TANK_TAG.fullmatch, tags)):
            return Taken("tank", column.index, column.text, "", "", LIKELY, 0.3, 1.0)
    return None


def _tags_of_tanks(tank: Taken, taken: Sequence[Taken], region: Region, seen: Mapping[int, Profile]) -> Taken | None:
    """A column under a heading that says nothing, whose tags say tank themselves (TK010), where those that were taken do not."""
    if any(TANK_TAG.fullmatch(text) for text in seen[tank.index].texts):
        return None
    used = {one.index for one in taken}
    for column in region.columns:
        texts = seen[column.index].texts
        named = sum(bool(TANK_TAG.fullmatch(text)) for text in texts)
        if column.index not in used and not column.meanings() and named >= max(LEAST_SERVED, MOSTLY * len(texts)):
            return Taken("tank", column.index, column.text, "", "", LIKELY, 0.3, named / len(texts))
    return None


def _tags_beside_names(tank: Taken, taken: Sequence[Taken], region: Region, seen: Mapping[int, Profile]) -> Taken | None:
    """Under "Bath" names, Degrease and Rinse, and beside them tags, B01 and B02, of which none is of a heater: the tags are the tanks'."""
    names = seen[tank.index].texts
    counted = next((one for one in taken if one.key in ("quantity", "description")), None)
    if counted is None or not names or any(_KIND.fullmatch(text) or _IN_A_PLACE.fullmatch(text) for text in names):
        return None
    used = {one.index for one in taken if one.key not in ("bank", "item")}
    for column in region.columns:
        texts = seen[column.index].texts
        plain = OF_TAGS.fullmatch(column.text.strip()) is not None and len(set(texts)) == len(texts) >= MOSTLY * len(names)
        again = any(one.key == "bank" and one.index == column.index for one in taken) and len(set(texts)) < len(texts)  # a tank's two banks
        plain = plain or (again and len(texts) >= len(names) and OF_TAGS.fullmatch(column.text.split()[-1]) is not None)
        tags = Counter(match[1].casefold() for text in texts if (match := _KIND.fullmatch(text)) is not None)
        alike = max(tags.values(), default=0) >= MOSTLY * len(texts)  # a pump's or a generator's tag among them is another's
        alike = alike or all(_HUNDREDS.fullmatch(text) for text in texts)  # a heater's tag would have letters
        if column.index not in used and plain and alike and not _marks_of_heaters(seen[column.index]):
            return Taken("tank", column.index, column.text, "", "", LIKELY, 0.3, 0.9)
    return None


def _marks_beside_tanks(tank: Taken, told: Taken, region: Region) -> bool:
    """Of the rows that say heater, is each tag a heater's mark, HE-211, and does each description name a tank, TK-211?"""
    rows = [region.grid.rows[line] for line in region.lines()]
    pairs = [(worded(row[tank.index]).strip(), worded(row[told.index])) for row in rows if max(tank.index, told.index) < len(row)]
    of_heaters = [(mark, text) for mark, text in pairs if is_heater(text) and mark]
    named = sum(bool(HEATER_MARK.fullmatch(mark)) and bool(tank_named(text).by_word) for mark, text in of_heaters)
    return len(of_heaters) >= LEAST_SERVED and named >= MOSTLY * len(of_heaters)


def _owner_of_assets(tank: Taken, taken: Sequence[Taken], region: Region, seen: Mapping[int, Profile]) -> Taken | None:
    """Codes of which each stands once, of several kinds (EL-1, PO-2, VE-3), are the equipment's; where another column has tags of one
    kind that come again, equipment of the same place, those are the tanks'."""
    own = _kinds(seen[tank.index].texts)
    if len(own) < LEAST_KINDS or _tagged_by_tanks(tank, taken, region) or len(set(seen[tank.index].texts)) < len(seen[tank.index].texts):
        return None
    used = {one.index for one in taken if one.key not in ("bank", "item")}
    for column in region.columns:
        texts = seen[column.index].texts
        kinds = _kinds(texts)
        again = len(set(texts)) < len(texts)
        whole = len(texts) >= max(LEAST_SERVED, MOSTLY * len(seen[tank.index].texts))
        if column.index in used or len(kinds) != 1 or kinds & own or kinds & NO_TANKS or not again or not whole:
            continue
        if any(names_a_place(text) for text in (*kinds, column.text)) and not all(TANK_TAG.fullmatch(text) for text in texts):
            continue  # "Line 1" is where it stands
        return Taken("tank", column.index, column.text, "", "", LIKELY, 0.3, 0.9)
    return None


def _tagged_by_tanks(tank: Taken, taken: Sequence[Taken], region: Region) -> bool:
    """Of the rows that say heater, is each tag a tank's, TK-2101, among PU-2101 and FN-2103 of other equipment?"""
    told = next((one for one in taken if one.key == "description"), None)
    rows = [region.grid.rows[line] for line in region.lines()] if told is not None else []
    at = told.index if told is not None else 0
    tags = [worded(row[tank.index]).strip() for row in rows if max(tank.index, at) < len(row) and is_heater(worded(row[at]))]
    return len(tags) >= LEAST_SERVED and all(TANK_TAG.fullmatch(tag) for tag in tags)


def _kinds(texts: Sequence[str]) -> set[str]:
    """The letters that tags begin with; none where some are no tags."""
    found = [_KIND.fullmatch(text) for text in texts]
    return {match[1].casefold() for match in found if match is not None} if found and all(found) else set()


def _marks_of_heaters(profile: Profile) -> bool:
    """EH-1, HTR-2: tags of heaters, as a schedule of equipment marks them, and not of the tanks they stand in."""
    return bool(profile.texts) and all(HEATER_MARK.fullmatch(text) for text in profile.texts)


def _naming_tanks(taken: Sequence[Taken], region: Region, seen: Mapping[int, Profile]) -> Taken | None:
    """A column that is nothing of ours yet and of which every cell begins with a tank's tag: "TK-101 alkaline clean"."""
    used = {one.index for one in taken if one.key not in FREE}
    for column in region.columns:
        texts = seen[column.index].texts
        if column.index not in used and len(texts) >= LEAST_SERVED and all(0 <= tank_named(text).start <= LONGEST_TANK for text in texts):
            return Taken("description", column.index, column.text, "", "", LIKELY, 0.3, 1.0)
    return None
