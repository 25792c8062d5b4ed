"""What changed, in sentences that a manager can read aloud. Each says which sheet the rows behind it stand on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from batch.comparing.changeset import BeforeAfter, ChangeNames, Comparison, Twin, is_number
from batch.comparing.input_changes import PROGRAM, READ
from batch.comparing.lines import SHEETS
from batch.comparing.money_moves import WHOLE
from batch.comparing.trials import in_unit, shown
from batch.counted_words import counted_or_no as counted
from batch.price.cents import in_cents

MOST = 3  # things named in one sentence
ROWS, CHANGES, FEEDERS, TYPES, MONEY, FINDINGS, HEADINGS = "rows", "changes", "feeders", "types", "materials", "findings", "headings"


class Sentence(NamedTuple):
    """`subject`: the heading it stands under; `leads_to`: the sheet with the rows behind it, "" = none."""

    subject: str
    words: str
    leads_to: str = ""


def sentences(compared: Comparison, us: bool = False) -> tuple[Sentence, ...]:
    """Everything worth saying, in the order of its weight; one sentence where nothing differs."""
    if compared.empty:
        return (Sentence("Nothing", f"Nothing differs between {' and '.join(compared.called)}."),)
    whole = {figure.key: figure for figure in compared.figures if not figure.project}
    return (
        *(Sentence("First of all", words, ROWS) for words in _parts(compared)),
        Sentence("First of all", _basis(compared, us), CHANGES),
        Sentence("The list", _list(compared), ROWS),
        *(Sentence("The list", words, CHANGES) for words in _cells(compared)),
        *(Sentence("The list", words, HEADINGS) for words in _headings(compared)),
        *(Sentence("Not assumed", f"{_capital(offer.words)}. {_confirm(offer)}", ROWS) for offer in compared.offers),
        Sentence("What it comes to", _size(whole), ROWS),
        *(Sentence("What it comes to", words, TYPES) for words in _panels(compared, whole)),
        *(Sentence("What it comes to", words, FEEDERS) for words in _feeders(compared, whole)),
        *(Sentence("What it comes to", words, MONEY) for words in _money(compared, whole)),
        *(Sentence("Findings", words, FINDINGS) for words in _findings(compared)),
        *(Sentence("Moved along", words, CHANGES) for words in _moved_along(compared)),
    )


def _parts(compared: Comparison) -> Iterator[str]:
    """That one of the two is a section of a divided job, and the other is not the same one."""
    sides = compared.old, compared.new
    if sides[0].part != sides[1].part:
        what = " and ".join(f"{side.file} is {f'{side.part} of a job' if side.part else 'a whole job'}" for side in sides)
        yield f"Caution: {what}. What is in the other sections counts as come or gone."


def screen_text(compared: Comparison, us: bool = False) -> list[str]:
    """The same for a screen or a log, one sentence a line."""
    return [one.words for one in sentences(compared, us)]


def within(words: str) -> str:
    """A sentence as a part of a longer line: begun small, without its point."""
    return _small(words).rstrip(".")


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def listed(words: Sequence[str], most: int = MOST) -> str:
    """ "a, b and c", "a, b, c and 4 more"."""
    words = list(words)
    if len(words) > most:
        words = [*words[:most], f"{len(words) - most} more"]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _confirm(offer) -> str:
    return f"If it is so, compare again with {offer.confirm}." if offer.confirm else "If it is so, nothing was added or removed there."


def _basis(compared: Comparison, us: bool) -> str:
    changes = compared.of("basis")
    if not changes:
        return "Code, program and project settings are the same in both."
    words = []
    for change in changes:
        before, after = (shown(in_unit(change.column, value, us)) for value in (change.before, change.after))
        where = f" of {change.names.project}" if change.names.project else ""
        unit = change.column.shown_unit(us) if is_number(change.after) else ""
        words.append(f"{_small(change.column.heading)}{where} went from {before} to {after} {unit}".rstrip())
    said = f"{_capital(listed(words))}: that moves figures in rows that nobody touched."
    if any(change.column is PROGRAM for change in changes):
        said += " Both revisions are sized by the present program here, so that they compare like with like."
    return said


def _small(words: str) -> str:
    return words if words[:2].isupper() else words[:1].lower() + words[1:]


def _list(compared: Comparison) -> str:
    """Tanks and banks that came and went, and rows that stayed as they were."""
    fates = [(pair, compared.fate(at)) for at, pair in enumerate(compared.pairs)]
    banks = Counter(fate for pair, fate in fates if pair.either.table == "heaters")
    tanks = [_tanks(compared, side) for side in (0, 1)]
    parts = []
    for verb, count, fate, side in (("came", len(tanks[1] - tanks[0]), "added", 1), ("went", len(tanks[0] - tanks[1]), "removed", 0)):
        if banks[fate]:
            heaters = sum(_heaters(pair[side]) for pair, one in fates if one == fate and pair.either.table == "heaters")
            with_tanks = f" ({counted(count, 'tank')})" if count else ""
            parts.append(f"{counted(banks[fate], 'bank')} of {counted(heaters, 'heater')}{with_tanks} {verb}")
    if banks["changed"]:
        parts.append(f"{counted(banks['changed'], 'bank')} {'was' if banks['changed'] == 1 else 'were'} changed")
    for table, thing in (("feeders", "feeder"), ("tanks", "tank row"), ("stock", "part")):
        own = Counter(fate for pair, fate in fates if pair.either.table == table)
        for fate, verb in (("added", "came"), ("removed", "went"), ("changed", "changed")):
            if own[fate] and (table != "tanks" or fate == "changed"):
                parts.append(f"{counted(own[fate], thing)} {verb}")
    stayed = f"{counted(banks['unchanged'], 'bank')} stayed as {'it was' if banks['unchanged'] == 1 else 'they were'}"
    return _capital(f"{listed(parts, 12)}; {stayed}." if parts else f"no row of the list was touched; {stayed}.")


def _tanks(compared: Comparison, side: int) -> set[tuple[str, str]]:
    """Tanks with banks on one side, by the names that the new revision has for them."""
    return {pair.either.first_two for pair in compared.pairs if pair.either.table == "heaters" and pair[side] is not None}


def _heaters(line) -> int:
    value = line.values.get("quantity")
    return int(value) if isinstance(value, (int, float)) and not line.refused else 0


def _cells(compared: Comparison) -> Iterator[str]:
    """Which columns were changed, in how many rows; banks that hang on another feeder."""
    hung = "heaters", "feeder"
    moved = [change for change in compared.of("input") if (change.table, change.column.key) == hung]
    if moved:
        names = listed([f"{change.names.words(compared.several)} from {shown(change.before)} to {shown(change.after)}" for change in moved])
        yield f"{_capital(counted(len(moved), 'bank'))} moved to another feeder: {names}."
    apart = {hung, ("projects", "revision"), ("projects", "date")}
    others = [change for change in compared.of("input") if (change.table, change.column.key) not in apart and change.column is not READ]
    if others:
        counts = Counter((SHEETS[change.table].name, change.column.heading) for change in others)
        words = [f"{heading} ({sheet}) in {counted(count, 'row')}" for (sheet, heading), count in counts.most_common()]
        yield f"Changed were {listed(words, 6)}."
    read = Counter((change.before == "read", change.after == "read") for change in compared.of("input") if change.column is READ)
    if lost := read[True, False]:
        yield f"{_capital(counted(lost, 'row'))} can no longer be read."
    if found := read[False, True]:
        yield f"{_capital(counted(found, 'row'))} that could not be read can be read now."


def _headings(compared: Comparison) -> Iterator[str]:
    came = [one.after for one in compared.columns if not one.before]
    went = [one.before for one in compared.columns if not one.after]
    other = [f"{one.before} is now {one.after}" for one in compared.columns if one.before and one.after]
    if came or went or other:
        parts = [f"new {listed(came)}"] if came else []
        parts += [f"gone {listed(went)}"] if went else []
        parts += [f"reworded {listed(other)}"] if other else []
        yield f"Columns: {'; '.join(parts)}."


def number(value: float, figure: BeforeAfter) -> str:
    """A figure's value as a sentence says it."""
    if figure.format == "count":
        return f"{value:,.0f}"
    if figure.format == "kw":
        return f"{value:,.1f}"
    return f"{value:,.2f}" if figure.format in ("money", "hours") else f"{value:,.1f}"


