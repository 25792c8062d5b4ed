"""How things look: number formats, colours and cell styles, each named once.

Numbers are stored unrounded; a format only decides what is shown. Colour never carries a meaning alone: a heading says its role in
words in the band above it, a status is a word.
"""

from __future__ import annotations

from batch.errors import SpecificationError
from batch.sheets.received import CARRIED_WORDS, EDIT_WORDS

FONT = "Arial"
SIZE = 9

# Percent columns hold 25 for 25 %: the unit stands in the heading.
FORMATS: dict[str, str] = {
    "text": "@",
    "prose": "General",
    "count": "#,##0",
    "volts": "General",
    "volts_1": "0.0",
    "kw": "#,##0.0??",  # decimal points stand one below the other, and 4.167 kW is not rounded
    "kw_0": "#,##0",
    "two_figures": "[<0.995]0.00;[<9.95]0.0;#,##0",
    "watt_density": "0.0",
    "energy": "#,##0.0",
    "amps": "#,##0.00",
    "rating": "General",
    "percent": "0.0",
    "percent_0": "0",
    "percent_2": "0.00",
    "percent_signed": "+0.0;-0.0;0.0",
    "temperature": "0.0",
    "kva": "#,##0.0",
    "kiloamps": "0.00",
    "length": "#,##0.0",
    "factor": "0.00",
    "ohms": "0.0000",
    "thickness": "0.0??",
    "volume": "#,##0",
    "hours": "0.00",
    "speed": "0.00",
    "mass_rate": "#,##0.0",
    "flow": "#,##0.0",
    "torque": "0.0",
    "money": "#,##0.00",
    "number": "General",
    "number_any": "General",
    "date": "yyyy-mm-dd",
    "moment": "yyyy-mm-dd hh:mm:ss",
}

INK = "#22282C"
WHITE = "#FFFFFF"
RULE = "#CBD2D0"  # hairlines; carries no meaning
QUIET = "#5A6469"
GIVEN = "#1B4F8A"
HEAD_GIVEN = "#DCE6F2"
TYPED_FILL = "#F1F5FA"  # cells that are taken where they are typed over; a sheet's line of help says so in words
HEAD_CALC = "#E7E9E6"
HEAD_RESULT = "#2F4A43"
HEAD_TEXT = "#566168"
GOOD = "#1F5B34"
LOOK_INK, LOOK_FILL = "#6B4300", "#FCEFD0"
STOP_INK, STOP_FILL = "#8A1A12", "#FBE2DF"
OUT_INK, OUT_FILL = "#4D2A63", "#EBE1F1"
LINK = "#0B5A6B"

Props = dict[str, object]

_BASE: Props = {"font_name": FONT, "font_size": SIZE, "font_color": INK, "valign": "top"}
_CELL: Props = _BASE | {"bottom": 1, "bottom_color": RULE}
_HEAD: Props = _BASE | {"bold": True, "text_wrap": True, "valign": "top", "border": 1, "border_color": RULE}
_BESIDE: Props = {"align": "left", "indent": 1}  # text stands clear of a number at its left
_BAND: Props = _BASE | {"font_size": 8, "valign": "vcenter"}

# What a role looks like: in its heading, in the band above it, in its cells, and what the band says.
BAND_WORDS: dict[str, dict[str, str]] = {  # sheets that are not about what to build
    "findings": {"input": "as given", "calculation": "", "result": "what it is", "text": ""},
    "code_basis": {"input": "", "calculation": "", "result": "", "text": "value and source"},
    "checks": {"input": "", "calculation": "compared", "result": "result", "text": "reference"},
}
COMPARED_WORDS = {"input": "", "calculation": "before, after", "result": "what changed", "text": "reference"}
_COMPARED = ("rows", "feeders", "types", "materials", "money", "price", "findings", "headings")
BAND_WORDS |= {f"compared_{what}": COMPARED_WORDS for what in _COMPARED}
BAND_WORDS["changes"] = COMPARED_WORDS
BAND_WORDS["carried_forward"] = CARRIED_WORDS
_ROLE_HEAD: dict[str, Props] = {
    "input": {"bg_color": HEAD_GIVEN, "font_color": GIVEN},
    "calculation": {"bg_color": HEAD_CALC, "font_color": INK},
    "result": {"bg_color": HEAD_RESULT, "font_color": WHITE},
    "text": {"bg_color": HEAD_TEXT, "font_color": WHITE},
}
_ROLE_CELL: dict[str, Props] = {
    "input": {"font_color": GIVEN},
    "calculation": {"font_color": INK},
    "result": {"font_color": INK, "bold": True},
    "text": {"font_color": INK},
}

