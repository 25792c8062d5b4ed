"""Heat of tanks as data: liquids, tank materials, water, and the figures of the heat check, each with where it stands."""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property, lru_cache
from pathlib import Path
from unicodedata import combining, normalize

from msgspec import Struct

from batch.errors import RuleSetError
from batch.rules.code_basis import CodeValue
from batch.rules.tables import COMPUTED, MEMORY, PRACTICE, READ, Cited, CodeRow, CodeTable, TableShape
from batch.toml_text import parsed

HOME = Path(__file__).parent
CONTENTS = "thermal.toml"
NAME = "Heat of tanks"
SQUARE_INCH_CM2 = 6.4516
NAMES, NOT_KNOWN = "liquid_names.toml", "not known"
NO_MORE: Mapping[str, Mapping[str, Sequence[str]]] = {}
_WORDS = re.compile(r"[a-z0-9]+")
_OTHER_LETTERS = str.maketrans({"ł": "l", "ø": "o", "æ": "ae", "đ": "d"})
_WRITTEN_OUT = re.compile(r"([aou])e")

SHAPES: dict[str, TableShape] = {
    "liquids": TableShape(
        (
            "liquid", "also", "sg", "cp_kj_kgk", "watt_low_w_in2", "watt_high_w_in2", "bare_steel", "evaporates", "boils_c", "freezes_c",
            "fusion_kj_kg",
        ),
        ("sg", "cp_kj_kgk", "watt_low_w_in2", "watt_high_w_in2", "boils_c", "freezes_c", "fusion_kj_kg"),
    ),
    "tank_materials": TableShape(
        ("material", "also", "density_kg_m3", "cp_kj_kgk", "k_w_mk", "usual_wall_mm", "follows", "highest_c", "bright"),
        ("density_kg_m3", "cp_kj_kgk", "k_w_mk", "usual_wall_mm", "follows", "highest_c"),
    ),
    "water": TableShape(
        ("temperature_c", "density_kg_m3", "cp_kj_kgk", "latent_kj_kg"),
        ("temperature_c", "density_kg_m3", "cp_kj_kgk", "latent_kj_kg"),
        ("temperature_c",),
    ),
}


class Liquid(Struct, frozen=True):
    """A bath by its table row. Watt densities are the range in use, from careful to most."""

    name: str
    density_kg_m3: float
    cp_j_kgk: float
    bare_steel: bool  # does a tank of plain carbon steel bear it?
    evaporates: bool
    boils_c: float | None
    freezes_c: float | None
    fusion_j_kg: float
    watt_low_w_cm2: float
    watt_high_w_cm2: float


class TankMaterial(Struct, frozen=True):
    """What a tank or its work is made of. `follows`: share of its mass that follows the bath's temperature."""

    name: str
    density_kg_m3: float
    cp_j_kgk: float
    k_w_mk: float
    usual_wall_m: float
    follows: float
    highest_c: float | None
    bright: bool


class Water(Struct, frozen=True):
    """Liquid water at one temperature."""

    density_kg_m3: float
    cp_j_kgk: float
    latent_j_kg: float


