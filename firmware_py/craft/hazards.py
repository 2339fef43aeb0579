"""What each substance on the shelf can do to a person, by the data sheet that was read for it.

The short words for each statement are own; the codes are those of the United Nations' system (GHS) and of
the European Union (EUH). A maker's newer sheet and local rules go before everything here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

DATA_SHEET = "Follow the safety data sheet and local rules."
GEAR = "Wear goggles and gloves; do not breathe dust or vapour."
NONE_LISTED = "no hazard listed on the sheet that was read"
UNREAD = "NO SHEET WAS READ FOR IT: read your supplier's sheet"

# The gravest first: a line of cautions is said in this order.
STATEMENTS: Mapping[str, str] = MappingProxyType(
    {
        "H314": "burns skin and eyes",
        "H318": "damages the eyes for life",
        "H350": "may cause cancer",
        "H360": "may harm fertility and the unborn child",
        "H301": "toxic if swallowed",
        "H311": "toxic through the skin",
        "H334": "may cause asthma if breathed in",
        "EUH032": "very toxic gas with acid",
        "EUH031": "toxic gas with acid",
        "H351": "suspected of causing cancer",
        "H361": "suspected of harming the unborn child",
        "H341": "suspected of damaging genes",
        "H373": "may harm organs over time",
        "H317": "may make the skin allergic for life",
        "H302": "harmful if swallowed",
        "H332": "harmful if breathed in",
        "H319": "irritates the eyes badly",
        "H315": "irritates the skin",
        "H335": "irritates the airways",
        "H272": "feeds fire",
        "H226": "burns easily",
        "H410": "very toxic to water life for long",
        "H400": "very toxic to water life",
        "H401": "toxic to water life",
        "H402": "harmful to water life",
    }
)

# What the graver statement says already, where a bath's are said together.
_GRAVER: Mapping[str, str] = MappingProxyType(
    {
        "H314": "H315 H318 H319",
        "H318": "H319",
        "H350": "H351",
        "H360": "H361",
        "H301": "H302",
        "EUH032": "EUH031",
        "H410": "H400 H401 H402",
        "H400": "H401 H402",
        "H401": "H402",
    }
)


@dataclass(frozen=True, slots=True)
class Hazards:
    """What a data sheet says of a substance.

    ``codes`` are keys of `STATEMENTS`; none of them with a ``sheet`` named means that the sheet lists none,
    no ``sheet`` that none could be read. ``also`` is what the sheet says in words, or what is done about it.
    Source: the sheet.
    """

    codes: tuple[str, ...] = ()
    sheet: str = ""
    also: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """Get what to beware of, in one line without the substance's name. Source: the sheet."""
        said = [words for code, words in STATEMENTS.items() if code in self.codes]
        if not self.sheet:
            said.append(UNREAD)
        elif not said and not self.also:
            said.append(NONE_LISTED)
        return "; ".join((*said, *self.also))


def _by(sheet: str, codes: str, *also: str) -> Hazards:
    """Return the hazards of a sheet that was read. Source: the sheet."""
    return Hazards(tuple(codes.split()), sheet, also)


_SO2 = "sulphur dioxide with acid"
_SO2_ASTHMA = "can bring on asthma"
_SLOWLY = "a little at a time into cold water, never water onto it"
_BROMIDES = "sheets differ on bromides and the unborn child, read your supplier's"

