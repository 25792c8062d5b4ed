"""The rows of a customer's list as a table of the job: what each became, and what there is to say of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from batch.counted_words import in_quotes
from batch.findings import CATALOGUE, find, remark
from batch.intake.assignment import CERTAIN
from batch.intake.cells import OPEN
from batch.intake.columns_told import say_counts_not_read, say_taken
from batch.intake.facts import Fact, figure
from batch.intake.grid import shown, worded
from batch.intake.head import Head
from batch.intake.heading_sense import EACH, ROW, TANK
from batch.intake.headings import Heading
from batch.intake.line_kinds import AGAIN, BANNER, DATA, DOUBT, HIDDEN, NOTE, OTHER, OUT, SPARE, TOTAL, UNHEATED, UNITS, Line, by_itself
from batch.intake.list_columns import LIST, MOST_VOLTS, NEEDED
from batch.intake.list_values import Settling, faulty, power_of, tanks_of
from batch.intake.list_words import says_no_heat
from batch.intake.loads_beside import power_as_written, power_of_one, say_loads_beside
from batch.intake.map_text import when_text
from batch.intake.places_of_heaters import without_places
from batch.intake.plan import Question
from batch.intake.remark_words import plain_remark
from batch.intake.single_rows_told import row_key, say_changes_of_rows, say_supply_of_rows
from batch.intake.study import Studied
from batch.intake.survey import flat
from batch.intake.table import AGAIN as AGAIN_FATE
from batch.intake.table import BANNER_ROW, EMPTY_FORM, NOT_A_HEATER, TAKEN_OUT, WITHOUT_HEATERS, Row, Table, rows_from, rows_worded
from batch.intake.table import NOTE as NOTE_FATE
from batch.intake.table import TOTAL as TOTAL_FATE
from batch.intake.table import UNIT_ROW as UNIT_FATE
from batch.intake.tags_and_names import said_of_names
from batch.intake.turned import address_of
from batch.intake.verdict import close
from batch.intake.what_is_open import said_in_doubt
from batch.ooxml.addresses import letters
from batch.received_rows import StatedTotal
from batch.sheets import HEATERS

LONGEST_REMARK, MOST_REMARKS = 60, 12  # letters of a remark, and remarks, that are quoted
ASIDE = tuple(column.key for column in HEATERS.columns if column.key not in NEEDED)
WHOSE = {EACH: "each heater", TANK: "all heaters of the tank", ROW: "all heaters of the row"}
SAID = {EACH: "each", TANK: "per tank", ROW: "total"}
MOST_VOLTS_OF_ONE = 600.0  # above it one phase is a slip, 690 for 230: common practice, no source
TO_NEUTRAL = {277.0: 480, 347.0: 600}  # of wyes whose lines have the other volts: ANSI C84.1, from memory
LEAST_VOLTS_OF_THREE = 100.0  # below it three phases are a slip of a digit, 48 for 480: common practice, no source
QUIET = frozenset({"cell-placeholder-blank", "tag-of-several"})


def settle(one: Studied, held: str = "") -> Table:
    """The table of a heater list: rows that can be sized, and a fate for every other. `held`: why none of it is sized, already said."""
    plan = one.plan
    headings = _headings(one)
    by_key: dict[str, tuple[Heading, ...]] = {heading.key: (heading,) for heading in headings if heading.key in HEATERS.by_key}
    row = plan.heading_row - 1
    head = Head(row, headings, False, by_key, max(1, len(plan.heading_rows)))
    table = Table(HEATERS, one.grid, head, list_plan=plan)
    table.columns = {key: letters(column.index) for key, column in plan.columns.items() if key in HEATERS.by_key}
    if plan.turned:
        _place(table, one)
    work = Settling(one, table, held=held)
    if not held:
        _say_columns(work)
        _ask(work)
    rows = (line for line in one.lines if line.kind in (DATA, HIDDEN, OUT, OTHER) or (line.kind == DOUBT and len(line.cells) > 1))
    last = max((line.index for line in rows), default=-1)  # a sentence in doubt below a list, "Add T-9, 9 kW", is no row that one heads
    for line in one.lines:
        if line.kind == BANNER and line.index > last:
            line.kind = NOTE  # no rows stand below it whose heading it could be
        _line(work, line)
    _say_rest(work)
    if table.refused:  # of several banks in a row one that is not sized takes the others with it
        table.rows = [row for row in table.rows if row.number not in table.refused]
    if not held:
        _compare_totals(work)
        say_loads_beside(work)
    if not plan.given:  # who writes a map has read them
        _say_remarks(work)
    return table


def _say_remarks(work: Settling) -> None:
    """What the remarks of sized rows say that no rule understands, once a table: one of them may take its row out."""
    columns = {column.index for key, column in work.one.plan.columns.items() if key in ("notes", "status")}
    sized = {row.number for row in work.table.rows}
    found: dict[str, list[int]] = {}
    for line in work.one.lines:
        for at, value in line.cells if line.index + 1 in sized and line.aside is None else ():
            text = flat(value) if at in columns and isinstance(value, str) else ""
            if text and not plain_remark(without_places(text, line.figure("quantity"))):
                rows = found.setdefault(text[:LONGEST_REMARK], [])
                rows += [line.index + 1] if line.index + 1 not in rows else []
    if found:
        said = [f"{in_quotes(text)} ({rows_worded(rows)})" for text, rows in found.items()]
        more = f"; and {len(said) - MOST_REMARKS} more" if len(said) > MOST_REMARKS else ""
        first = next(iter(found.values()))[0]
        quoted = "; ".join(said[:MOST_REMARKS]) + more
        work.say(remark("remarks-not-understood", sheet=work.table.grid.name, remarks=quoted), min(columns), first)


def _place(table: Table, one: Studied) -> None:
    """The real address of every value of a turned list, or of blocks of labels."""
    plan = one.plan
    for line in one.lines:
        number = line.index + 1
        cells = one.places.get(number) or {index: address_of(index, number) for index in range(plan.first, plan.last + 1)}
        found = {key: cells[column.index] for key, column in plan.columns.items() if column.index in cells}
        table.places[number] = found | {str(index): cell for index, cell in cells.items()}


def _compare_totals(work: Settling) -> None:
    """The totals that the list states, against what was read of the rows above them."""
    one, table = work.one, work.table
    source = one.plan.columns.get("total_kw") or one.plan.columns.get("power_kw")
    by_row: dict[int, float] = {}
    for row in table.rows:
        power = (figure(row.values["quantity"]) or 0.0) * (figure(row.values["power_kw"]) or 0.0)
        by_row[row.number] = by_row.get(row.number, 0.0) + power
    since = every = 0.0
    beside: list[Line] = []  # rows since the last total that are not sized, though their power is known
    for line in one.lines:
        power = by_row.pop(line.index + 1, 0.0)
        since, every = since + power, every + power
        if not power and line.kind in (DATA, DOUBT, OUT, OTHER):
            beside.append(line)
        fact = line.facts.get("total_kw") or line.facts.get("power_kw")
        if line.kind != TOTAL or source is None:
            continue
        if fact is not None and isinstance(stated := fact.value, float) and every:
            cell = table.address(fact.index, line.index + 1)
            agrees = close(stated, since) or close(stated, every)
            read = since if close(stated, since) or abs(stated - since) <= abs(stated - every) else every
            table.stated.append(StatedTotal(table.grid.name, cell, stated, float(f"{read:.9g}")))
            code = "total-agrees" if agrees else "total-differs"
            with_all = _with_rows_not_sized(beside, one.plan.power, stated, since)
            fields = {"sheet": table.grid.name, "cell": cell, "stated": f"{stated:g}", "read": f"{read:g} kW{with_all}"}
            said = remark(code, "power_kw", **(fields if not agrees else {key: fields[key] for key in ("sheet", "cell", "stated")}))
            table.findings.append(find(said, sheet=table.grid.name, cell=cell))
        since, beside = 0.0, []


def _with_rows_not_sized(lines: Sequence[Line], power_of_what: str, stated: float, read: float) -> str:
    """ ", and with rows 9 and 10, which are not sized, to that total": where just these make up the difference; else "". """
    powers = {line.index + 1: power for line in lines if (power := power_as_written(line, power_of_what))}
    if not powers or not close(stated, read + sum(powers.values())):
        return ""
    which = "which is" if len(powers) == 1 else "which are"
    return f", and with {rows_worded(list(powers))}, {which} not sized, to that total"


def _headings(one: Studied) -> tuple[Heading, ...]:
    plan = one.plan
    texts = {column.index: column.text for column in one.region.columns} if one.region is not None else {}
    keys = {column.index: key for key, column in plan.columns.items() if key in HEATERS.by_key}
    row = one.grid.rows[plan.heading_row - 1] if 0 < plan.heading_row <= len(one.grid.rows) else []
    return tuple(
        Heading(texts.get(index) or (flat(row[index]) if index < len(row) else ""), index, keys.get(index, ""))
        for index in range(plan.first, plan.last + 1)
    )


def _say_columns(work: Settling) -> None:
    one, plan, table = work.one, work.one.plan, work.table
    sheet = table.grid.name
    where = {"sheet": sheet, "cell": table.address(plan.first, plan.heading_row or 1)}
    rows = rows_from(plan.first_row, plan.last_row)
    if not plan.given:
        table.findings.append(find(remark("list-read", sheet=sheet, rows=rows, why=one.why), **where))
    say_taken(one, table)
    if plan.names:
        table.findings.append(said_of_names(plan.names, sheet, table.address(plan.columns["tank"].index, plan.heading_row or 1)))
    say_counts_not_read(one, table)
    source = plan.columns.get("power_kw") or plan.columns.get("total_kw")
    if plan.power and one.verdict.sure != CERTAIN and source is not None and one.verdict.said and not plan.given:
        said = remark(
            "power-taken",
            "power_kw",
            sheet=sheet,
            heading=source.heading,
            whose=WHOSE[plan.power],
            why="; ".join(one.verdict.said[:3]),
            other=SAID[TANK if plan.power == EACH else EACH],
        )
        table.findings.append(find(said, sheet=sheet, cell=table.address(source.index, plan.heading_row or 1)))
    for key, value in plan.fixed.items():
        if not plan.given:
            fields = {"column": LIST[key].heading, "value": worded(value), "line": f"{LIST[key].heading} = {worded(value)}"}
            said = remark("supply-from-words", key, sheet=sheet, why=plan.why.get(f"fixed.{key}", ""), **fields)
            table.findings.append(find(said, **where))
    for when in plan.when:
        if not plan.given:
            others = ", ".join(f"{LIST[key].heading} = {worded(value)}" for key, value in when.others)
            heading, line = LIST[when.key].heading, f"{LIST[when.key].heading} = {when_text([when])}"
            fields = {"column": heading, "value": f"{worded(when.value)} with {others}", "why": when.why, "line": line}
            table.findings.append(find(remark("supply-from-words", when.key, sheet=sheet, **fields), **where))
    say_supply_of_rows(work, where)
    say_changes_of_rows(work)


def _ask(work: Settling) -> None:
    one, table = work.one, work.table
    for question in one.plan.questions:
        rows = rows_worded(list(question.rows) or [line.index + 1 for line in one.lines if line.kind == DATA] or [one.plan.first_row])
        said = remark(
            "list-question",
            question.about,
            sheet=table.grid.name,
            what=question.what,
            one=question.one,
            other=question.other,
            line=question.line,
            rows=rows,
        )
        table.findings.append(find(said, sheet=table.grid.name, cell=question.cell))


def _asked(work: Settling, line: Line) -> Question | None:
    number = line.index + 1
    for question in work.one.plan.questions:
        told = (line.value("quantity") or 0) == 1 or line.index in work.one.verdict.of_rows or line.index in work.one.verdict.odd_rows
        if question.about == "power_kw" and question.line.startswith("power") and told:
            continue  # of one heater both readings are the same, and some rows say it themselves
        if not question.rows or number in question.rows:
            return question
    return None


def _line(work: Settling, line: Line) -> None:
    table, number = work.table, line.index + 1
    who = {key: worded(fact.value) for key, fact in line.facts.items() if key in ("tank", "bank", "feeder") and fact.value is not None}
    if "tank" in who and (line.kind == OUT or (line.kind == UNHEATED and _says_no_heat(line))):
        table.gone[number] = who["tank"]
    if line.kind == AGAIN:
        table.refused[number] = AGAIN_FATE
        work.say(remark("row-headings-again", row=number), line.cells[0][0] if line.cells else 0, number)
    elif line.kind == UNITS:
        table.refused[number] = UNIT_FATE
    elif line.kind == TOTAL:
        table.refused[number] = TOTAL_FATE
        work.say(remark("row-total", row=number, value=shown(line.text)), line.at, number, line.text)
    elif line.kind == BANNER:
        table.refused[number] = BANNER_ROW
        work.say(remark("row-banner", row=number, value=shown(line.text)), line.at, number, line.text)
    elif line.kind == NOTE:
        table.refused[number] = NOTE_FATE
    elif line.kind == OUT:
        table.refused[number] = TAKEN_OUT
        work.say(remark("row-taken-out", row=number, why=line.why, line=row_key(work, number)), line.at, number, line.text, **who)
    elif line.kind == OTHER:
        table.refused[number] = NOT_A_HEATER
        work.say(remark("row-not-heater", row=number, why=line.why), line.at, number, line.text, **who)
    elif line.kind == UNHEATED:
        table.refused[number] = WITHOUT_HEATERS
        work.say(remark("row-unheated", row=number), line.cells[0][0], number, **who)
    elif line.kind == SPARE:
        table.refused[number] = EMPTY_FORM
        work.spare.append(number)
    elif work.held:
        _refuse(work, line, work.held, who)
    elif (left := work.one.plan.left_open.get(number)) is not None:
        work.say(remark("row-still-open", row=number, why=left.why), line.at, number, line.text, **who)
        _refuse(work, line, left.why, who, left.read)
    elif line.kind == DOUBT:
        work.say(said_in_doubt(line, work.one.plan, number, row_key(work, number)), line.at, number, line.text, **who)
        _refuse(work, line, f"in doubt: {by_itself(line.why)}", who)
    elif line.kind == HIDDEN:
        work.say(remark("row-hidden", row=number, line=row_key(work, number)), line.cells[0][0], number, **who)
        _refuse(work, line, "the row is hidden", who)
    else:
        _data(work, line, who)


def _says_no_heat(line: Line) -> bool:
    """Does a row's own word say that its tank has no electric heat, "none" or "steam", where others are blank or say "electric"?"""
    told = line.facts.get("description")
    return told is not None and says_no_heat(told.seen)


