"""A tank as the heat check sees it: every figure settled, what was assumed said, and what is missing named."""

from __future__ import annotations

from typing import Any, NamedTuple

from msgspec import Struct

from batch.errors import SpecificationError
from batch.findings import Remarks
from batch.records import Tank
from batch.rules.thermal import Liquid, TankMaterial, Thermal
from batch.sizing.words import celsius, kelvins, litres, metres, millimetres

NAMES = {  # cells of Tanks as a person knows them
    "operating_c": "Operating temperature", "length_m": "Length", "width_m": "Width", "depth_m": "Liquid depth", "volume_l": "Volume",
    "start_c": "Start temperature", "room_c": "Room temperature", "room_rh_pct": "Room humidity", "cover": "Cover",
    "air_speed_m_s": "Air speed over the surface", "tank_material": "Tank material", "wall_mm": "Wall thickness", "liquid": "Liquid",
    "work_material": "Work material", "makeup_c": "Make-up temperature",
}  # fmt: skip
OPEN, LID, FIXED_COVER, BALLS = "open", "lid", "fixed cover", "floating balls"


class Bath(Struct, frozen=True):
    """Everything that decides a tank's heat, and nothing else: equal baths have equal needs, whatever their tags."""

    liquid: Liquid
    liquid_known: bool
    length_m: float
    width_m: float
    depth_m: float
    volume_l: float
    shell: TankMaterial
    wall_m: float
    insulation_m: float
    operating_c: float
    start_c: float
    room_c: float
    room_rh: float  # 0 to 1
    heatup_h: float | None
    cover: str
    air_m_s: float
    draught_known: bool
    work_load_kg_h: float
    work: TankMaterial
    load_kg: float
    makeup_l_h: float
    makeup_c: float
    air_agitation: bool

    @property
    def surface_m2(self) -> float:
        return self.length_m * self.width_m

    @property
    def sides_m2(self) -> float:
        return 2.0 * (self.length_m + self.width_m) * self.depth_m


class Settled(NamedTuple):
    """`bath` is None where cells are `missing`, or where the bath boils."""

    bath: Bath | None
    missing: tuple[str, ...]
    assumed: tuple[str, ...]  # in words


def settle(tank: Tank, tables: Thermal, said: Remarks) -> Settled:
    """The bath of a tank's row."""
    missing = _missing(tank)
    if missing:
        said.add("heat-not-judged", missing[0], cells=" and ".join(NAMES[key] for key in missing))
        return Settled(None, missing, ())
    settling = _Settling(tank, tables, said)
    bath = settling.bath()
    if settling.blank:
        said.add("heat-default", settling.blank[0][0], settings="; ".join(words for _, words in settling.blank))
    return Settled(bath, (), tuple(settling.assumed))


def _known(value: float | None) -> float:
    """A cell that `_missing` has found to be filled."""
    if value is None:
        raise SpecificationError("a tank is settled before its missing cells are looked for")
    return value


def _missing(tank: Tank) -> tuple[str, ...]:
    """The fewest cells that would let the tank be judged."""
    wanted = [key for key in ("operating_c", "length_m", "width_m") if getattr(tank, key) is None]
    if tank.depth_m is None and tank.volume_l is None:
        wanted.append("depth_m")
    return tuple(wanted)


