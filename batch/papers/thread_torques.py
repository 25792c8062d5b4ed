"""What stands below a table of torques where a terminal bears no marking: the code's torques by thread. Not every code has them."""

from __future__ import annotations

from collections.abc import Iterable

from batch.rules import RuleSet


def unmarked_torques(rules: RuleSet) -> str:
    """ "Where … by thread: by screwdriver M4 1.2 …"; "" where the code has none. A torque that both ways share is said once."""
    found = [cited.value for cited in rules.thread_torques]
    if not found:
        return ""
    driven = _listed((one.thread, one.screwdriver_nm) for one in found)
    turned = _listed((one.thread, one.other_means_nm) for one in found if one.other_means_nm != one.screwdriver_nm)
    place = rules.thread_torques[0]
    return (
        f"Where neither the part nor its maker's sheet states a torque, by thread: by screwdriver {driven}; by other means {turned} N·m, "
        f"smaller threads as by screwdriver ({place.citation}{', ' + place.known if place.from_memory else ''})."
    )


def _listed(torques: Iterable[tuple[str, float | None]]) -> str:
    return ", ".join(f"{thread} {value:g}" for thread, value in torques if value is not None)