# Read on 2026-12-01 in stored copies; ICSC: International Chemical Safety Cards (ILO and WHO).
HAZARDS: Mapping[str, Hazards] = MappingProxyType(
    {
        "pyrogallol": _by(
            "NITE Japan 07-meti-0011e (FY2007); a maker's sheet of 1985, msdsreport.com BPBMW; ICSC 0770",
            "H302",
            "goes through the skin; irritates eyes and skin; damaged genes in tests; allergy reported",
        ),
        "hydroquinone": _by(
            "NITE Japan 07-meti-2007e (FY2007) for the eyes; the rest a maker's sheet, msdssafe.com 8942",
            "H302 H315 H317 H318 H341 H351 H400",
        ),
        "metol": _by(
            "ICSC 1528 (2004): eyes, skin, water; the codes as de.wiki.li/Metol quotes a maker's sheet",
            "H302 H317 H373 H410",
            "hurts the eyes",
        ),
        "glycin": Hazards(),
        "amidol": Hazards(),
        "pyrocatechin": _by(
            "Carl Roth 4249, 1.0 (2015); cancer: a maker's sheet, resorcinol-quinoline.com catechol-msds",
            "H301 H311 H315 H318 H341 H350",
        ),
        "paraminophenol": _by("EDQM Y0001955, 4-aminophenol (2023)", "H302 H332 H341 H410"),
        "paraminophenol hydrochloride": Hazards(),
        "chlorhydroquinone": Hazards(),
        "phenidone": Hazards(),
        "ascorbic acid": Hazards(),
        "sodium carbonate": _by("ICSC 1135 (2024)", "H319"),
        "potassium carbonate": _by("Armand Products M1252 (2015)", "H302 H315 H319 H332 H335 H402"),
        "sodium bicarbonate": Hazards(),
        "sodium hydroxide": _by("Fisher Scientific S318 (2014)", "H314 H335", _SLOWLY),
        "potassium hydroxide": _by(
            "ERCO Worldwide, potassium hydroxide solution (2020)", "H301 H314 H335", _SLOWLY
        ),
        "borax": _by("Kremer Pigmente 64000, version 7.0 (2016)", "H319 H360"),
        "sodium sulphite": _by(
            "ICSC 1200 (2009); acid: JCE CLIP, sodium sulfite", "H302 H317 H334 H402", _SO2
        ),
        "potassium metabisulphite": _by(
            "LabChem LC18770 (2018); wheezing: ICSC 1175 (1995)", "H318 EUH031", _SO2_ASTHMA
        ),
        "sodium metabisulphite": _by(
            "Santa Cruz sc-203389; asthma: INEOS Calabrian, sodium bisulfite",
            "H302 H315 H318 H335 EUH031",
            _SO2_ASTHMA,
        ),
        "sodium bisulphite": _by(
            "INEOS Calabrian, sodium bisulfite; ICSC 1134 (2018)", "H302 H319 EUH031", _SO2_ASTHMA
        ),
        "citric acid": _by("LabChem LC13150, 10 % (2017); ICSC 0855 (1998)", "H319"),
        "tartaric acid": Hazards(),
        "boric acid": _by("Molbase, boric acid; a maker in the USA says only suspected", "H360"),
        "acetic acid": _by(
            "Barium & Chemicals AC1010 (2016); ICSC 0363 (1997)",
            "H226 H314 H318",
            "acid into water, never the reverse",
        ),
        "potassium bromide": _by(
            "a maker's sheet, laurocapram-azone.com potassium-bromide-msds: not classified", "", _BROMIDES
        ),
        "sodium bromide": _by("Fisher Science Education S25538A (2014); Gecko 2270BC (2023): none", "H360"),
        "ammonium bromide": Hazards(also=(_BROMIDES,)),
        "potassium iodide": Hazards(),
        "sodium chloride": Hazards(),
        "sodium thiosulphate": _by(
            "Research Products International S23060 (2015); Panreac 1721: none", "H315 H319 H335", _SO2
        ),
        "chrome alum": _by("Acros ACC 01269; J. T. Baker C4367 (2006)", "H302 H315 H317 H319 H332 H335"),
        "potash alum": _by("PRO Chemical & Dye, potassium aluminum sulfate (2013)", "H302 H315 H319 H335"),
        "potassium ferricyanide": _by(
            "ICSC 1132 (2002); water life: Santa Cruz sc-203355",
            "EUH032 H401",
            "with acid or great heat hydrogen cyanide; irritates eyes and skin",
        ),
        "potassium ferrocyanide": _by(
            "a maker's sheet, foods-additive.com potassium-ferrocyanide-msds: not classified",
            "",
            "with acid or great heat hydrogen cyanide",
        ),
        "ammonium persulphate": _by(
            "ChemicalBook India, potassium persulfate, which OECD SIDS (2005) groups with the ammonium salt",
            "H272 H302 H315 H317 H319 H334 H335",
        ),
        "potassium permanganate": _by(
            "ChemicalBook India, potassium permanganate (2024)", "H272 H302 H361 H410"
        ),
        "sodium sulphate": Hazards(),
        "sodium sulphide": _by(
            "CLEAPSS Student Safety Sheet 59", "H314 EUH031", "with acid hydrogen sulphide, which kills"
        ),
    }
)


def substance_lines(names: Iterable[str]) -> tuple[str, ...]:
    """Return a line of cautions for each substance, once each; raises KeyError for one not on the shelf.

    Source: the sheets.
    """
    return tuple(f"{name}: {HAZARDS[name].words}" for name in dict.fromkeys(names))


def bottle_lines(names: Iterable[str]) -> tuple[str, ...]:
    """Return what a bath of these substances can do, each thing said once, for a label or a small screen.

    Raises KeyError for a substance that is not on the shelf. Source: the sheets.
    """
    held = tuple(dict.fromkeys(names))
    codes = {code for name in held for code in HAZARDS[name].codes}
    codes -= {less for code in codes for less in _GRAVER.get(code, "").split()}
    also = [words for name in held for words in HAZARDS[name].also]
    said = dict.fromkeys([*(words for code, words in STATEMENTS.items() if code in codes), *also])
    unread = [name for name in held if not HAZARDS[name].sheet]
    lines = [f"Holds {', '.join(held)}.", f"One or more of these: {'; '.join(said)}." if said else ""]
    lines += [f"{', '.join(unread)}: {UNREAD}." if unread else ""]
    return tuple(line for line in lines if line)


def sheet_lines(names: Iterable[str]) -> tuple[str, ...]:
    """Return for each substance which sheet its cautions come from. Source: own."""
    named = [(name, HAZARDS[name].sheet) for name in dict.fromkeys(names)]
    return tuple(f"{name}: {sheet}" for name, sheet in named if sheet)