def _odd_of_three(volts: float) -> bool:
    return volts < LEAST_VOLTS_OF_THREE or volts in TO_NEUTRAL


def _refuse(work: Settling, line: Line, why: str, who: Mapping[str, str], values: Mapping[str, object] | None = None) -> None:
    """Refuses a row. `values` where they are settled; else its cells tell what it holds, its power where that is known to be of each."""
    number = line.index + 1
    work.table.refused[number] = why
    work.table.named[number] = dict(who)
    if values is None:
        facts = ((key, fact.value) for key, fact in line.facts.items() if key in HEATERS.by_key and key != "power_kw")
        values = {key: value for key, value in facts if value is not None}
        if (each := power_of_one(line, work.one.plan.power)) is not None:
            values["power_kw"] = each
    work.table.read_of[number] = dict(values)


def _data(work: Settling, line: Line, who: dict[str, str]) -> None:
    """A heater row: its values, or why it is not sized."""
    table, number, plan = work.table, line.index + 1, work.one.plan
    if question := _asked(work, line):
        _refuse(work, line, f"asked: {question.what[0].lower()}{question.what[1:]}"[:200], who)
        return
    reasons: list[str] = []
    values: dict[str, object] = {}
    if line.aside is not None:
        at, text, why = line.aside
        work.say(remark("remark-aside", row=number, value=shown(text), why=why, line=row_key(work, number)), at, number, text, **who)
    for key, fact in line.facts.items():
        if key not in HEATERS.by_key and key != "tanks":
            continue
        if fact.value is not None:
            if key in HEATERS.by_key:
                values[key] = fact.value
            _noted(work, line, key, fact, who)
        elif fact.fault or fact.outcome is not None:
            faulty(work, line, key, fact, reasons=reasons, who=who)
    if number - 1 in work.one.verdict.odd_rows:
        why = work.one.verdict.odd_rows[number - 1]
        odd = plan.columns.get("power_kw") or plan.columns.get("total_kw") or plan.columns.get("amps_a")
        work.say(remark("row-disagrees", "power_kw", row=number, why=why), odd.index if odd else plan.first, number, **who)
        reasons.append("disagrees with itself")
    volts, phases = figure(values.get("volts_v")), values.get("phases")
    odd_pair = volts is not None and ((_odd_of_three(volts) and phases == 3) or (volts > MOST_VOLTS_OF_ONE and phases == 1))
    if volts is not None and (odd_pair or (volts > MOST_VOLTS and not plan.given)):  # of a banner or a title too
        fact = line.facts["volts_v"]
        reasons.append("Volts: out of reason")
        value = f"{volts:g} V on {phases:g} phase{'s' if phases == 3 else ''}" if odd_pair else f"{volts:g} V"
        value += f", the volts to neutral of {TO_NEUTRAL[volts]} V," if odd_pair and volts in TO_NEUTRAL else ""
        work.say(remark("value-unlikely", "volts_v", column=LIST["volts_v"].heading, value=value), fact.index, number, fact.seen, **who)
    tags = tanks_of(work, line, values, reasons, who)
    power_of(work, line, values, reasons=reasons, tags=tags, who=who)
    for key in NEEDED:
        if key not in values and not any(reason.startswith(LIST[key].heading) for reason in reasons):
            column = LIST[key]
            index = plan.columns[key].index if key in plan.columns else plan.first
            work.say(remark("cell-missing", key, column=column.heading, help=column.help), index, number, "", **who)
            reasons.append(f"{column.heading}: blank")
    if reasons:
        _refuse(work, line, "; ".join(dict.fromkeys(reasons)), who, values)
        return
    heaters: Sequence[tuple[object, object]] = tags or [(values["tank"], values["quantity"])]
    for tag, count in heaters:
        table.rows.append(Row(number, {**values, "tank": tag, "quantity": count}, table))


