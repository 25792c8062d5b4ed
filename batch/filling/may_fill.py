"""Whether a workbook may be written into at all: reasons to refuse that stand in the file as a whole."""

from __future__ import annotations

from batch.errors import CannotFill
from batch.ooxml.guard import Package, file_kind
from batch.ooxml.package import elements, workbook_part
from batch.ooxml.sheet_xml import Survey

YES = frozenset({"1", "true", "on"})
AS_XLSX = "open it in a spreadsheet program, save it as .xlsx, and fill that"


def open_package(data: bytes, name: str) -> tuple[Package, str]:
    """The package and its workbook part.

    Raises:
        CannotFill: a kind of workbook that cannot be filled, or one that must not be changed.
        InputFileError: no workbook at all.
    """
    if file_kind(data, name) != "zip":
        raise CannotFill(f"it is a workbook of the older binary kind (.xls): {AS_XLSX}")
    package = Package(data, name)
    if package.find("mimetype"):
        raise CannotFill(f"it is an OpenDocument spreadsheet (.ods): {AS_XLSX}")
    part = workbook_part(package)
    if part.endswith(".bin"):
        raise CannotFill(f"it is a binary workbook (.xlsb): {AS_XLSX}")
    _refuse_signed(package)
    _refuse_locked(package, part)
    return package, part


def _refuse_signed(package: Package) -> None:
    signed = any(part.casefold().startswith("_xmlsignatures/") for part in package.parts())
    relations = package.find("_rels/.rels")
    if relations and not signed:
        signed = any(
            tag == "Relationship" and attributes.get("Type", "").endswith("/digital-signature/origin")
            for tag, attributes in elements(package.read(relations), package.name, relations)
        )
    if signed:
        raise CannotFill("it is digitally signed, and a change would break the signature: ask for an unsigned copy")


def _refuse_locked(package: Package, part: str) -> None:
    for tag, attributes in elements(package.read(part), package.name, part):
        if tag == "workbookProtection" and any(
            attributes.get(lock) in YES for lock in ("lockStructure", "lockWindows", "lockRevision")
        ):
            raise CannotFill("the workbook is protected: ask its owner to take the protection off, or to fill it")
        if tag == "fileSharing" and (attributes.get("reservationPassword") or attributes.get("hashValue")):
            raise CannotFill("a password is set against changing the workbook: ask its owner for a copy without it")
    if any("/revisions/" in other or other.endswith("revisionHeaders.xml") for other in package.parts()):
        raise CannotFill("it is shared and keeps a record of every change: stop sharing it, save, and fill that")


def refuse_protected(sheet: str, survey: Survey) -> None:
    """
    Raises:
        CannotFill: the sheet is protected.
    """
    for tag in survey.tags:
        if tag.name == "sheetProtection" and tag.attributes.get("sheet") in YES and len(tag.path) == 1:
            raise CannotFill(f"sheet {sheet} is protected: take the protection off, save, and fill that")
