"""The values of one row of a list: its tanks, the power of each heater, and what is wrong with a cell that cannot be read."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence

from msgspec import Struct, field

from batch.counted_words import counted
from batch.findings import CATALOGUE, Remark, find, remark, word
from batch.intake.cells import Outcome
from batch.intake.columns import LEAST_POWER_KW, blank_means, defaulted
from batch.intake.facts import Fact, figure
from batch.intake.grid import shown, worded
from batch.intake.heading_sense import EACH, ROW, TANK, sense
from batch.intake.line_kinds import Line
from batch.intake.list_columns import LIST, MOST_POWER_KW, NEEDED
from batch.intake.list_words import basis_of, heater_word, hits
from batch.intake.study import Studied
from batch.intake.survey import flat
from batch.intake.table import Table
from batch.intake.tags import Tags, read_tags
from batch.intake.verdict import close
from batch.intake.vocabulary import vocabulary
from batch.sheets import HEATERS

LARGEST_USUAL_KW, FAR_ABOVE = 36.0, 5.0  # common practice, no source
OF_EACH_TANK = re.compile(  # "1 par cuve", "two per tank"
    r"(?<![\w.,])(?P<count>\d{1,2}|[^\W\d_]{3,6})\s+(?:per|par|pro|pr\.?|je|por|al|na|a)\s+\w+", re.IGNORECASE
)
EACH_WITH = re.compile(  # of tanks named before it: "each with four", "jeweils mit 4", "chacune avec 4"
    r"\b(?:each|both|jeweils|je|chacune?|cada un[ao]|ciascun[ao]|elk|ka[żz]d[aey]|cada uma?|hver|hvert|varje|vardera|ka[žz]d[áý])"
    r"\s+(?:with|having|has|have|fitted with|mit|avec|con|met|z|com|med|se?)\s+(?P<count>\d{1,2}|[^\W\d_]{2,9})(?![.,]?\d|\s*k?\s?[WV]\b)",
    re.IGNORECASE,
)
STROKE = re.compile(r"(\w{1,4})/\w{1,5}")
HYPHENED = re.compile(r"(?P<head>(?:[A-Za-z]{1,5}[-. ]?)?)(?P<low>\d{1,4}|(?<![A-Za-z])[A-Z])\s?[-–]\s?(?P<high>\d{1,4}|[A-Z])")
TO_OR_AND = re.compile(r"\d[A-Za-z]?\s+a\s+[^\W\d_]{0,5}[-. ]?\d")
OF_CZECH = re.compile(r"[ěřů]", re.IGNORECASE)  # letters that no other of the languages has
PLAIN = re.compile(r"(?P<head>(?:[A-Za-z]{1,5}[-. ]?)?)(?P<number>\d+|[A-Z])[A-Z]?")
OF_A_PLACE = re.compile(r"(?P<head>(?:[A-Za-z]{1,5}[-. ]?)?(?:\d{1,4}|[A-Z])\s?[-–])")
LEAST_OF_A_HEAD = 3  # tags that begin alike up to their stroke, for it to be part of the tag: judgement, no source
ASIDE = tuple(column.key for column in HEATERS.columns if column.key not in NEEDED)


class Settling(Struct):
    """Turns one studied list into a table."""

    one: Studied
    table: Table
    above: dict[str, list[int]] = field(default_factory=dict)
    spare: list[int] = field(default_factory=list)
    held: str = ""  # why no row of the table is sized
    plain_heads: set[tuple[str, bool]] | None = None  # what plain tags begin with, T- of T-104, and whether a number follows
    of_a_place: Counter[str] = field(default_factory=Counter)  # tags by what stands up to their hyphen: 2- of 2-104

    def say(self, said: Remark, index: int, number: int, seen: object = "", **who: str) -> None:
        cell = self.table.address(index, number) if number else ""
        self.table.findings.append(find(said, sheet=self.table.grid.name, cell=cell, seen=shown(seen), **who))


def tanks_of(work: Settling, line: Line, values: dict[str, object], reasons: list[str], who: Mapping[str, str]) -> list[tuple[str, int]]:
    """The tanks of the row and the heaters of each; [] where it is one tank."""
    fact = line.facts.get("tank")
    if fact is None:
        return []
    if fact.outcome is not None and fact.outcome.code == "tag-is-date":
        reasons.append("Tank: its tag was turned into a date")
        work.say(
            remark("tags-unsure", "tank", row=line.index + 1, why=f"the tag is a date in the file, {fact.value}"),
            fact.index,
            line.index + 1,
            **who,
        )
        return []
    text = fact.seen if fact.value is None else str(fact.value)
    named = work.one.plan.tags.get(flat(text).casefold())
    if named is not None and len(named) == 1:
        values["tank"] = named[0]
        return []
    if named is None and _numbered_by_stroke(work, text):
        values["tank"] = text
        return []
    several = Tags(named) if named is not None else read_tags(text)
    if named is None and _perhaps_a_run(work, text):
        several = Tags((text,), doubt=f'whether "{text}" is one tank or several is not sure')
    if named is None and len(several.tags) > 2 and _and_in_czech(work, line, text):
        several = Tags((text,), doubt=f'whether "{text}" is two tanks or those between them too is not sure')
    if several.doubt:
        reasons.append("Tank: not sure which tanks")
        work.say(remark("tags-unsure", "tank", row=line.index + 1, why=several.doubt), fact.index, line.index + 1, text, **who)
        return []
    if several.counts:
        return _counted_tanks(work, line, values, reasons, several=several, who=who)
    tags = several.tags if len(several.tags) > 1 else ()
    count = values.get("quantity")
    given = line.value("tanks")
    if not tags and (many := several.number or (int(given) if isinstance(given, (int, float)) else 1)) > 1:
        tags = tuple(f"{text} ({at})" for at in range(1, many + 1))
    if not tags:
        if fact.value is None and fact.outcome is not None:
            reasons.append(f"Tank: {CATALOGUE[fact.outcome.code].title.lower()}")
            work.say(remark(fact.outcome.code, "tank", **fact.outcome.fields), fact.index, line.index + 1, fact.seen, **who)
        return []
    values["tank"] = tags[0]
    return _in_each(work, line, values, reasons, tags=tags, who=who) if isinstance(count, int) else []


def _in_each(
    work: Settling, line: Line, values: dict[str, object], reasons: list[str], *, tags: Sequence[str], who: Mapping[str, str]
) -> list[tuple[str, int]]:
    """The tanks of a row, and the number of heaters in each; [] where that is not said, or cannot be."""
    plan, number, fact = work.one.plan, line.index + 1, line.facts["tank"]
    count, text = int(str(values["quantity"])), fact.seen if fact.value is None else str(fact.value)
    meant, why = _shared(work, line, len(tags), count)
    if not meant or (meant == ROW and count % len(tags)):
        said = remark("tanks-question", "tank", row=number, tanks=len(tags), count=count)
        if meant:
            uneven = f"{counted(count, 'heater')} cannot be the same number in each of {len(tags)} tanks ({why})"
            said = remark("tags-unsure", "tank", row=number, why=uneven)
        all_of_them = " ".join(text.split())  # all are left out, so none is to go by the name of the first
        work.say(said, fact.index, number, text, **{**who, "tank": all_of_them})
        reasons.append("Tank: several tanks, and how many heaters in each is not said")
        values["tank"] = all_of_them
        return []
    each = count if meant == TANK else count // len(tags)
    said = remark("tanks-in-row", "tank", row=number, tanks=", ".join(tags[:8]) + (" …" if len(tags) > 8 else ""), count=each, why=why)
    work.say(said, plan.columns["tank"].index if "tank" in plan.columns else fact.index, number, text, **who)
    values["_tanks"], values["_each"] = len(tags), each
    return [(tag, each) for tag in tags]


def _counted_tanks(
    work: Settling, line: Line, values: dict[str, object], reasons: list[str], *, several: Tags, who: Mapping[str, str]
) -> list[tuple[str, int]]:
    """The tanks of a cell that says how many heaters are in each, held against the number of the row."""
    count, fact = values.get("quantity"), line.facts["tank"]
    total = sum(several.counts)
    alike = set(several.counts)
    if len(several.tags) == 1 and count != total:  # "T-140 (2)" may be a second tank of that tag
        values["tank"] = fact.seen
        return []
    if len(alike) > 1 and (line.facts.get("power_kw") is None or (line.facts["power_kw"].basis or work.one.plan.power or EACH) != EACH):
        reasons.append("Power: of each of its tanks, or of all of them, is not said")
        return []
    if count is not None and count != total and alike != {count}:
        reasons.append("Quantity: not those of its tanks")
        heaters = counted(total, "heater")
        why = f'"{fact.seen}" is {heaters}, and the row says {count}'
        work.say(remark("row-disagrees", "quantity", row=line.index + 1, why=why), fact.index, line.index + 1, fact.seen, **who)
        return []
    tanks = ", ".join(several.tags[:8]) + (" …" if len(several.tags) > 8 else "")
    each = ", ".join(f"{one:g}" for one in several.counts)
    said = remark("tanks-in-row", "tank", row=line.index + 1, tanks=tanks, count=each, why=f'"{fact.seen}" says so')
    work.say(said, fact.index, line.index + 1, fact.seen, **who)
    values["tank"], values["quantity"] = several.tags[0], several.counts[0]
    values["_tanks"], values["_each"] = len(several.tags), several.counts[0]
    return list(zip(several.tags, several.counts, strict=True))


def _numbered_by_stroke(work: Settling, text: str) -> bool:
    """Is a tag such as 3/04 one tank of line 3, and not two tanks: do other tags of the list begin with the same?"""
    match = STROKE.fullmatch(text.strip())
    if match is None:
        return False
    heads = {tag.strip() for line in work.one.lines if isinstance(tag := line.value("tank"), str) and STROKE.fullmatch(tag.strip())}
    return sum(tag.rpartition("/")[0] == match[1] for tag in heads) >= LEAST_OF_A_HEAD


def _and_in_czech(work: Settling, line: Line, text: str) -> bool:
    """Is a run of tanks told by "a", in a list with letters of Czech alone? There "V1 a V3" are two, in Italian and Spanish three."""
    said = (text, *(value for _, value in line.cells if isinstance(value, str)))
    if not any(TO_OR_AND.search(one) for one in said):
        return False
    return any(OF_CZECH.search(value) for row in work.one.grid.rows for value in row if isinstance(value, str))


def _perhaps_a_run(work: Settling, text: str) -> bool:
    """Could T-101-103 be three tanks: rising numbers, in a list whose other tags are plain, T-104, and none begins alike?"""
    match = HYPHENED.fullmatch(text.strip())
    if match is None:
        return False
    low, high, head = match["low"], match["high"], match["head"]
    if len(high) < len(low) or low.isdecimal() != high.isdecimal() or not (int(low) < int(high) if low.isdecimal() else low < high):
        return False
    if work.plain_heads is None:
        tags = {worded(tag).strip() for line in work.one.lines if (tag := line.value("tank")) is not None}
        plain = [found for tag in tags if (found := PLAIN.fullmatch(tag)) is not None]
        work.plain_heads = {(found["head"], found["number"].isdecimal()) for found in plain}
        work.of_a_place = Counter(found["head"] for tag in tags if (found := OF_A_PLACE.match(tag)) is not None)
    return (head, low.isdecimal()) in work.plain_heads and work.of_a_place[match[0].removesuffix(high)] == 1


def _shared(work: Settling, line: Line, tanks: int, count: int) -> tuple[str, str]:
    """Are a row's heaters in each of its tanks, or in all together? By the plan, the heading, or the total of the row."""
    plan = work.one.plan
    if plan.quantity:
        return plan.quantity, plan.why.get("quantity_of", "the map says so")
    column = plan.columns.get("quantity")
    for _, value in line.cells:
        for said in OF_EACH_TANK.finditer(value) if isinstance(value, str) else ():
            each = int(said["count"]) if said["count"].isdecimal() else vocabulary().number(said["count"])
            if not each or not any(hit.start <= len(said["count"]) + 3 for hit in hits("per_tank", said[0])):
                continue
            if each * tanks == count:
                return ROW, f'"{said[0].strip()}" says so'
            if each == count:
                return TANK, f'"{said[0].strip()}" says so'
    if (basis := line.facts["quantity"].basis) in (TANK, ROW):
        return basis, f'"{line.facts["quantity"].seen}" says so'
    if words := _each_with(line, count):
        return TANK, f'"{words}" says so'
    theirs = column.heading if column is not None else ""
    heading = theirs.casefold()
    if "tank" in heading or "bath" in heading or "/t" in heading or ((meant := sense(theirs)) is not None and meant.basis == TANK):
        return TANK, f'its heading "{theirs}" says so'
    total, power = line.value("total_kw"), line.value("power_kw")
    if isinstance(total, (int, float)) and isinstance(power, (int, float)):
        if close(total, tanks * count * power) and not close(total, count * power):
            return TANK, f"the total of the row, {total:g} kW, is that of {tanks} times {count}"
        if close(total, count * power) and count % tanks == 0:
            return ROW, f"the total of the row, {total:g} kW, is that of {counted(count, 'heater')}"
    return "", ""


