"""Which signs the faces of the papers have. A sign that none has is never an empty box: its number stands in its place, and it is said."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from importlib.util import find_spec
from pathlib import Path

NEVER = "\uffff"  # no face has it: what it looks like is what a face shows for a sign that it lacks
SIZE = 16
MORE = ("cvttf_NotoSansCJK_Regular",)  # packages with a face of Chinese, Japanese and Korean signs, where they are installed
_BEYOND = re.compile(r"[^\x00-\x7f]")
BREAK = "\N{ZERO WIDTH SPACE}"


def more_faces() -> list[Path]:
    """Faces with signs that ours lack, of the packages that are there."""
    found = []
    for name in MORE:
        spec = find_spec(name)
        if spec is not None and spec.origin:
            found += sorted(Path(spec.origin).parent.glob("*.[ot]tf"))
    return found


def lacking(texts: Iterable[str], faces: Sequence[Path]) -> frozenset[str]:
    """Signs of the texts that no face has."""
    left = {sign for text in texts if not text.isascii() for sign in _BEYOND.findall(text)} - {BREAK}
    for face in faces:
        if left:
            has = _has(face, left)
            left = {sign for sign in left if not has[sign]}
    return frozenset(left)


def _has(face: Path, signs: Iterable[str]) -> dict[str, bool]:
    from PIL import ImageFont

    try:
        font = ImageFont.truetype(str(face), SIZE, layout_engine=ImageFont.Layout.BASIC)
    except OSError:  # no font after all
        return dict.fromkeys(signs, False)
    blank = bytes(font.getmask(NEVER))
    return {sign: sign.isspace() or bytes(font.getmask(sign)) != blank for sign in signs}


def in_numbers(text: str, signs: frozenset[str]) -> str:
    """The text with "[U+69FD]" for each of these signs, so that two tags that differ still do."""
    if not signs or text.isascii():
        return text
    return text.translate({ord(sign): f"[U+{ord(sign):04X}]" for sign in signs})
