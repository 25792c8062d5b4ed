"""What a reader has to know of the rule set that sizes a project: whether it is the firm's own, looser than the code, or from memory."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from batch.findings import Remarks
from batch.records import Bank, Project
from batch.rules import MEMORY, RuleSet, differences

NAMED = 4  # values or documents written out in one finding


def say_rule_set(rules: RuleSet, said: Remarks) -> None:
    """Says that a rule set is the firm's own and where it asks less than the code, and how many values nobody read on a page."""
    _say_own(rules, said)
    recalled = [value for value in rules.code_values() if value.status == MEMORY]
    if recalled:
        sources = list(dict.fromkeys(value.source.split(",")[0] for value in recalled))
        said.add("values-from-memory", "code_basis", count=len(recalled), rule_set=rules.name, examples=_first(sources))


def say_code_taken(project: Project, banks: Iterable[Bank], rules: RuleSet, said: Remarks) -> None:
    """Asks for the code where none is named and heaters are for volts that are no system's of the code that is taken for it."""
    others = rules.named_list("volts_of_other_codes").value
    volts = sorted(bank.volts_v for bank in banks if bank.volts_v in others)
    if project.code_basis is None and volts:
        named = " and ".join(f"{one:g} V" for one in dict.fromkeys(volts))
        said.add("code-basis-taken", "code_basis", rule_set=rules.name, count=len(volts), volts=named)


def _say_own(rules: RuleSet, said: Remarks) -> None:
    if not rules.of_the_firm or (base := rules.extends) is None:
        return
    changed, words = differences(rules), {"rule_set": rules.name, "base": base.name}
    examples = _first([one.words for one in changed])
    said.add("rule-set-own", "code_basis", checksum=rules.checksum, count=len(changed), examples=examples, **words)
    if looser := [one.words for one in changed if one.looser]:
        said.add("rule-set-looser", "code_basis", count=len(looser), values=_first(looser), **words)


def _first(words: Sequence[str]) -> str:
    return "; ".join(words[:NAMED]) + ("; and more" if len(words) > NAMED else "")