def _each_with(line: Line, count: int) -> str:
    """ "Tanks 5 and 6, each with four 6 kW heaters": the words by which the number is that of each tank; "" where there are none."""
    told = line.facts.get("description")
    text = told.value if told is not None and isinstance(told.value, str) else ""
    for match in EACH_WITH.finditer(text):
        word = match["count"].casefold()
        if heater_word(text[match.end() :]) and (int(word) if word.isdecimal() else vocabulary().number(word)) == count:
            return match[0].strip()
    return ""


def power_of(
    work: Settling, line: Line, values: dict[str, object], *, reasons: list[str], tags: Sequence[tuple[str, int]], who: Mapping[str, str]
) -> None:
    """The power of each heater, from what the column is of."""
    plan, number = work.one.plan, line.index + 1
    each = values.pop("_each", None)
    several = values.pop("_tanks", 1)
    tanks = several if isinstance(several, int) else 1
    source = line.facts.get("power_kw")
    total = line.facts.get("total_kw")
    count = each if each is not None else values.get("quantity")
    used = source
    if source is not None and source.value is not None:
        own = work.one.verdict.of_rows.get(line.index)
        basis = source.basis or (own[0] if own else plan.power or EACH)
        if basis != EACH:
            stated = figure(source.value)
            if stated is None or not isinstance(count, int) or not count:
                values.pop("power_kw", None)
                return
            values["power_kw"] = _divided(stated, count * (tanks if basis == ROW else 1))
    elif total is not None and total.value is not None and (source is None or not source.fault):
        used = total
        stated = figure(total.value)
        if stated is None or not isinstance(count, int) or not count:
            return
        if tanks > 1 and plan.power != ROW and not _of_each_tank(work):
            reasons.append("Power: of each of its tanks, or of all of them, is not said")
            why = f"whether the {total.seen} are of each of its {tanks} tanks, or of all of them, is not said"
            work.say(remark("tags-unsure", "tank", row=number, why=why), total.index, number, total.seen, **who)
            values.pop("power_kw", None)
            return
        over = tanks if plan.power == ROW or (tanks > 1 and plan.quantity == ROW) else 1
        values["power_kw"] = stated if total.basis == EACH else _divided(stated, count * over)  # "9 ea" below "Total kW"
    elif total is not None and total.fault and source is None:
        faulty(work, line, "power_kw", total, reasons=reasons, who=who)
    power = figure(values.get("power_kw"))
    if power is None or used is None:
        return
    if used.foreign:
        if not _surely_heater(work, line) or _in_kilowatts(work):
            reasons.append("Power: in a unit that heaters are rarely given in")
            work.say(remark("unit-foreign", "power_kw", row=number, unit=used.foreign), used.index, number, used.seen, **who)
            return
        work.say(
            remark("unit-converted", "power_kw", row=number, value=f"{used.seen} {used.foreign}", read=f"{used.value:g}"),
            used.index,
            number,
            used.seen,
            **who,
        )
    if power > MOST_POWER_KW or power < LEAST_POWER_KW or _beyond(work, power):
        reasons.append("Power: out of reason")
        work.say(
            remark("value-unlikely", "power_kw", column="Power", value=f"{power:g} kW of one heater"), used.index, number, used.seen, **who
        )


