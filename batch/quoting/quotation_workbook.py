"""The quotation as a workbook: written new, values and SUM only, no hidden sheet, no name, no comment, no author."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

from xlsxwriter.utility import xl_rowcol_to_cell

from batch.quoting.awaited import follows
from batch.quoting.offer import CustomerOffer, parts_of, rounding_words
from batch.sheets.received import OF_POSITIONS
from batch.whole_file import FileInTheMaking
from batch.writing.book import Book, whole_book
from batch.writing.page import Page
from batch.writing.paper import FOOT, PAPER, SIDE, TOP, Footer, Scaled, print_scaled
from batch.writing.styles import STYLES
from batch.writing.text_fit import lines, row_height

WIDTHS = (20.0, 62.0, 10.0, 30.0)
TAG, WORDS, COUNT, PRICE = range(4)
ASKED = (5.0, 56.0, 30.0, 26.0, 34.0, 12.0)
TAKEN = "Taken where your list says nothing"
RIGHT = {"align": "right"}


def write_workbook(offer: CustomerOffer, path: Path, paper: str = "letter") -> FileInTheMaking:
    """Writes it to `path`, whole or not at all; `paper`: "letter" or "a4". OutputFileError where that fails."""
    with whole_book(path, f"{offer.title} {offer.project}".strip()) as book:
        book.made_by = ""
        _offer(book, offer, paper)
        if offer.questions:
            _questions(book, offer, paper)
    return book.part


def _offer(book: Book, offer: CustomerOffer, paper: str) -> None:
    page = Page(book, book.add_worksheet(offer.title.partition(",")[0]), WIDTHS)  # its name stands at the foot of each page
    page.title(offer.title)
    for label, words in parts_of(offer):
        page.entry(label, words, WORDS)
    page.row += 1
    page.spread(TAG, offer.sentence, "strong")
    page.fit((offer.sentence, sum(WIDTHS)))
    page.row += 1
    if offer.note:
        page.spread(TAG, offer.note, "plain")
        page.fit((offer.note, sum(WIDTHS)))
        page.row += 1
    _positions(page, offer)
    for heading, listed in (("Included", offer.included), ("Not included", offer.excluded), (TAKEN, offer.assumptions)):
        if listed:
            page.section(heading)
            words = "; ".join(listed)
            page.spread(TAG, f"{words[0].upper()}{words[1:]}.")
            page.fit((words, sum(WIDTHS)))
            page.row += 1
    page.section("Conditions")
    for label, words in (("Validity", offer.validity), ("Delivery", offer.delivery), ("Terms", offer.terms), ("Warranty", offer.warranty),
                         ("Signature", offer.signature)):  # fmt: skip
        page.text(TAG, label, "label_wrap")
        page.spread(WORDS, words)
        page.fit((words, sum(WIDTHS[WORDS:])))
        page.row += 1
    page.section("Cautions")
    for words in offer.cautions:
        page.spread(TAG, words)
        page.fit((words, sum(WIDTHS)))
        page.row += 1
    _on_paper(page, offer, paper)


def _on_paper(page: Page, offer: CustomerOffer, paper: str) -> None:
    """One page wide, no heading at the foot of one; no print area, which would be a defined name. Questions lie across the page."""
    page.sheet.set_paper(PAPER[paper])
    page.sheet.set_margins(left=SIDE, right=SIDE, top=TOP, bottom=FOOT)
    page.sheet.set_footer(Footer(offer.revision, paper).text())
    if page.widths == ASKED:
        page.sheet.set_landscape()
        print_scaled(page.sheet, Scaled(paper, True, ASKED), ())
        return
    page.sheet.set_portrait()
    page.print_in_whole_blocks(paper)


def _positions(page: Page, offer: CustomerOffer) -> None:
    unit = f" ({offer.currency})" if offer.currency else ""
    page.section("Positions")
    for at, words in enumerate((*OF_POSITIONS[:-1], f"{OF_POSITIONS[-1]}{unit}")):
        page.text(at, words, {**STYLES["row_head"], **(RIGHT if at >= COUNT else {})})
    page.row += 1
    first = page.row
    for place in offer.positions:
        page.text(TAG, place.tag, "wrap")
        page.text(WORDS, place.words, "wrap")
        page.number(COUNT, place.quantity, "count")
        if place.price is None:
            page.text(PRICE, follows(place), {**STYLES["wrap"], **RIGHT})
        else:
            page.number(PRICE, float(place.price), "money")
        page.fit((place.tag, WIDTHS[TAG]), (place.words, WIDTHS[WORDS]), (follows(place) if place.price is None else "", WIDTHS[PRICE]))
        page.row += 1
    if offer.total is None and offer.so_far is None:
        page.text(WORDS, "No total: prices follow.", "strong")
        page.row += 1
        return
    page.text(WORDS, rounding_words(offer), "wrap")
    page.fit((rounding_words(offer), WIDTHS[WORDS]))
    page.row += 1
    cells = f"{xl_rowcol_to_cell(first, PRICE)}:{xl_rowcol_to_cell(page.row - 2, PRICE)}"
    if offer.total is not None:
        _sum(page, "At least, of the positions with a price" if offer.at_least else "Total before tax", offer.total, f"=SUM({cells})")
    if offer.so_far is not None:
        _sum(page, offer.so_far.words, offer.so_far.amount, "")
    if offer.together is not None:
        both = f"{xl_rowcol_to_cell(page.row - 2, PRICE)}:{xl_rowcol_to_cell(page.row - 1, PRICE)}"
        _sum(page, "At least, both together, incomplete", offer.together, f"=SUM({both})")
    if offer.tax is not None and offer.to_pay is not None:
        total = xl_rowcol_to_cell(page.row - 1, PRICE)
        _sum(page, f"Tax, {offer.tax_pct:f} %", offer.tax, "")
        _sum(page, "To pay", offer.to_pay, f"=SUM({total}:{xl_rowcol_to_cell(page.row - 1, PRICE)})")


def _sum(page: Page, words: str, amount: Decimal, formula: str) -> None:
    page.text(WORDS, words, {**STYLES["strong"], "text_wrap": True})
    page.fit((words, WIDTHS[WORDS]))
    page.number(PRICE, float(amount), "money", "strong", formula=formula)
    page.row += 1


def _questions(book: Book, offer: CustomerOffer, paper: str) -> None:
    page = Page(book, book.add_worksheet("Questions"), ASKED)
    page.title("Questions to you", "Please write your answer beside each and send this workbook back.")
    for at, words in enumerate(("No.", "Question", "In your list; until you answer", "How to answer", "Your answer", "Reference")):
        page.text(at, words, "row_head")
    page.row += 1
    box = {**STYLES["wrap"], "border": 1, "border_color": "#9AA5B1", "valign": "top"}
    apart = {**STYLES["wrap"], "indent": 1}
    small = {**STYLES["plain"], "font_size": 6, "font_color": "#9AA5B1", "valign": "top", "text_wrap": True}
    for one in offer.questions:
        page.number(0, one.number, "count", {**STYLES["wrap"], "valign": "top", "align": "left"})
        page.text(1, one.words, "wrap")
        page.text(2, one.beside, apart)
        page.text(3, one.how, apart)
        page.text(4, "", box)
        page.text(5, one.reference, small)
        tall = max(lines(words, width - 2.0) for words, width in zip((one.words, one.beside, one.how), ASKED[1:4], strict=True))
        page.height(row_height(tall))  # the reference is cut at the foot of its cell, not the page shrunk to it
        page.row += 1
    page.spread(1, "The reference leads each answer back to its question; please leave it as it is.", "plain")
    page.row += 1
    _on_paper(page, offer, paper)