class Thermal:
    """The tables and figures; RuleSetError where a file is missing or broken."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._named: dict[tuple[str, int], str] = {}
        try:
            self._contents = parsed((folder / CONTENTS).read_text(encoding="utf-8"))
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as fault:
            raise RuleSetError(f"{folder / CONTENTS}: cannot be read ({fault}); restore the file.") from fault
        self._liquids = CodeTable("liquids", folder / "liquids.csv", "table of liquids", SHAPES["liquids"])
        self._materials = CodeTable("tank_materials", folder / "tank_materials.csv", "table of tank materials", SHAPES["tank_materials"])
        self._water = CodeTable("water", folder / "water.csv", "properties of water", SHAPES["water"])

    def figure(self, name: str) -> Cited:
        """A figure of the heat check: figure("half_the_losses") is 0.5."""
        return self._cited("factors", name)

    def blank(self, name: str) -> Cited:
        """What a cell of Tanks means where it is left blank; the basis says why."""
        return self._cited("defaults", name)

    def _cited(self, section: str, name: str) -> Cited:
        try:
            entry = self._contents[section][name]
            if entry["status"] not in (READ, MEMORY, PRACTICE, COMPUTED):
                raise RuleSetError(f"{self.folder / CONTENTS}: [{section}.{name}] has an unknown status {entry['status']!r}; correct it.")
            return Cited(entry["value"], entry["basis"], entry["status"], entry.get("unit", ""))
        except KeyError:
            raise RuleSetError(f"{self.folder / CONTENTS}: no [{section}.{name}], or it is incomplete; restore the file.") from None

    @cached_property
    def liquids(self) -> dict[str, Liquid]:
        return {row["liquid"]: _liquid(row) for row in self._liquids}

    @cached_property
    def materials(self) -> dict[str, TankMaterial]:
        return {row["material"]: _material(row) for row in self._materials}

    @cached_property
    def _liquid_phrases(self) -> list[tuple[tuple[str, ...], str]]:
        return _phrases(self._liquids, "liquid", self.liquid_names())

    def liquid_names(self) -> dict[str, dict[str, list[str]]]:
        """Further names of liquids by language, and by the liquid of the table that they are.

        Raises:
            RuleSetError: the file is missing or broken, or names a liquid that the table has not.
        """
        file = self.folder / NAMES
        try:
            found = parsed(file.read_text(encoding="utf-8"))
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as fault:
            raise RuleSetError(f"{file}: cannot be read ({fault}); restore the file.") from fault
        odd = {name for some in found.values() for name in some} - self.liquids.keys() - {NOT_KNOWN}
        if odd:
            raise RuleSetError(f"{file}: no such liquid in the table: {', '.join(sorted(odd))}; correct it.")
        return found

    @cached_property
    def _material_phrases(self) -> list[tuple[tuple[str, ...], str]]:
        return _phrases(self._materials, "material")

    def liquid(self, words: str) -> Liquid | None:
        """The liquid that a customer's words name: the longest name of the table that stands in them; None where none does."""
        name = self._found(words, self._liquid_phrases)
        return self.liquids[name] if name else None

    def material(self, words: str) -> TankMaterial | None:
        """The material that a customer's words name, likewise."""
        name = self._found(words, self._material_phrases)
        return self.materials[name] if name else None

    def _found(self, words: str, phrases: list[tuple[tuple[str, ...], str]]) -> str:
        """The name that stands in these words, looked for once: a list names the same liquid hundreds of times."""
        key = words, id(phrases)
        if key not in self._named:
            self._named[key] = _found(words, phrases)
        return self._named[key]

    @cached_property
    def _water_rows(self) -> tuple[list[float], list[Water]]:
        rows = list(self._water)
        waters = [
            Water(row.figure("density_kg_m3"), 1000.0 * row.figure("cp_kj_kgk"), 1000.0 * row.figure("latent_kj_kg")) for row in rows
        ]
        return [row.figure("temperature_c") for row in rows], waters

    def water(self, temperature_c: float) -> Water:
        """Water at a temperature, straight between the rows of the table; beyond its ends the last row."""
        at, rows = self._water_rows
        if temperature_c <= at[0] or temperature_c >= at[-1]:
            return rows[0] if temperature_c <= at[0] else rows[-1]
        upper = bisect_right(at, temperature_c)
        share = (temperature_c - at[upper - 1]) / (at[upper] - at[upper - 1])
        low, high = rows[upper - 1], rows[upper]
        return Water(
            low.density_kg_m3 + share * (high.density_kg_m3 - low.density_kg_m3),
            low.cp_j_kgk + share * (high.cp_j_kgk - low.cp_j_kgk),
            low.latent_j_kg + share * (high.latent_j_kg - low.latent_j_kg),
        )

    @cached_property
    def _values(self) -> tuple[CodeValue, ...]:
        return tuple(_values(self._contents, self._liquids, self._materials, self._water))

    def code_values(self) -> tuple[CodeValue, ...]:
        """Every figure and table cell that the heat check uses, for Code basis; names are unique."""
        return self._values


def _liquid(row: CodeRow) -> Liquid:
    water = row["liquid"] == "water"
    return Liquid(
        row["liquid"],
        1000.0 * row.figure("sg") if not water else 0.0,
        1000.0 * row.figure("cp_kj_kgk") if not water else 0.0,
        row["bare_steel"] == "yes",
        row["evaporates"] == "yes",
        row.number("boils_c"),
        row.number("freezes_c"),
        1000.0 * (row.number("fusion_kj_kg") or 0.0),
        row.figure("watt_low_w_in2") / SQUARE_INCH_CM2,
        row.figure("watt_high_w_in2") / SQUARE_INCH_CM2,
    )


