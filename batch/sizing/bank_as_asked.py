"""From a row of the heater list to the design that is asked for."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from batch.records import Bank, Design, Part, Settings, Supply
from batch.results import BankDesign
from batch.rules import RuleSet
from batch.sizing.connection import CannotSize
from batch.sizing.design import size_design
from batch.sizing.stock import Stock
from batch.used_settings import BoxPlace


def design_asked(
    bank: Bank, supply: Supply, settings: Settings, fault_ka: float | None, *, split: tuple[int, ...], box: BoxPlace, rules: RuleSet,
    residual_ma: float | None = None,
) -> Design:
    marked = rules.size_named(bank.marked_wire) or "" if bank.marked_wire else ""
    return Design(
        quantity=bank.quantity,
        power_kw=bank.power_kw,
        volts_v=bank.volts_v,
        phases=bank.phases,
        supply=supply,
        settings=settings,
        connection=bank.connection,
        circuits_per_heater=bank.circuits_per_heater,
        heater_run_m=bank.heater_run_m,
        panel_feeder_run_m=0.0 if box.inside and bank.panel_feeder_run_m is None else bank.panel_feeder_run_m,  # in one box it goes nowhere
        circuits_in_raceway=bank.circuits_in_raceway or 1,
        panel_feeders_in_raceway=bank.panel_feeders_in_raceway or 1,
        fixed_rating_a=bank.fixed_rating_a,
        branches_per_panel=bank.branches_per_panel,
        device_kind=bank.device_kind,
        limits=bank.over_temperature_limit != "no",
        fault_ka=fault_ka,
        marked_wire=marked,
        hundred_pct=bool(marked) and bank.cycling == "yes" and bank.power_kw >= rules.factor("hundred_pct_kw").value,
        rcd_ma=residual_ma,
        previous_split=split,
        box=box,
    )


@lru_cache(maxsize=4)
def designs_by(rules: RuleSet, parts: tuple[Part, ...], metal: str) -> Callable[[Design], BankDesign | CannotSize]:
    """Sizes a design by a rule set and a stock list, each once: banks that ask for the same share the answer, and so does a job that is
    sized again with a few rows changed.
    """
    stock = Stock(parts, metal)
    return lru_cache(maxsize=None)(lambda design: try_design(design, rules, stock))


def try_design(design: Design, rules: RuleSet, stock: Stock) -> BankDesign | CannotSize:
    """So that a refusal is remembered too."""
    try:
        return size_design(design, rules, stock)
    except CannotSize as fault:
        return fault
