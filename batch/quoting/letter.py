"""The quotation as a letter that anybody can edit: a copy of a template with its fields filled.

A firm's own template is any .docx with fields in braces: {sentence}, {total}, {included} … fill their place; {positions}, {questions} and
{cautions}, each alone in a paragraph, become a table or a list in its place. The table of questions
has a place for each answer, which is read again from there.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Callable, Iterator, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, BadZipFile, ZipFile, ZipInfo

import docx
from docx.document import Document
from docx.enum.text import WD_PARAGRAPH_ALIGNMENT
from docx.opc.exceptions import PackageNotFoundError
from docx.oxml.ns import qn
from docx.shared import Cm, Inches, Length, Pt
from docx.table import Table
from docx.text.paragraph import Paragraph

from batch.errors import InputFileError, OutputFileError
from batch.quoting.awaited import follows
from batch.quoting.offer import BLANK, CustomerOffer, rounding_words
from batch.whole_file import FileInTheMaking, whole_file
from batch.writing.earlier_file import MADE, saved_since
from batch.writing.paper import INCHES

FIELD = re.compile(r"\{(\w+)\}")
THUMBNAIL = re.compile(r"^docProps/thumbnail\.")
NO_PROGRAM = (
    b'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
    b'<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties"/>'
)
FIRST_DAY = (1980, 1, 1, 0, 0, 0)
ASK = (
    "Please write your answers under Your answer and send this letter back, or answer on the sheet Questions of the workbook that comes "
    "with it. The reference leads each answer back to its question; please leave it as it is."
)
BETWEEN_NOTHING = re.compile(r",(?:\s*,)+")  # what is left of "{title}, {project}, page" where a field says nothing
QUESTION_HEADS = ("No.", "Question", "In your list; until you answer", "How to answer", "Your answer", "Reference")
REFERENCE_SHOWN = 60  # characters
LONGEST_PROPERTY = 255  # characters of a document's property that python-docx writes (its own limit)
QUESTION_WIDTHS = (Cm(1.1), Cm(5.2), Cm(2.9), Cm(2.6), Cm(3.1), Cm(2.2))
LAYOUT = (  # of the template that the program brings: style and words of each paragraph
    ("Title", "{title}"), ("Normal", "{customer}"), ("Normal", "{date}"), ("Normal", "{project}"), ("Normal", "{sentence}"),
    ("Normal", "{note}"),
    ("Heading 1", "Positions"), ("Normal", "{positions}"), ("Heading 3", "{total}"), ("Normal", "{rounding}"),
    ("Heading 1", "Included"), ("Normal", "{included}"), ("Heading 1", "Not included"), ("Normal", "{excluded}"),
    ("Heading 1", "Taken where your list says nothing"), ("Normal", "{assumptions}"),
    ("Heading 1", "Questions to you"), ("Normal", "{questions}"), ("Heading 1", "Conditions"), ("Normal", "Validity: {validity}"),
    ("Normal", "Delivery: {delivery}"), ("Normal", "Terms: {terms}"),
    ("Normal", "Warranty: {warranty}"), ("Heading 1", "Cautions"), ("Normal", "{cautions}"), ("Normal", "Signature: {signature}"),
)  # fmt: skip


def plain_template(paper: str = "letter") -> Document:
    """The template of a letter that the program brings: to be saved, edited and used."""
    try:
        made = docx.Document()
    except (OSError, PackageNotFoundError) as fault:  # the library's own empty letter is a file of its installation
        raise OutputFileError(f"the empty letter of python-docx cannot be read ({type(fault).__name__}): install it again") from fault
    made.styles["Normal"].font.name, made.styles["Normal"].font.size = "Calibri", Pt(11)
    for section in made.sections:
        section.page_width, section.page_height = map(Inches, INCHES[paper])
        section.left_margin = section.right_margin = Cm(2.2)
        section.top_margin = section.bottom_margin = Cm(2)
    for style, words in LAYOUT:
        made.add_paragraph(words, style)
    _page_numbers(made.sections[0].footer.paragraphs[0])
    _anonymous(made)
    return made


def write_template(path: Path) -> FileInTheMaking:
    """Saves that template, to be edited."""
    with whole_file(path) as part:
        _save(plain_template(), part.path)
    return part


def write_letter(offer: CustomerOffer, path: Path, template: Path | None = None, paper: str = "letter") -> FileInTheMaking:
    """Writes the letter to `path`, whole or not at all. `paper`: "letter" or "a4", where there is no template of the firm's own.

    Raises:
        InputFileError: the template cannot be read.
        OutputFileError: the letter cannot be written.
    """
    made = _opened(template, paper)
    words = _fields(offer)
    lists = _lists(offer)
    for paragraph in list(_paragraphs(made)):
        alone = FIELD.fullmatch(paragraph.text.strip())
        if alone and alone[1] == "positions":
            _table(made, paragraph, offer)
        elif alone and alone[1] == "questions" and offer.questions:
            _questions(made, paragraph, offer)
        elif alone and alone[1] in lists:
            _items(paragraph, lists[alone[1]])
        elif alone and not words.get(alone[1], alone[1]):
            paragraph._p.getparent().remove(paragraph._p)  # a note that there is not leaves no gap
        else:
            _fill(paragraph, words)
    _anonymous(made, f"{offer.title}, {words['project']}".strip(", "))
    with whole_file(path) as part:
        part.why = part.why or saved_since(part.wanted)
        _save(made, part.path)
    return part


def _opened(template: Path | None, paper: str) -> Document:
    if template is None:
        return plain_template(paper)
    try:
        return docx.Document(str(template))
    except (OSError, ValueError, KeyError, BadZipFile) as fault:
        raise InputFileError(f"{template}: this is no letter template that can be read ({type(fault).__name__}): name a .docx") from fault
    except Exception as fault:  # the library has errors of its own for what is no package
        raise InputFileError(f"{template}: this is no letter template that can be read: name a .docx") from fault


def _fields(offer: CustomerOffer) -> dict[str, str]:
    currency = f" {offer.currency}" if offer.currency else ""
    total = "" if offer.total is not None or offer.so_far is not None else "No total: prices follow."
    if offer.total is not None:
        total = f"{'At least, of the positions with a price' if offer.at_least else 'Total before tax'}: {offer.total:,.2f}{currency}"
        if offer.tax is not None and offer.to_pay is not None:
            total += f"; tax, {offer.tax_pct:f} %: {offer.tax:,.2f}{currency}; to pay: {offer.to_pay:,.2f}{currency}"
    if offer.so_far is not None:
        total += f"{'. ' * bool(total)}{offer.so_far.words}: {offer.so_far.amount:,.2f}{currency}"
        total += "" if offer.together is None else f". At least, both together, incomplete: {offer.together:,.2f}{currency}"
    return {
        "title": offer.title,
        "project": " ".join(filter(None, (offer.name or offer.project, offer.revision and f"revision {offer.revision}"))),
        "customer": ", ".join(filter(None, (offer.customer, offer.site))) or BLANK, "site": offer.site, "date": offer.date or BLANK,
        "revision": offer.revision, "sentence": offer.sentence, "note": offer.note, "total": total,
        "rounding": "" if offer.total is None and offer.so_far is None else rounding_words(offer), "validity": offer.validity,
        "delivery": offer.delivery, "terms": offer.terms, "warranty": offer.warranty, "signature": offer.signature,
        "currency": offer.currency, "included": _run_in(offer.included), "excluded": _run_in(offer.excluded),
        "assumptions": _run_in(offer.assumptions),
    }  # fmt: skip


def _run_in(listed: Sequence[str]) -> str:
    """Items as one sentence."""
    words = "; ".join(listed) or "none"
    return f"{words[0].upper()}{words[1:]}."


def _lists(offer: CustomerOffer) -> dict[str, list[str]]:
    return {"questions": ["None: nothing is open."], "cautions": list(offer.cautions)}


def _paragraphs(made: Document) -> Iterator[Paragraph]:
    yield from made.paragraphs
    for table in made.tables:
        for row in table.rows:
            for cell in row.cells:
                yield from cell.paragraphs
    for section in made.sections:
        yield from section.header.paragraphs
        yield from section.footer.paragraphs


def _fill(paragraph: Paragraph, words: dict[str, str]) -> None:
    """Fields of a paragraph filled in; its runs keep their look as far as a field stands in one."""
    if not FIELD.search(paragraph.text):
        return
    replace: Callable[[re.Match[str]], str] = lambda found: words.get(found[1], found[0])  # noqa: E731
    for run in paragraph.runs:
        if FIELD.search(run.text):
            run.text = BETWEEN_NOTHING.sub(",", FIELD.sub(replace, run.text))
    if FIELD.search(paragraph.text) and paragraph.runs:  # a field that stands in several runs
        text = FIELD.sub(replace, paragraph.text)
        for run in paragraph.runs[1:]:
            run.text = ""
        paragraph.runs[0].text = text


def _items(paragraph: Paragraph, listed: Sequence[str]) -> None:
    """A list in place of the paragraph, each item in a copy of it with a mark before it."""
    for words in listed:
        item = copy.deepcopy(paragraph._p)
        paragraph._p.addprevious(item)
        one = Paragraph(item, paragraph._parent)
        for run in one.runs[1:]:
            run._r.getparent().remove(run._r)
        one.runs[0].text = f"\u2022 {words}"
        one.paragraph_format.left_indent, one.paragraph_format.first_line_indent = Cm(0.6), Cm(-0.4)
        one.paragraph_format.space_after = Pt(2)
    paragraph._p.getparent().remove(paragraph._p)


def _table(made: Document, paragraph: Paragraph, offer: CustomerOffer) -> None:
    """The table of positions in place of the paragraph."""
    unit = f" ({offer.currency})" if offer.currency else ""
    widths = (Cm(2.6), Cm(8.4), Cm(2.4), Cm(3.7))
    prices = (follows(place) if place.price is None else f"{place.price:,.2f}" for place in offer.positions)
    rows = [(place.tag, place.words, f"{place.quantity:,}", price) for place, price in zip(offer.positions, prices, strict=True)]
    table = _ruled(made, ("Position", "What it is", "Quantity", f"Price{unit}"), rows, widths)
    for row in table.rows:
        for cell in row.cells[2:]:
            cell.paragraphs[0].alignment = WD_PARAGRAPH_ALIGNMENT.RIGHT
    paragraph._p.addprevious(table._tbl)
    paragraph._p.getparent().remove(paragraph._p)


def _questions(made: Document, paragraph: Paragraph, offer: CustomerOffer) -> None:
    """The table of questions in place of the paragraph, with a place for each answer; what it is for above it."""
    before = copy.deepcopy(paragraph._p)
    paragraph._p.addprevious(before)
    asking = Paragraph(before, paragraph._parent)
    for run in asking.runs[1:]:
        run._r.getparent().remove(run._r)
    asking.runs[0].text = ASK
    rows = [(str(one.number), one.words, one.beside, one.how, "", one.reference) for one in offer.questions]
    table = _ruled(made, QUESTION_HEADS, rows, QUESTION_WIDTHS)
    for row in table.rows:
        for cell in row.cells:
            for run in cell.paragraphs[0].runs:
                run.font.size = Pt(9)
    for row in table.rows[1:]:
        place = row.cells[-1].paragraphs[0]
        whole = place.text
        place.runs[0].text, more = whole[:REFERENCE_SHOWN], place.add_run(whole[REFERENCE_SHOWN:])
        more.font.hidden = True  # long where many rows are asked about; it goes with the letter all the same
        for run in place.runs:
            run.font.size = Pt(4)
    paragraph._p.addprevious(table._tbl)
    paragraph._p.getparent().remove(paragraph._p)


def _ruled(made: Document, heads: Sequence[str], rows: Sequence[Sequence[str]], widths: Sequence[Length]) -> Table:
    """A table with lines, whose rows stay whole at the foot of a page and whose headings stand on each."""
    table = made.add_table(rows=1, cols=len(heads))
    table.style = "Table Grid" if "Table Grid" in [style.name for style in made.styles] else table.style
    for cell, words in zip(table.rows[0].cells, heads, strict=True):
        cell.text = ""
        cell.paragraphs[0].add_run(words).bold = True
    table.rows[0]._tr.get_or_add_trPr().append(table.rows[0]._tr.makeelement(qn("w:tblHeader"), {}))
    for words_of_row in rows:
        for cell, words in zip(table.add_row().cells, words_of_row, strict=True):
            cell.text = words
    table.autofit = False
    for column, width in zip(table.columns, widths, strict=True):
        column.width = width
    for row in table.rows:
        row._tr.get_or_add_trPr().insert(0, _keep_whole(row._tr))
        for cell, width in zip(row.cells, widths, strict=True):
            cell.width = width
    return table


def _keep_whole(row: Any) -> Any:
    """The mark by which a row is not cut at the foot of a page."""
    return row.makeelement(qn("w:cantSplit"), {})


def _page_numbers(paragraph: Paragraph) -> None:
    """Title, project, and "page 1 of 3", which a text program counts (ISO/IEC 29500-1, 17.16.19: simple fields)."""
    paragraph.alignment = WD_PARAGRAPH_ALIGNMENT.RIGHT
    paragraph.add_run("{title}, {project}, page ")
    for name, between in (("PAGE", " of "), ("NUMPAGES", "")):
        field = paragraph._p.makeelement(qn("w:fldSimple"), {qn("w:instr"): name})
        run = field.makeelement(qn("w:r"), {})
        text = run.makeelement(qn("w:t"), {})
        text.text = "1"
        run.append(text)
        field.append(run)
        paragraph._p.append(field)
        if between:
            paragraph.add_run(between)


def _anonymous(made: Document, title: str = "") -> None:
    """No author, no clock; its own title, as far as a property holds it: the whole of it stands in the letter."""
    of = made.core_properties
    of.author = of.last_modified_by = of.comments = of.keywords = of.subject = of.category = ""
    of.title = title if len(title) <= LONGEST_PROPERTY else f"{title[: LONGEST_PROPERTY - 1]}\u2026"
    of.created = of.modified = of.last_printed = MADE.replace(tzinfo=None)
    of.revision = 1


def _save(made: Document, path: Path) -> None:
    """Saves it with the parts' dates taken off, so that the same offer gives the same bytes."""
    held = BytesIO()
    made.save(held)
    with ZipFile(held) as package, ZipFile(path, "w", ZIP_DEFLATED) as plain:
        for name in package.namelist():
            if THUMBNAIL.search(name):
                continue  # a picture of the template that it was made from
            info = ZipInfo(name, FIRST_DAY)
            info.compress_type = ZIP_DEFLATED
            plain.writestr(info, _neutral(name, package.read(name)))


def _neutral(name: str, part: bytes) -> bytes:
    """A part without the name of a program, and without the picture."""
    if name == "docProps/app.xml":
        return NO_PROGRAM
    if name == "_rels/.rels":
        return re.sub(rb"<Relationship\b[^>]*thumbnail[^>]*/>", b"", part)
    return part
