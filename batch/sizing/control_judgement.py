"""What a control circuit leaves open or unsafe: restarts, welds, volts, coils and contacts beyond the tables, heaters that are missing."""

from __future__ import annotations

from batch.control_results import TankControl
from batch.findings import Remarks
from batch.records import Tank
from batch.rules import RuleSet
from batch.rules.thermal import thermal
from batch.sizing.control_contacts import Switching
from batch.sizing.stock import Stock
from batch.sizing.words import amps, fault_current, volts

INCOMPLETE = "control-incomplete"  # of banks that are not sized: it holds the control panel, not the heater panels of others


def judge_control(
    row: TankControl, switching: Switching, tank: Tank | None, lost: int, *, stock: Stock, rules: RuleSet, said: Remarks
) -> None:
    """`lost`: rows of the tank that are not sized, so that their contactors and limits are not in the ladder."""
    name, settings = row.tank, row.settings
    if settings.reset == "at the limit":
        said.add("control-restarts", "limit_reset", tank=name)
    if not settings.backup and is_plastic(tank):
        said.add("control-no-backup", "backup_contactor", material=tank.tank_material if tank is not None else "")
    if settings.location == "corrosive" and settings.material == "steel":
        said.add("box-material-corrodes", "box_material", place=row.tag, type=rules.box_type("corrosive"))
    if row.primary_v > rules.factor("control_highest_v").value:
        said.add("control-primary-high", "control_transformer", tank=name, volts=volts(row.primary_v))
    _judge_faults(row, stock, rules, said)
    if settings.transformer == "others":
        said.add("control-by-others", "control_transformer", tank=name, volts=volts(settings.control_v), va=f"{row.sealed_va:g} VA sealed")
    _judge_power(row, switching, rules, said)
    if lost:
        said.add(INCOMPLETE, "tank", tank=name, count=lost, rows="row" if lost == 1 else "rows")


def _judge_faults(row: TankControl, stock: Stock, rules: RuleSet, said: Remarks) -> None:
    """Stock parts of the control panel that are marked below the fault current there; those of a bank are judged with it. A part that
    nobody has marked, of a kind that the stock list holds, counts by the default; of the other kinds the feeder speaks."""
    for supply in row.supplies:
        if supply.fault_ka is None:
            continue
        for kind, name, there in (
            ("disconnect", supply.disconnect_part, True),
            ("power distribution block", supply.block_part, bool(supply.block)),
            ("contactor", supply.backup_part, bool(supply.backup)),
        ):
            part = stock.named(name)
            if part is not None and part.sccr_ka is not None:
                if supply.fault_ka > part.sccr_ka:
                    words = {"fault": fault_current(supply.fault_ka), "place": row.tag, "part": part.part, "rating": f"{part.sccr_ka:g} kA"}
                    said.add("fault-over-rating", "tank", feeder=supply.feeder, **words)
            elif there and stock.lists(kind):
                default, at = rules.sccr_default(kind), f"in {row.tag}, {fault_current(supply.fault_ka)}: {name or kind}"
                if default is None:
                    said.add("fault-rating-unknown", "tank", feeder=supply.feeder, places=at)
                elif supply.fault_ka > default.value:
                    said.add("fault-over-default", "tank", feeder=supply.feeder, places=f"{at} {default.value:g} kA")


def _judge_power(row: TankControl, switching: Switching, rules: RuleSet, said: Remarks) -> None:
    """Coils, contacts, transformer and fuses beyond the tables: of several the first that stands in the way of the others."""
    settings, sealed_a, what = row.settings, row.sealed_va / row.settings.control_v, ""
    unknown = [coil for coil in row.coils if not coil.known]
    if unknown:
        alike: dict[str, list[str]] = {}
        for coil in unknown:
            alike.setdefault(coil.what, []).append(coil.mark)
        words = ", ".join(f"{marks[0]}{f' to {marks[-1]}' if len(marks) > 1 else ''} ({what})" for what, marks in alike.items())
        said.add("control-coil-unknown", "control_v", tank=row.tank, coils=words)
    elif switching.beyond:
        what = f"{', '.join(switching.beyond)}: no contact of the latch makes or breaks it"
    elif row.primary_v and (row.transformer_va is None or row.primary_fuse_a is None):
        what = f"{row.sealed_va:g} VA sealed: no control transformer of the list"
    elif not row.wire or (row.secondary_fuse_a or 0.0) < rules.factor("control_reserve").value * sealed_a:
        what = f"{amps(sealed_a)} at {volts(settings.control_v)}: no control fuse or wire of the list"
    if what:
        said.add("control-beyond", "control_v", tank=row.tank, what=what)


def is_plastic(tank: Tank | None) -> bool:
    """Of a stated material that a bath may melt: those with a highest temperature of their own are the plastics of the table."""
    if tank is None or not tank.tank_material:
        return False
    found = thermal().material(tank.tank_material)
    return found is not None and found.highest_c is not None