def signed(value: float, figure: BeforeAfter) -> str:
    return f"{'+' if value >= 0 else '-'}{number(abs(value), figure)}"


def moved(figure: BeforeAfter) -> bool:
    return figure.difference is not None and abs(figure.difference) > figure.close


def _size(whole) -> str:
    heaters, kilowatts = whole["heaters"], whole["connected_kw"]
    if not moved(heaters) and not moved(kilowatts):
        return f"It still comes to {number(heaters.after, heaters)} heaters and {number(kilowatts.after, kilowatts)} kW."
    return (
        f"The job goes from {number(heaters.before, heaters)} to {counted(int(heaters.after), 'heater')} "
        f"({signed(heaters.difference, heaters)}) and from {number(kilowatts.before, kilowatts)} to "
        f"{number(kilowatts.after, kilowatts)} kW ({signed(kilowatts.difference, kilowatts)})."
    )


def _panels(compared: Comparison, whole) -> Iterator[str]:
    types = [order for order in compared.orders if order.table == "panel_types" and order.verdict != "same"]
    if not types:
        return
    panels = whole["panels"]
    parts = []
    anew = {(order.project, order.name) for order in types if order.verdict == "new"}  # a number may be given to another type than before
    for verdict, words in (("new", "new {}"), ("more", "more of {}"), ("fewer", "fewer of {}"), ("gone", "none left of {}")):
        own = [order for order in types if order.verdict == verdict]
        names = [
            f"{order.project + ' ' if compared.several else ''}"
            f"{'the former ' if verdict == 'gone' and (order.project, order.name) in anew else ''}{order.name} ({order.difference:+.0f})"
            for order in own
        ]
        parts += [words.format(listed(names))] if own else []
    if moved(panels):
        total = f"It takes {number(panels.after, panels)} heater panels instead of {number(panels.before, panels)}"
        total += f" ({signed(panels.difference, panels)})"
    else:
        total = f"It still takes {counted(int(panels.after), 'heater panel')}"
    yield f"{total}. Panel types: {'; '.join(parts)}."