def _noted(work: Settling, line: Line, key: str, fact: Fact, who: Mapping[str, str]) -> None:
    number = line.index + 1
    if fact.source in ("above", "banner", "merged"):
        work.above.setdefault(key, []).append(number)
    elif fact.source in ("description", "amps"):
        said = remark("value-from-words", key, row=number, column=LIST[key].heading, value=worded(fact.value), text=fact.seen)
        work.say(said, fact.index, number, fact.seen, **who)
    if (
        fact.outcome is not None
        and not fact.outcome.fault
        and (fact.outcome.code not in QUIET or fact.seen.strip().casefold() in OPEN)
        and fact.outcome.code in CATALOGUE
        and not fact.source
    ):
        work.say(remark(fact.outcome.code, key, **fact.outcome.fields), fact.index, number, fact.seen, **who)


def _say_rest(work: Settling) -> None:
    table = work.table
    for key, numbers in work.above.items():
        said = remark("value-from-above", key, sheet=table.grid.name, column=LIST[key].heading, rows=rows_worded(numbers))
        index = work.one.plan.columns[key].index if key in work.one.plan.columns else work.one.plan.first
        table.findings.append(find(said, sheet=table.grid.name, cell=table.address(index, numbers[0])))
    if work.spare:
        said = remark("rows-spare", sheet=table.grid.name, rows=rows_worded(work.spare))
        table.findings.append(find(said, sheet=table.grid.name, cell=table.address(work.one.plan.first, work.spare[0])))