class _Settling:
    """One tank's way from cells to a bath."""

    def __init__(self, tank: Tank, tables: Thermal, said: Remarks) -> None:
        self.tank, self.tables, self.said = tank, tables, said
        self.assumed: list[str] = []
        self.blank: list[tuple[str, str]] = []  # cells left blank, with what is taken
        self.hot = _known(tank.operating_c)
        self.length_m, self.width_m = _known(tank.length_m), _known(tank.width_m)

    def bath(self) -> Bath | None:
        tank = self.tank
        liquid, known = self._liquid()
        if self._boils(liquid):
            return None
        depth_m, volume_l = self._contents()
        self._sizes(depth_m)
        shell, wall_m = self._shell(liquid)
        start_c = self._given("start_c", "°C")
        self._start(liquid, start_c)
        cover = self._given("cover")
        if cover == OPEN and tank.air_speed_m_s is None:
            self._default("air_speed_m_s", "still air")
        work = tank.work_load_kg_h or 0.0
        load = tank.load_kg or 0.0
        makeup = tank.makeup_l_h or 0.0
        added = makeup > 0.0 or (liquid.evaporates and cover != FIXED_COVER)
        return Bath(
            liquid=liquid,
            liquid_known=known,
            length_m=self.length_m,
            width_m=self.width_m,
            depth_m=depth_m,
            volume_l=volume_l,
            shell=shell,
            wall_m=wall_m,
            insulation_m=(tank.insulation_mm or 0.0) / 1000.0,
            operating_c=self.hot,
            start_c=start_c,
            room_c=self._given("room_c", "°C"),
            room_rh=self._given("room_rh_pct", "%") / 100.0,
            heatup_h=tank.heatup_h,
            cover=cover,
            air_m_s=tank.air_speed_m_s or 0.0,
            draught_known=tank.air_speed_m_s is not None,
            work_load_kg_h=work,
            work=self._work_material(bool(work or load)),
            load_kg=load,
            makeup_l_h=makeup,
            makeup_c=self._given("makeup_c", "°C") if added else self._or_default("makeup_c"),
            air_agitation=tank.air_agitation == "yes",
        )

    def _or_default(self, key: str) -> Any:
        value = getattr(self.tank, key)
        return self.tables.blank(key).value if value is None else value

    def _given(self, key: str, unit: str = "") -> Any:
        """The cell, or its default, which is said."""
        value = self._or_default(key)
        if getattr(self.tank, key) is None:
            self._default(key, celsius(value) if unit == "°C" else f"{value} {unit}".strip())
        return value

    def _default(self, key: str, value: str) -> None:
        self.assumed.append(f"{NAMES[key].lower()} {value}")
        self.blank.append((key, f"{NAMES[key]} {value}"))

    def _liquid(self) -> tuple[Liquid, bool]:
        words, water = self.tank.liquid, self.tables.liquids[self.tables.blank("liquid").value]
        if words is None:
            self._default("liquid", water.name)
            return water, False
        found = self.tables.liquid(words)
        if found is None:
            self.assumed.append("liquid like water")
            self.said.add("liquid-unknown", "liquid", liquid=words)
        return found or water, found is not None

    def _boils(self, liquid: Liquid) -> bool:
        """Whether the bath is too near its boiling point to be judged; what is said of hot baths."""
        hot, distance = self.hot, self.tables.figure("boiling_distance_k").value
        if liquid.boils_c is not None and hot > liquid.boils_c - distance:
            words = {"distance": kelvins(distance), "liquid": liquid.name, "boils": celsius(liquid.boils_c)}
            self.said.add("bath-boils", "operating_c", operating=celsius(hot), **words)
            return True
        tested = self.tables.figure("tested_to_c").value
        if liquid.evaporates and hot > tested:
            self.said.add("heat-beyond-tests", "operating_c", operating=celsius(hot), tested=celsius(tested))
        return False

    def _contents(self) -> tuple[float, float]:
        """Depth and volume: one from the other where it is blank, and whether they agree where neither is."""
        tank = self.tank
        floor_m2 = self.length_m * self.width_m
        if tank.depth_m is None:
            volume_l = _known(tank.volume_l)
            return volume_l / 1000.0 / floor_m2, volume_l
        worked_out = 1000.0 * floor_m2 * tank.depth_m
        if tank.volume_l is None:
            return tank.depth_m, worked_out
        if abs(tank.volume_l / worked_out - 1.0) > self.tables.figure("volume_band").value + 1e-9:
            self.said.add("volume-odd", "volume_l", given=litres(tank.volume_l), worked_out=litres(worked_out))
        return tank.depth_m, tank.volume_l

    def _sizes(self, depth_m: float) -> None:
        """Sides that no process tank has: feet typed for inches, millimetres for centimetres."""
        least, most = self.tables.figure("shortest_side_m").value, self.tables.figure("longest_side_m").value
        limits = {"length_m": (self.length_m, most), "width_m": (self.width_m, most),
                  "depth_m": (depth_m, self.tables.figure("deepest_m").value)}  # fmt: skip
        odd = {key: side for key, (side, limit) in limits.items() if not least <= side <= limit}
        if odd:
            sides = ", ".join(f"{NAMES[key].lower()} {metres(side)}" for key, side in odd.items())
            self.said.add("tank-size-unlikely", next(iter(odd)), sides=sides)

    def _shell(self, liquid: Liquid) -> tuple[TankMaterial, float]:
        shell = self._lined_steel(liquid) if self.tank.tank_material is None and not liquid.bare_steel else self._material("tank_material")
        hot = self.hot
        if shell.highest_c is not None and hot > shell.highest_c:
            self.said.add("shell-too-hot", "operating_c", operating=celsius(hot), material=shell.name, highest=celsius(shell.highest_c)
            )
        if self.tank.wall_mm is not None:
            return shell, self.tank.wall_mm / 1000.0
        wall = millimetres(1000 * shell.usual_wall_m)
        self.assumed.append(f"wall {wall}")
        self.blank.append(("wall_mm", f"{NAMES['wall_mm']} {wall}, usual for {shell.name}"))
        return shell, shell.usual_wall_m

    def _lined_steel(self, liquid: Liquid) -> TankMaterial:
        """Of a tank whose liquid plain steel does not bear the material is asked for; steel with a lining takes and loses the most heat of
        the usual ones, so the need is on the safe side until then."""
        usual = self.tables.materials[self.tables.blank("tank_material").value]
        self.assumed.append(f"tank material asked for, reckoned as lined {usual.name}")
        self.said.add("tank-material-open", "tank_material", liquid=liquid.name, used=usual.name)
        return usual

    def _material(self, key: str) -> TankMaterial:
        words, usual = getattr(self.tank, key), self.tables.materials[self.tables.blank(key).value]
        if words is None:
            self._default(key, usual.name)
            return usual
        found = self.tables.material(words)
        if found is None:
            self.assumed.append(f"{NAMES[key].lower()} {usual.name}")
            self.said.add("material-unknown", key, material=words, used=usual.name)
        return found or usual

    def _work_material(self, needed: bool) -> TankMaterial:
        return self._material("work_material") if needed else self.tables.materials[self.tables.blank("work_material").value]

    def _start(self, liquid: Liquid, start_c: float) -> None:
        hot = self.hot
        if liquid.freezes_c is not None and start_c < liquid.freezes_c:
            self.said.add("start-frozen", "start_c", start=celsius(start_c), liquid=liquid.name, freezes=celsius(liquid.freezes_c)
            )
        if start_c >= hot:
            self.said.add("start-not-below", "start_c", start=celsius(start_c), operating=celsius(hot))