def _feeders(compared: Comparison, whole) -> Iterator[str]:
    twins = [twin for twin in compared.twins if twin.table == "feeder_totals"]
    maximum = whole["maximum_a"]
    if moved(maximum):
        sides = [twin.before for twin in twins if twin.before], [twin.after for twin in twins if twin.after]
        fullest = [max(rows, key=_greatest) if rows else None for rows in sides]
        tags = [ChangeNames(str(row["project"] or ""), feeder=str(row["feeder"])) if row else None for row in fullest]
        names = [f" on {tag.words(compared.several)}" if tag else "" for tag in tags]
        first = f"{number(maximum.before, maximum)} A{names[0] if names[0] != names[1] else ''}"
        yield f"The maximum feeder current goes from {first} to {number(maximum.after, maximum)} A{names[1]}."
    built = [twin for twin in twins if twin.before and twin.after and _built(twin)]
    if built:
        words = [f"{twin.names.words(compared.several)} ({_built(twin)})" for twin in built]
        yield f"{_capital(counted(len(built), 'feeder'))} {'needs' if len(built) == 1 else 'need'} another device or wire: {listed(words)}."


def _greatest(row) -> float:
    return row["maximum_a"]


def _built(twin: Twin) -> str:
    before, after = twin.before, twin.after
    if before is None or after is None:
        return ""
    if before["device_a"] != after["device_a"]:
        return f"{shown(before['device_a'])} → {shown(after['device_a'])} A"
    return f"{before['wire']} → {after['wire']}" if before["wire"] != after["wire"] else ""


