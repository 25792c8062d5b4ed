"""Looks: contrast by the published formula, one list of formats, and room for every word."""

from __future__ import annotations

from itertools import pairwise

import pytest

from batch.errors import SpecificationError
from batch.schedules import RESULTS
from batch.sheets import INPUTS
from batch.sheets.received import ROLE_WORDS
from batch.writing import styles
from batch.writing.paper import STRIP, Footer, strips
from batch.writing.sheet_frame import fitted_width
from batch.writing.text_fit import WIDEST, length, lines, row_height, word_room


def luminance(colour: str) -> float:
    """Relative luminance: W3C, Web Content Accessibility Guidelines 2.1, definition "relative luminance"."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(ink: str, ground: str) -> float:
    """Contrast ratio: the same document, definition "contrast ratio"."""
    light, dark = sorted((luminance(ink), luminance(ground)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_formula_by_published_values():
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)  # WCAG 2.1: ratios range from 1 to 21
    # 4.48: a grey that is known to fall just short of 4.5 (from memory, no source at hand)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize(("ink", "ground"), styles.PAIRS)
def test_contrast_is_at_least_four_and_a_half(ink, ground):
    assert contrast(ink, ground) >= 4.5  # WCAG 2.1, success criterion 1.4.3, text of normal size


def test_every_ink_on_every_ground_is_in_the_list():
    """Each style's ink and ground, cells of every role included: none escapes the contrast test."""
    looks = [*styles.STYLES.values()]
    for role in ROLE_WORDS:
        looks += [styles.head_props(role), styles.band_props(role), styles.cell_props(role, "text")]
    looks.append(styles.total_props("kw"))
    for look in looks:
        ink, ground = look.get("font_color", styles.INK), look.get("bg_color", styles.WHITE)
        assert (ink, ground) in styles.PAIRS, look


def test_formats_are_one_short_list_and_every_column_uses_it():
    assert len(styles.FORMATS) <= 40
    for sheet in (*INPUTS, *RESULTS):
        for column in sheet.columns:
            assert column.format in styles.FORMATS
    with pytest.raises(SpecificationError, match="not in the list"):
        styles.cell_props("input", "furlongs")


def test_widths_of_letters_by_the_font():
    # Liberation Sans 2, table hmtx, units of 1000 to the em: n 556, W 944, i 222; bold n 611
    assert length("n") == 556
    assert length("Wi") == 944 + 222
    assert length("n", bold=True) == 611
    assert length("漢") == 1000


@pytest.mark.parametrize(
    ("text", "width", "expected"),
    [
        ("", 10, 1),
        ("short", 10, 1),
        ("two\nlines", 30, 2),
        ("0" * 10, 10.8, 1),  # a column of n digits holds n digits, with a little to spare
        ("0" * 25, 10, 3),  # a word too long is broken
        ("aaa bbb ccc", 4, 3),
    ],
)
def test_lines(text, width, expected):
    assert lines(text, width) == expected


def test_no_heading_word_is_broken():
    for sheet in (*INPUTS, *RESULTS):
        for column in sheet.columns:
            for us in (False, True):
                title = column.title(us)
                width = fitted_width(column.width, title)
                assert width >= column.width
                for word in title.split():
                    assert lines(word, width - 1.3, True) == 1
    assert word_room("a") < word_room("aa")


def test_no_heading_makes_a_column_wider_than_programs_take():
    """One word of 240 wide letters asks for far more; the writer stores 5 pixels of padding on top (255 x 7 = 1785 = 1780 + 5)."""
    assert fitted_width(10.0, "W" * 240) == fitted_width(300.0, "a") == WIDEST
    assert int(WIDEST * 7 + 0.5) + 5 == 255 * 7


def test_rows_grow_with_lines_and_stop_where_programs_do():
    assert row_height(2) > row_height(1)
    assert row_height(1000) < 409.5


def test_a_footer_survives_names_that_look_like_codes():
    # ECMA-376 part 1, 18.3.1.46: & begins a code, &8 sets a size; && is one & of text
    assert Footer("3 & 4").text() == "&L&8 &F&C&8 &A, page &P of &N&R&8 revision 3 && 4"
    assert Footer().text() == "&L&8 &F&C&8 &A, page &P of &N"
    assert len(Footer("&" * 300).text()) <= 255
    assert "\n" not in Footer("two\nlines").text()


def test_strips_hold_every_column_once_and_are_even():
    assert strips([10.0] * 8, 3) == [(0, 7)]
    cuts = strips([10.0] * 60, 3)
    assert cuts[0][0] == 0
    assert cuts[-1][1] == 59
    assert all(later[0] == earlier[1] + 1 for earlier, later in pairwise(cuts))
    widths = [10.0 * (last - first + 1) + (30.0 if first else 0.0) for first, last in cuts]
    assert max(widths) <= STRIP
    assert max(widths) - min(widths) <= 60
