"""What the lines of the invented plant do, station by station: the heated baths only. Temperatures in degrees F, sizes in ft."""

from __future__ import annotations

from tests.samples.bath import Bath

SOAK = Bath("soak clean", "alkaline soak cleaner", 8, 3, 4, 165, density=22, work=600)
ELECTRO = Bath("electroclean", "alkaline soak cleaner", 8, 3, 4, 160, density=22)
WARM_RINSE = Bath("warm rinse", "rinse water", 5, 3, 4, 110, density=25)
HOT_RINSE = Bath("hot rinse", "rinse water", 5, 3, 4, 160, density=25, work=600, makeup=8)
ZINC = Bath("zinc plate", "zinc plating acid chloride", 12, 3.5, 4.5, 95, density=15, sheath="PTFE-covered", agitation="yes")
CHROMATE = Bath("passivate", "chromate", 5, 3, 4, 120, density=15, sheath="PTFE-covered")
SEAL = Bath("seal", "water", 5, 3, 4, 150)
NICKEL = Bath("nickel plate", "nickel plating (Watts)", 12, 3.5, 5, 145, sheath="titanium", agitation="yes", cover="floating balls")
COPPER = Bath("acid copper", "acid copper plating", 10, 3.5, 4.5, 90, density=15, sheath="PTFE-covered", agitation="yes")
CHROME = Bath("chromium plate", "chromium plating", 8, 3.5, 4.5, 115, density=18,
              sheath="PTFE-covered", tank_material="PVDF-lined steel", air=50)
ELECTROLESS = Bath("electroless nickel", "electroless nickel", 6, 3, 4, 190, cover="lid", density=12, tank_material="316 stainless",
                   hours=4)
PICKLE = Bath("pickle", "sulfuric acid pickle", 8, 3.5, 4.5, 140, density=15, sheath="PTFE-covered", air=50, work=600)
ETCH = Bath("caustic etch", "alkaline etch for aluminium", 10, 3.5, 5, 145, density=15, tank_material="316 stainless", air=50, work=400)
ANODIZE_CLEAN = Bath("aluminium clean", "alkaline soak cleaner", 10, 3.5, 5, 145, density=20)
DYE = Bath("dye", "water", 6, 3, 4.5, 145)
HOT_SEAL = Bath("hot seal", "anodise hot seal", 10, 3.5, 5, 200, cover="floating balls", density=25, tank_material="316 stainless",
                hours=10)
PHOSPHATE = Bath("zinc phosphate", "zinc phosphate", 10, 4, 5, 150, density=10, tank_material="316 stainless")
DEGREASE = Bath("degrease", "parts-washer solution", 8, 4, 4, 150, tank_material="carbon steel")
BLACK_OXIDE = Bath("black oxide", "caustic soda concentrated", 5, 3, 3, 285, density=12, cover="lid", tank_material="carbon steel",
                   sheath="carbon steel", hours=6)
OIL = Bath("warm oil", "mineral oil", 5, 3, 3, 140, density=10, tank_material="carbon steel", sheath="carbon steel", cover="lid")
NITRIC = Bath("nitric passivation", "nitric acid", 6, 3, 4, 130, tank_material="316 stainless", sheath="titanium", air=50)
TIN = Bath("acid tin", "acid copper plating", 8, 3, 4, 85, density=15, sheath="PTFE-covered")

RECIPES: dict[str, tuple[Bath, ...]] = {
    "rack zinc": (SOAK, SOAK, ELECTRO, HOT_RINSE, PICKLE, WARM_RINSE, ZINC, ZINC, ZINC, ZINC, WARM_RINSE, CHROMATE, CHROMATE, SEAL,
                  HOT_RINSE),
    "barrel zinc": (SOAK, SOAK, SOAK, ELECTRO, PICKLE, WARM_RINSE, ZINC, ZINC, ZINC, ZINC, ZINC, ZINC, CHROMATE, SEAL, HOT_RINSE),
    "nickel chrome": (SOAK, SOAK, ELECTRO, HOT_RINSE, PICKLE, COPPER, COPPER, WARM_RINSE, NICKEL, NICKEL, NICKEL, CHROME, CHROME,
                      HOT_RINSE),
    "electroless nickel": (SOAK, ELECTRO, PICKLE, HOT_RINSE, ELECTROLESS, ELECTROLESS, ELECTROLESS, ELECTROLESS, WARM_RINSE, SEAL,
                           HOT_RINSE),
    "copper tin": (SOAK, ELECTRO, WARM_RINSE, COPPER, COPPER, COPPER, TIN, TIN, WARM_RINSE, HOT_RINSE),
    "anodize": (ANODIZE_CLEAN, ANODIZE_CLEAN, ETCH, ETCH, WARM_RINSE, DYE, DYE, DYE, HOT_SEAL, HOT_SEAL, HOT_SEAL, HOT_RINSE),
    "dye": (DYE, DYE, DYE, DYE, DYE, DYE, SEAL, SEAL, HOT_SEAL, HOT_RINSE),
    "pretreatment": (DEGREASE, DEGREASE, SOAK, WARM_RINSE, PHOSPHATE, PHOSPHATE, WARM_RINSE, SEAL, HOT_RINSE),
    "phosphate": (SOAK, SOAK, HOT_RINSE, PICKLE, PICKLE, WARM_RINSE, PHOSPHATE, PHOSPHATE, PHOSPHATE, WARM_RINSE, OIL, OIL),
    "black oxide": (SOAK, HOT_RINSE, PICKLE, BLACK_OXIDE, BLACK_OXIDE, HOT_RINSE, OIL, OIL),
    "parts wash": (DEGREASE, DEGREASE, DEGREASE, HOT_RINSE, HOT_RINSE, SEAL),
    "passivation": (SOAK, HOT_RINSE, NITRIC, NITRIC, NITRIC, HOT_RINSE, SEAL),
}
