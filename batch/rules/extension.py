"""A rule set that extends another: only what differs stands in its folder, each difference with its own source and status."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from pathlib import Path
from typing import Any

from batch.errors import RuleSetError
from batch.rules.tables import MEMORY, QUOTED, READ, ROWS, UNCHANGED, in_the_code

NAMED = ("factors", "lists", "defaults")  # sections whose entries carry a value; one that changes it says where the new one stands
OWN = {"factors": ("value", "basis", "status"), "lists": ("value", "basis", "status"), "defaults": ("value", "why", "basis", "status")}
PRACTICE_WORDS = "common practice, no source"
WORDS = ("clauses", "devices", "assembly", "impedance_columns", "words", "line_names")  # sections of plain words
OF_THE_TABLES = ("conductors",)  # how the tables are laid out: theirs who brings the tables


def extended(path: Path, own: dict[str, Any], base: dict[str, Any], base_folder: Path) -> dict[str, Any]:
    """The contents of a rule set that names another in `extends`: the other's, with what its own file changes.

    path         its ruleset.toml, named in errors; table files stand beside it
    own, base    contents of the two files; the base's tables may stand anywhere
    base_folder  where the base's table files stand

    Where the two are of different documents, what stands in the code and is not named in the own file is taken as unchanged: from memory.
    Raises:
        RuleSetError: a section or entry that the base has not (nothing would ask for it), or a changed value without source and status.
    """
    found = {name: dict(section) for name, section in base.items()}
    other = own.get("ruleset", {}).get("document", base["ruleset"]["document"]) != base["ruleset"]["document"]
    found["tables"] = {
        role: [*_placed(entry, base_folder), *([UNCHANGED] if other and in_the_code(entry[1]) else [])]
        for role, entry in base["tables"].items()
    }
    for section in NAMED if other else ():
        found[section] = {name: entry | _unchanged(entry, base["ruleset"]) for name, entry in base[section].items()}
    for section, entries in own.items():
        if section not in found or not isinstance(entries, dict):
            raise RuleSetError(f"{path}: [{section}] is no section of a rule set; use {', '.join(found)}.")
        for name, entry in entries.items():
            _judge(path, section, name, entry, found[section])
            if section == "tables":
                found[section][name] = _placed(entry, path.parent)
            elif section in NAMED:
                found[section][name] = found[section][name] | entry
            else:
                found[section][name] = entry
    return found


def with_practice_of(own: dict[str, Any], base: dict[str, Any]) -> dict[str, Any]:
    """The contents of another code's rule set with what the trade does alike under both: figures that stand in no code, and no table.

    own, base  contents of the two files; where both have an entry, its own stands
    """
    found = {name: dict(section) for name, section in own.items()}
    for section in NAMED:
        common = {name: entry for name, entry in base[section].items() if entry["basis"].startswith(PRACTICE_WORDS)}
        found[section] = common | found.get(section, {})
    return found


def _placed(entry: list[str], folder: Path) -> list[str]:
    return [str(folder / entry[0]), *entry[1:]]


def _unchanged(entry: dict[str, Any], base: dict[str, Any]) -> dict[str, Any]:
    """How an entry is known that another document's edition has, and that was not looked up in this one."""
    moved = entry.get("status") in (READ, QUOTED) and in_the_code(entry["basis"])
    return {"status": MEMORY, "check": f"taken as unchanged from {base['name']}"} if moved else {}


def _judge(path: Path, section: str, name: str, entry: Any, base: dict[str, Any]) -> None:
    """That an entry changes something which the base has, and says where what it says stands."""
    where = f"{path}: [{section}] {name}" if section in (*WORDS, "tables", "ruleset") else f"{path}: [{section}.{name}]"
    if section in ("ruleset", *OF_THE_TABLES):
        return
    if name not in base and section not in ("cautions", "words"):
        raise RuleSetError(f"{where}: the rule set that it extends has no {name}, so nothing asks for it; correct the name.")
    if section in WORDS and not isinstance(entry, str):
        raise RuleSetError(f"{where}: {entry!r} is no text; write it between quotation marks.")
    if section in OWN and (not isinstance(entry, dict) or not entry.keys() >= set(OWN[section])):
        raise RuleSetError(f"{where} needs {', '.join(OWN[section])}: a changed value says where it stands; complete it.")
    if section == "cautions" and (not isinstance(entry, dict) or not entry.keys() >= {"words", "basis", "status"}):
        raise RuleSetError(f"{where} needs words, basis and status; complete it.")
    if section in NAMED and not _alike(entry["value"], was := base[name]["value"]):
        raise RuleSetError(f"{where}: value {entry['value']!r} is not of the kind of {was!r}, which it replaces; correct it.")
    if section in NAMED and (why := _out_of_reach(entry["value"], base[name])):
        raise RuleSetError(f"{where}: value {entry['value']!r} is {why}; correct it.")
    if section == "tables" and not (
        isinstance(entry, list) and len(entry) in (2, 3) and all(isinstance(one, str) for one in entry) and entry[2:] in ([], [ROWS])
    ):
        raise RuleSetError(f'{where} needs [file, citation], or [file, citation, "{ROWS}"] where its rows replace those of the same name.')


def _alike(one: Any, other: Any) -> bool:
    """Whether two values are of one kind; a default that is left to a rule ("") may be given any."""
    numbers = [isinstance(value, (int, float)) and not isinstance(value, bool) for value in (one, other)]
    return type(one) is type(other) or other == "" or all(numbers)


def _out_of_reach(value: Any, replaced: dict[str, Any]) -> str:
    """Why a number, or one of a list, can be no figure of its entry; "" = it can.

    Nought is for an entry that has it already, or of which less is the stricter (`strict`); a sign stays as it is.
    """
    numbers, was = list(_numbers(value)), list(_numbers(replaced["value"]))
    if not all(isfinite(one) for one in numbers):
        return "no finite number"
    if min(numbers, default=0) < 0 <= min(was, default=0):
        return "below nought"
    if was and max(numbers, default=0) > 0 > max(was):
        return "above nought"
    if was and 0 in numbers and 0 not in was and replaced.get("strict") != "down":
        return "nought, by which nothing can be sized"
    return ""


def _numbers(value: Any) -> Iterator[float]:
    for one in value if isinstance(value, list) else [value]:
        if isinstance(one, list):
            yield from _numbers(one)
        elif isinstance(one, (int, float)) and not isinstance(one, bool):
            yield one
