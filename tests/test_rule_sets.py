"""Rule sets as data: settings, factors, code values, other editions, and rule sets that are broken."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from batch import rules
from batch.errors import RuleSetError
from batch.records import Project
from batch.rules.tables import MEMORY, PRACTICE, QUOTED, READ
from batch.sheets.inputs import CODES, CONDUCTORS, DEVICES, INSULATIONS, RACEWAYS
from batch.sheets.supply_sheets import BURIED_METHODS, METHODS

NEC_2023 = rules.load("NEC 2023")


# Settings, factors, cautions, code values


def test_every_setting_of_a_project_has_a_default_that_the_workbook_accepts():
    plain = {"project", "title", "customer", "site", "revision", "prepared_by", "date", "code_basis", "currency", "energy_price",
             "notes", "origin", "validity", "delivery", "terms", "warranty", "signature", "note_to_customer"}
    settings = [name for name in Project.__struct_fields__ if name not in plain]
    assert len(settings) == 37
    of_others = {"breaker_type", "grouping", "installation", "rcd_ma"}  # settings of other codes; the last asked for or not there
    for setting in set(settings) - of_others:
        assert NEC_2023.default(setting).citation
    assert all(rules.load("IEC 60364").default(setting).citation for setting in of_others - {"rcd_ma"})
    for edition in map(rules.load, rules.available()):
        assert edition.default("insulation").value in edition.insulations
        assert edition.insulations and set(edition.methods) <= set(METHODS | BURIED_METHODS)
    assert set(rules.load("IEC 60364").insulations) <= set(INSULATIONS)
    assert NEC_2023.default("conductor").value in CONDUCTORS and NEC_2023.default("insulation").value in INSULATIONS
    assert NEC_2023.default("raceway").value in RACEWAYS and NEC_2023.default("device_kind").value in DEVICES
    assert NEC_2023.default("terminal_c").value is None
    assert NEC_2023.default("margin_pct").value == pytest.approx(100 * (NEC_2023.factor("continuous").value - 1))
    for setting in ("largest_conductor", "smallest_conductor"):
        assert NEC_2023.default(setting).value in NEC_2023.sizes
    assert all(NEC_2023.wire_area("12", insulation) for insulation in NEC_2023.insulations)
    assert all(NEC_2023.raceway(kind, [0.01] * 3) and NEC_2023.ac_resistance("12", "copper", kind) for kind in RACEWAYS)


def test_unknown_names_say_where_they_are_missing():
    for look_up in (NEC_2023.factor, NEC_2023.default, NEC_2023.named_list, NEC_2023.clause):
        with pytest.raises(RuleSetError, match=r"ruleset\.toml"):
            look_up("no such name")


OF_EARTH_FAULTS = {  # names that only a code asks for which sets times for earth faults, or tells installation methods
    "ground_c", "soil_resistivity",
    "breaker_bands_to_a", "breaker_release_multiple", "damp_leakage_ma", "disconnect_distribution_tn_s", "disconnect_distribution_tt_s",
    "earth_fault_voltage", "earthing", "fault_loop", "fault_protection", "final_circuit_a", "leakage_ma_kw", "leakage_share",
    "reinforced_pe_ma", "residual_devices_to_a", "residual_devices_to_v", "residual_multiple", "touch_voltage_v",
    "fuse_selective", "neutral_residual_share", "residual_holds", "residual_time_s", "residual_fast_s", "loop_cold", "z_tolerance_high",
    "fault_protection_it", "fault_protection_tt",
}  # fmt: skip
NOT_IN_EVERY_CODE = {
    "adjustment_ground", "adjustment_layer", "ambient_ground", "ampacity_by_method", "methods",
    "bonding_jumper", "breaker_bands", "conductor_areas", "disconnection", "fill", "fuse_gates", "ground", "protective", "raceways", "sccr",
    "small_conductors", "torque", "torque_threads",
}  # fmt: skip
ASKED = re.compile(r'\.(factor|default|clause|named_list|named_size|table)\("([a-z_0-9]+)"\)')


@pytest.mark.parametrize("name", rules.available())
def test_every_name_that_the_program_asks_for_is_in_the_rule_set(name):
    """Names are looked up by text: what sizing asks for must be there before a job finds out."""
    edition = rules.load(name)
    package = Path(rules.__file__).parents[1]
    asked = {
        found
        for path in package.rglob("*.py")
        for found in re.findall(ASKED, path.read_text(encoding="utf-8"))
    }
    assert ("named_size", "smallest_raceway") in asked and ("table", "ampacity") in asked
    for method, argument in sorted(asked):
        if method == "table" and argument in NOT_IN_EVERY_CODE and not edition.has(argument):
            continue
        if argument in OF_EARTH_FAULTS and not edition.works_earth_faults:
            continue
        assert getattr(edition, method)(argument) is not None


def test_cautions_stand_in_words_with_their_basis():
    words = " ".join(caution.value for caution in NEC_2023.cautions)
    assert all(caution.value.endswith(".") and caution.citation for caution in NEC_2023.cautions)
    for need in ("disconnect", "Ground-fault", "plastic tank", "Lock out", "not covered", "authority having jurisdiction", "licensed"):
        assert need in words


def test_code_values_name_every_figure_once_with_source_and_status():
    values = NEC_2023.code_values()
    names = [value.name for value in values]
    assert len(set(names)) == len(names)
    assert all(value.source and value.what and value.rule_set == "NEC 2023" for value in values)
    assert {value.status for value in values} == {READ, QUOTED, MEMORY, PRACTICE}
    assert all("common practice" in value.source for value in values if value.status == PRACTICE)
    ratings = [value.value for value in values if value.name.startswith("rating_")]
    assert ratings == list(NEC_2023.standard_ratings("fuse"))


def test_code_values_hold_what_the_look_ups_give():
    by_name = {value.name: value for value in NEC_2023.code_values()}
    for size in NEC_2023.sizes:
        for material in ("copper", "aluminum"):
            for column in (60, 75, 90):
                cited, shown = NEC_2023.ampacity(size, material, column), by_name.get(f"ampacity_{material}_{column}c_{size}")
                assert (cited is None) == (shown is None)
                if cited is not None:
                    assert (cited.value, cited.from_memory) == (shown.value, shown.status == MEMORY)
    for name in NEC_2023.section("factors"):
        assert by_name[name].value == NEC_2023.factor(name).value
    assert by_name["cu_pvc_12"].value / 0.3048 == pytest.approx(NEC_2023.ac_resistance("12", "copper", "PVC-80").value)


# Rule sets as data


def test_what_is_available_is_what_the_folders_hold():
    assert "NEC 2023" in rules.available() and set(rules.available()) <= set(CODES)
    assert rules.load("NEC 2023") is NEC_2023
    assert (NEC_2023.region, NEC_2023.paper, NEC_2023.edition) == ("us", "letter", "2023")
    with pytest.raises(RuleSetError, match=r"available: .*NEC 2023"):
        rules.load("NEC 1897")


@pytest.fixture
def copy(tmp_path):
    folder = tmp_path / "nec_2023"
    shutil.copytree(NEC_2023.folder, folder)
    return folder


def test_another_edition_is_a_folder_that_may_borrow_unchanged_tables(copy):
    """As the 2020 edition differs: no 10 A breaker in its table of standard ratings."""
    later = copy.parent / "nec_other"
    later.mkdir()
    text = (copy / "ruleset.toml").read_text(encoding="utf-8").replace('name = "NEC 2023"', 'name = "NEC other"')
    for file in (path.name for path in copy.glob("*.csv")):
        if file != "table_240_6_a.csv":
            text = text.replace(f'"{file}"', f'"../nec_2023/{file}"')
    (later / "ruleset.toml").write_text(text, encoding="utf-8")
    lines = (copy / "table_240_6_a.csv").read_text(encoding="utf-8").splitlines(keepends=True)
    lines = [line.replace("10,yes,yes,", "10,yes,no,") if line.startswith("10,") else line for line in lines]
    (later / "table_240_6_a.csv").write_text("".join(lines), encoding="utf-8")
    other = rules.load_folder(later).read_all()
    assert other.name == "NEC other"
    assert other.next_rating(5, "breaker").value == 15 and NEC_2023.next_rating(5, "breaker").value == 10
    assert other.ampacity("12", "copper", 60) == NEC_2023.ampacity("12", "copper", 60)


@pytest.mark.parametrize(
    ("file", "old", "new", "says"),
    [
        ("table_310_16.csv", "cu_75c_a,", "cu_75c,", r"table_310_16\.csv line 1: no column cu_75c_a"),
        ("table_310_16.csv", "12,AWG,20,", "12,AWG,twenty,", r"table_310_16\.csv line 3: cu_60c_a is not a number: 'twenty'"),
        ("table_310_16.csv", "12,AWG,20,", "12,AWG,15,", r"table_310_16\.csv line 3: cu_60c_a 15 does not rise above 15"),
        ("table_310_16.csv", "12,AWG,20,", "12,AWG,nan,", r"table_310_16\.csv line 3: cu_60c_a is not a finite number"),
        ("table_310_16.csv", "12,AWG,20,", "12,AWG,", r"table_310_16\.csv line 3: \d+ cells under \d+ headings"),
        ("table_250_122.csv", ",seen in print,", ",CERTAIN,", r"table_250_122\.csv line 2: status must be seen in print .*'CERTAIN'"),
        ("table_250_122.csv", '"NFPA 70-2023, Table 250.122"', '""', r"table_250_122\.csv line 2: .*a source given"),
        ("chapter_9_table_5.csv", "THHN THWN THWN-2,12,0.130", "THHN THWN THWN-2,12,0.1", r"table_5\.csv line 3: diameter_in 0.1 does not"),
        ("ruleset.toml", '"table_310_16.csv"', '"table_999.csv"', r"file of table ampacity is missing"),
        ("ruleset.toml", "ampacity = [", "amps = [", r"unknown table amps"),
        ("ruleset.toml", 'status = "seen in print"', 'status = "SURE"', r"\[factors\.continuous\] has an unknown status 'SURE'"),
        ("ruleset.toml", "value = 1.25\n", "", r"\[factors\.continuous\] needs value"),
        ("ruleset.toml", 'paper = "letter"\n', "", r"\[ruleset\] lacks paper"),
        ("ruleset.toml", "[ruleset]", "[ruleset", r"ruleset\.toml: cannot be read as a rule set"),
    ],
)
def test_a_broken_rule_set_names_file_line_and_fault(copy, file, old, new, says):
    text = (copy / file).read_text(encoding="utf-8")
    assert old in text
    (copy / file).write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(RuleSetError, match=says):
        rules.load_folder(copy).read_all()


def test_missing_and_unreadable_files(copy):
    with pytest.raises(RuleSetError, match=r"ruleset\.toml: cannot be read"):
        rules.load_folder(copy.parent / "nowhere")
    loaded = rules.load_folder(copy)
    (copy / "table_310_16.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(RuleSetError, match=r"table_310_16\.csv: cannot be read"):
        loaded.ampacity("12", "copper", 60)
    (copy / "table_250_122.csv").write_text("device_a,cu_size,al_size,source,status,check,memory_cells\n")
    with pytest.raises(RuleSetError, match=r"table_250_122\.csv: the table is empty"):
        loaded.ground(20, "copper")
