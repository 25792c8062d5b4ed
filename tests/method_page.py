"""Makes templates/method.md: every law of the method with what stands behind it in each code, for whoever checks it beside the book."""

from __future__ import annotations

import re

import batch.method
from batch.rules import RuleSet, load
from tests.test_house import LAWS, sections

CODES = ("NEC 2023", "IEC 60364")  # that stand by themselves; others are their differences
NAME = re.compile(r"\{([^}]+)\}")
NONE, ALIKE = "no such rule", "the same"
HEAD = """# The method, law by law

Made by `python -m tests.make_docs` from `batch/method/` and the rule sets; not to be edited. Each law of the method once, in the order of
its chapters: what it gives, and what stands behind it in each code that comes with the program. Earlier editions and a firm's own rule sets
change what `heaterbatch editions FOLDER` and their files say. How each figure is known (seen in print, quoted, from memory, practice) is on
Code basis of every results workbook. A clause without the name of a document is one of NFPA 70. The code in force at the site governs.
"""


def places(rules: RuleSet) -> dict[str, str]:
    """Where what a rule set has names for stands: clauses, tables, then factors, lists and defaults."""
    figures = {name: entry["basis"] for part in ("defaults", "lists", "factors") for name, entry in rules.section(part).items()}
    return {**figures, **rules.citations}


def named(reference: str) -> list[str]:
    return NAME.findall(reference)


def reference_of(law: object) -> str:
    return " ".join(sections(law)["Reference"]).strip()  # type: ignore[arg-type]


def resolved(reference: str, rules: RuleSet) -> str:
    """A reference with what stands in a rule set in place of its names."""
    known = places(rules)
    if (names := named(reference)) and names[0] not in known:
        return NONE
    return NAME.sub(lambda found: known.get(found[1], NONE), reference)


def page() -> str:
    codes = [load(name) for name in CODES]
    parts, chapter = [HEAD], ""
    contents = re.findall(r"^ +\d+ +(\w+)  ", batch.method.__doc__ or "", re.MULTILINE)
    for module, law in sorted(LAWS, key=lambda one: contents.index(one[0].rsplit(".", 1)[1])):
        if module != chapter:
            chapter = module
            parts.append(f"\n## {module.rsplit('.', 1)[1].replace('_', ' ')}\n")
            parts.append("| law | what it gives | " + " | ".join(CODES) + " |\n| --- | --- " + "| --- " * len(CODES) + "|")
        behind = [resolved(reference_of(law), rules) for rules in codes] if named(reference_of(law)) else [reference_of(law), ALIKE]
        told = (law.__name__, " ".join(sections(law)["Summary"]), *behind)
        parts.append("| " + " | ".join(" ".join(cell.replace("|", "\\|").split()) for cell in (f"`{told[0]}`", *told[1:])) + " |")
    return "\n".join(parts) + "\n"