def _price(compared: Comparison, price: BeforeAfter, still: BeforeAfter) -> Iterator[str]:
    """The price before tax of each project, or of all together, and what moved it; of parts alone `_money` speaks. With lines open in
    `still` neither price is whole, and the lower one may only be the one that lacks more."""
    before_open, after_open = int(still.before or 0), int(still.after or 0)
    lacks = f"; {after_open:,} lines open instead of {before_open:,}, so that this is no difference of whole prices"
    lacks = lacks if before_open or after_open else ""
    whole = [step for step in compared.steps if step.project == WHOLE] or list(compared.steps)
    for name in dict.fromkeys(step.project for step in whole):
        own = [step for step in whole if step.project == name]
        after, was = round(own[-1].after, 2), round(own[-1].after - sum(step.moved for step in own), 2)
        difference = round(after - was, 2)
        whose = "" if name == WHOLE or len({step.project for step in compared.steps}) == 1 else f" of {name}"
        unit = f" {own[-1].currency}" if own[-1].currency else ""
        if abs(difference) <= price.close:
            yield f"The price before tax{whose} is still {'at least ' if after_open else ''}{number(after, price)}{unit}."
            continue
        moves = zip(own, in_cents([step.moved for step in own], difference), strict=True)
        parts = ", ".join(f"{step.step} {signed(cents, price)}" for step, cents in moves if cents)
        now = f"{'at least ' if after_open else ''}{number(after, price)}{unit}"
        before = f"{'at least ' if before_open else ''}{number(was, price)}"
        yield f"The price before tax{whose} is {now} instead of {before} ({signed(difference, price)}{lacks}): {parts}."


def _money(compared: Comparison, whole) -> Iterator[str]:
    if any(change.column.key == "currency" for change in compared.changes):
        yield "The currency is another: money before and after cannot be compared."
        return
    for one in compared.rebased:
        yield (
            f"Look at the hours of {one.part}: its price is for {one.after} and was for {one.before}, and its hours, still {one.hours}, "
            f"are for the same, so that they count {one.times:.4g} times as much."
        )
    if "price" in whole:
        price = whole["price"]
        yield from _price(compared, price, whole["open"])
        unit = f" {price.unit}" if price.unit else ""
        if price.before is None:
            yield f"The priced parts come to {number(price.after, price)}{unit}; before, no part had a price."
        elif price.after is None:
            yield f"No part has a price any more; before, the priced parts came to {number(price.before, price)}{unit}."
        elif moved(price):
            difference = round(price.after, 2) - round(price.before, 2)
            yield (
                f"The priced parts come to {number(price.after, price)}{unit} instead of {number(price.before, price)} "
                f"({signed(difference, price)})."
            )
        else:
            yield f"The priced parts still come to {number(price.after, price)}{unit}."
        causes: dict[str, float] = {}
        for move in compared.moves:
            causes[move.cause] = causes.get(move.cause, 0.0) + move.moved
        if moved(price) and len({move.currency for move in compared.moves}) == 1:
            both = price.before is not None and price.after is not None
            cents = in_cents([*causes.values()], round(price.after, 2) - round(price.before, 2) if both else sum(causes.values()))
            parts = [f"{cause} {signed(amount, price)}" for cause, amount in zip(causes, cents, strict=True) if amount]
            yield f"Of that: {', '.join(parts)}{unit}."
        still = int(whole["open"].after or 0)
        if still:
            verb, lack = ("is", "it lacks") if still == 1 else ("are", "they lack")
            lines = f"{counted(still, 'line')} of Materials and Runs {verb} open, without a price, a length or hours"
            yield f"{lines}: what {lack} is in no sum."


def _findings(compared: Comparison) -> Iterator[str]:
    parts = []
    for severity in ("hold", "caution"):
        own = [said for said in compared.findings if said.severity == severity]
        new = sum(max(0, said.after - said.before) for said in own)
        gone = sum(max(0, said.before - said.after) for said in own)
        parts += [f"{counted(new, f'new {severity}')}"] if new else []
        parts += [f"{counted(gone, severity)} gone"] if gone else []
    if parts:
        worst = next((said for said in compared.findings if said.severity != "note" and said.after > said.before), None)
        first = f"; first of them, {worst.names.words(compared.several)}: {worst.message}" if worst else "."
        yield f"{_capital(listed(parts, 4))}{first}"


def _moved_along(compared: Comparison) -> Iterator[str]:
    """Results that moved in rows that nobody touched, and phases among them."""
    alone = [change for change in compared.of("result") if change.table in ("banks", "panels") and change.pair not in compared.changed]
    if not alone:
        return
    rows = {change.pair for change in alone}
    yield f"Figures moved in {counted(len(rows), 'bank')} whose own rows nobody touched; Changes names what moved each."
    phases = {change.pair for change in alone if change.column.key in ("phases_on", "panel_feeder_phases")}
    if phases:
        yield (
            f"{_capital(counted(len(phases), 'bank'))} among them {'starts' if len(phases) == 1 else 'start'} on another phase, "
            "to balance the feeder; sizing with --keep-from would leave them where they were."
        )