def _of_each_tank(work: Settling) -> bool:
    """Does the heading of the totals say that they are each tank's, or a map?"""
    column = work.one.plan.columns.get("total_kw")
    said = sense(column.heading) if column is not None else None
    return work.one.plan.given or (said is not None and said.basis == TANK) or (column is not None and basis_of(column.heading) == TANK)


def _beyond(work: Settling, power: float) -> bool:
    """Is the power far above every other of the list, and above what one heater usually has: a slip of the decimal mark?"""
    if power <= LARGEST_USUAL_KW:
        return False
    others = sorted(float(value) for line in work.one.lines if isinstance(value := line.value("power_kw"), float) and value != power)
    return len(others) >= 2 and power >= FAR_ABOVE * others[len(others) // 2]


def _divided(total: float, count: int) -> float:
    return float(f"{total / count:.12g}")


OF_WATTS = re.compile(r"(?<!\w)(?:k\s?W|W|kilowatts?|watts?)(?!\w)", re.IGNORECASE)


def _in_kilowatts(work: Settling) -> bool:
    """Does the heading of the powers say kW or W, so that a figure in another unit is not what it asks for?"""
    column = work.one.plan.columns.get("power_kw")
    return column is not None and OF_WATTS.search(column.heading) is not None


def _surely_heater(work: Settling, line: Line) -> bool:
    if any(heater_word(flat(value)) for _, value in line.cells if isinstance(value, str)):
        return True
    plan = work.one.plan
    return any(heater_word(column.heading) for key, column in plan.columns.items() if key in ("power_kw", "total_kw", "quantity"))


def faulty(work: Settling, line: Line, key: str, fact: Fact, *, reasons: list[str], who: Mapping[str, str]) -> None:
    """A cell that cannot be read: it takes its row out where the row is sized with it, and is set aside elsewhere."""
    number = line.index + 1
    outcome: Outcome | None = fact.outcome
    heading = LIST[key].heading
    if outcome is not None and not outcome.fault:
        return
    if fact.fault == "mark-odd":
        said = remark("mark-odd", key, column=heading, why=fact.doubt)
    elif fact.fault in ("count-unsure", "supply-unsure"):
        said = remark(fact.fault, key, why=fact.doubt)
    elif fact.fault == "unit-blank":
        said = remark("unit-blank", key, value=fact.seen)
    elif fact.fault == "value-unlikely":
        said = remark("value-unlikely", key, column=heading, value=fact.doubt)
    elif outcome is not None:
        said = remark(outcome.code, key, **{"column": heading, **dict(outcome.fields)})
    elif fact.fault == "cell-contradicts":
        one, _, other = fact.doubt.partition(" and ")
        said = remark("cell-contradicts", key, column=heading, one=one, other=other)
    else:
        said = remark("cell-not-number", key, column=heading, value=fact.seen, such=LIST[key].unit or "plain figures")
    if key in defaulted(HEATERS):
        work.say(remark("cell-taken-as-blank", key, fault=word(said), blank=blank_means(LIST[key])), fact.index, number, fact.seen, **who)
        return
    if key in ASIDE or key == "tanks":
        work.say(remark("cell-set-aside", key, fault=word(said)), fact.index, number, fact.seen, **who)
        return
    if key == "tank" and said.code == "tags-in-one-cell":
        return  # taken apart by `_tags`
    reasons.append(f"{heading}: {CATALOGUE[said.code].title.lower()}")
    work.say(said, fact.index, number, fact.seen, **who)