STYLES: dict[str, Props] = {
    "title": _BASE | {"font_size": 16, "bold": True, "valign": "vcenter"},
    "subtitle": _BASE | {"font_color": QUIET, "valign": "vcenter"},
    "section": _BASE | {"font_size": 11, "bold": True, "bottom": 2, "bottom_color": HEAD_RESULT, "valign": "vcenter"},
    "plain": dict(_BASE),
    "wrap": _BASE | {"text_wrap": True},
    "label": _BASE | {"font_color": QUIET},
    "label_wrap": _BASE | {"font_color": QUIET, "text_wrap": True},
    "strong": _BASE | {"bold": True},
    "figure": _BASE | {"bold": True, "font_size": 14, "align": "left", "num_format": "#,##0"},
    "link": _BASE | {"font_color": LINK, "underline": 1},
    "link_cell": _CELL | {"font_color": LINK, "underline": 1, "num_format": "#,##0", "align": "left"},
    "link_codes": _CELL | {"font_color": LINK, "underline": 1, "text_wrap": True},
    "total_label": _BASE | {"font_color": QUIET, "italic": True, "font_size": 8},
    "fill_label": _BASE | {"italic": True, "font_color": QUIET, "text_wrap": True, "font_size": 8, "valign": "bottom", **_BESIDE},
    "good": _BASE | {"bold": True, "font_color": GOOD},
    "row_head": _CELL | {"bold": True},
    "caution_text": _BASE | {"text_wrap": True},
    # conditional: only what differs is set
    "is_good": {"font_color": GOOD, "bold": True},
    "is_look": {"font_color": LOOK_INK, "bg_color": LOOK_FILL, "bold": True},
    "is_stop": {"font_color": STOP_INK, "bg_color": STOP_FILL, "bold": True},
    "is_out": {"font_color": OUT_INK, "bg_color": OUT_FILL, "bold": True},
}

# Status and severity words and the conditional style each gets; the word itself is what counts.
WORD_STYLES: dict[str, str] = {
    "sized": "is_good",
    "sized, review": "is_look",
    "HOLD (not released for fabrication)": "is_stop",
    "not released for fabrication": "is_stop",
    "not sized": "is_out",
    "hold": "is_stop",
    "caution": "is_look",
    "enough": "is_good",
    "marginal": "is_look",
    "short": "is_stop",
    "never gets there": "is_stop",
    "not judged": "is_out",
    "PASS": "is_good",
    "FAIL": "is_stop",
    "from memory, unverified": "is_look",
}

EDITED = EDIT_WORDS
EDITED_STYLE = {EDITED: "is_stop"}

# Every pair of ink and ground that occurs, for the contrast test.
PAIRS: tuple[tuple[str, str], ...] = (
    (INK, WHITE),
    (QUIET, WHITE),
    (GIVEN, WHITE),
    (GIVEN, TYPED_FILL),
    (INK, TYPED_FILL),
    (LINK, TYPED_FILL),
    (GOOD, WHITE),
    (LINK, WHITE),
    (LOOK_INK, WHITE),
    (STOP_INK, WHITE),
    (GIVEN, HEAD_GIVEN),
    (INK, HEAD_CALC),
    (WHITE, HEAD_RESULT),
    (WHITE, HEAD_TEXT),
    (LOOK_INK, LOOK_FILL),
    (STOP_INK, STOP_FILL),
    (OUT_INK, OUT_FILL),
)


def cell_props(role: str, format: str, wrap: bool = False, typed: bool = False) -> Props:
    """Properties of a body cell: role gives ink and weight, format the number format; text stands clear of a number at its left.
    `typed`: it is taken where it is typed over.
    """
    if format not in FORMATS:
        raise SpecificationError(f"number format {format!r} is not in the list; known: {', '.join(sorted(FORMATS))}")
    props = _CELL | _ROLE_CELL[role] | {"num_format": FORMATS[format]}
    if format in ("text", "prose"):
        props |= _BESIDE
    else:
        props["align"] = "right"
    if wrap:
        props["text_wrap"] = True
    if typed:
        props["bg_color"] = TYPED_FILL
    return props


def head_props(role: str, number: bool = False) -> Props:
    """A heading stands where its cells stand: at the right over numbers, indented over text."""
    return _HEAD | _ROLE_HEAD[role] | ({"align": "right"} if number else _BESIDE)


def band_props(role: str) -> Props:
    return _BAND | _ROLE_HEAD[role] | _BESIDE


def total_props(format: str) -> Props:
    """A total above the heading: bold, ruled below."""
    return _BASE | {"bold": True, "num_format": FORMATS[format], "bottom": 1, "bottom_color": QUIET, "valign": "vcenter"}


class Styles:
    """Makes each format of a workbook once and hands it out by its properties.

    A format's index is settled when it is first asked for, so that rows prepared early and cells written late agree.
    """

    def __init__(self, book) -> None:
        self._book = book
        self._made: dict[tuple, object] = {}
        self._named: dict[str, object] = {}
        self._conditional: dict[str, object] = {}

    def of(self, props: Props):
        """The xlsxwriter format with exactly these properties."""
        key = tuple(sorted(props.items(), key=lambda item: item[0]))
        made = self._made.get(key)
        if made is None:
            made = self._made[key] = self._book.add_format(dict(props))
            made._get_xf_index()
        return made

    def __getitem__(self, name: str):
        if (made := self._named.get(name)) is None:
            made = self._named[name] = self.of(STYLES[name])
        return made

    def conditional(self, name: str):
        """A format for a conditional rule; kept apart, since those are numbered in a list of their own."""
        made = self._conditional.get(name)
        if made is None:
            made = self._conditional[name] = self._book.add_format(dict(STYLES[name]))
        return made

    def cell(self, role: str, format: str, wrap: bool = False, typed: bool = False):
        return self.of(cell_props(role, format, wrap, typed))

    def link_column(self, role: str, typed: bool = False):
        """Cells of our own words that lead to another sheet."""
        return self.of(cell_props(role, "prose", True, typed) | {"font_color": LINK, "underline": 1})

    def one_line(self, role: str, format: str = "prose", typed: bool = False):
        """Cells of words that never wrap and become smaller where their column is too narrow."""
        return self.of(cell_props(role, format, typed=typed) | {"shrink": True})

    def head(self, role: str, number: bool = False):
        return self.of(head_props(role, number))

    def band(self, role: str):
        return self.of(band_props(role))

    def total(self, format: str):
        return self.of(total_props(format))