def _material(row: CodeRow) -> TankMaterial:
    return TankMaterial(
        row["material"],
        row.figure("density_kg_m3"),
        1000.0 * row.figure("cp_kj_kgk"),
        row.figure("k_w_mk"),
        row.figure("usual_wall_mm") / 1000.0,
        row.figure("follows"),
        row.number("highest_c"),
        row["bright"] == "yes",
    )


def _phrases(table: CodeTable, key: str, more: Mapping[str, Mapping[str, Sequence[str]]] = NO_MORE) -> list[tuple[tuple[str, ...], str]]:
    """Names of a table as runs of words, the longest first; the table's own name is one of them, and `more` by language and name."""
    found: dict[tuple[str, ...], str] = {}
    for row in table:
        for phrase in (row[key], *row["also"].split("|")):
            found.setdefault(_words(phrase), row[key])
    for some in more.values():
        for name, phrases in some.items():
            for phrase in phrases:
                found.setdefault(_words(phrase), "" if name == NOT_KNOWN else name)
    return sorted(found.items(), key=lambda item: (-sum(map(len, item[0])), item))


def _words(text: str) -> tuple[str, ...]:
    """Words without accents, German letters as written out or not alike: Säure, Saeure, saure."""
    plain = "".join(sign for sign in normalize("NFKD", text.casefold().translate(_OTHER_LETTERS)) if not combining(sign))
    return tuple(_WORDS.findall(_WRITTEN_OUT.sub(r"\1", plain).replace("sulph", "sulf")))


def _found(text: str, phrases: Iterable[tuple[tuple[str, ...], str]]) -> str:
    words = _words(text)
    for phrase, name in phrases:
        if any(words[at : at + len(phrase)] == phrase for at in range(len(words) - len(phrase) + 1)):
            return name
    return ""


_CELLS: dict[str, dict[str, tuple[str, str]]] = {  # table -> column -> what it is, unit
    "liquids": {
        "sg": ("Specific gravity", ""), "cp_kj_kgk": ("Specific heat", "kJ/(kg K)"),
        "watt_low_w_in2": ("Watt density, careful", "W/in²"), "watt_high_w_in2": ("Watt density, most", "W/in²"),
        "boils_c": ("Boiling point", "°C"), "freezes_c": ("Freezing point", "°C"), "fusion_kj_kg": ("Heat of melting", "kJ/kg"),
    },
    "tank_materials": {
        "density_kg_m3": ("Density", "kg/m³"), "cp_kj_kgk": ("Specific heat", "kJ/(kg K)"), "k_w_mk": ("Conductivity", "W/(m K)"),
        "usual_wall_mm": ("Usual wall", "mm"), "follows": ("Share of the shell that follows the bath", ""),
        "highest_c": ("Highest service temperature", "°C"),
    },
    "water": {
        "density_kg_m3": ("Density of water", "kg/m³"), "cp_kj_kgk": ("Specific heat of water", "kJ/(kg K)"),
        "latent_kj_kg": ("Heat of evaporation of water", "kJ/kg"),
    },
}  # fmt: skip


def _values(contents: dict, *tables: CodeTable) -> Iterable[CodeValue]:
    for section, before in (("factors", ""), ("defaults", "tank_default_")):
        for name, entry in contents[section].items():
            what = entry["what"] if section == "factors" else f"Cell of Tanks left blank. {entry['what']}"
            yield CodeValue(NAME, f"{before}{name}", what, entry["value"], entry.get("unit", ""), entry["basis"], entry["status"])
    for table in tables:
        for row in table:
            name = next(iter(row.cells.values()))
            for column, (what, unit) in _CELLS[table.role].items():
                if row[column] and not (name == "water" and column in ("sg", "cp_kj_kgk")):
                    said = f"{what} at {name} °C" if table.role == "water" else f"{what}: {name}"
                    place = "_".join(_words(f"{table.role} {name}"))
                    status = MEMORY if row.from_memory(column) else row["status"]
                    yield CodeValue(NAME, f"{place}_{column}", said, row.figure(column), unit, row["source"], status)


@lru_cache(maxsize=1)
def thermal() -> Thermal:
    """The tables that come with the program, read once."""
    return Thermal(HOME)
