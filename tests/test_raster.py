"""Pictures are stamped past Pillow's own checks: the same dots as with its stock calls, read back by its own reader."""

from __future__ import annotations

import zlib
from io import BytesIO

import pytest
from PIL import Image, ImageDraw

from batch.drawings.drawing_list import NAME, Drawing, Plan
from batch.drawings.lettering import font, width
from batch.drawings.raster import DASHES, FILTER, TALL, THICK, WHITE, _symbol, _text, png
from batch.ooxml import deflate

GREYS = {0: 0, 1: 85, 2: 170, 3: 255}


def invented() -> Drawing:
    """Every style of line, symbols both ways, and words at each anchor, level and upward."""
    plan = Plan()
    for at, style in enumerate(THICK):
        plan.line((40, 30 + 20 * at), (401, 30 + 20 * at), (401, 300), style=style)
    for at, kind in enumerate(("fuse", "junction", "breaker", "transformer", "terminal")):
        plan.symbol(kind, 80 + 60 * at, 220, level=True)
        plan.symbol(kind, 80 + 60 * at, 300)
    for at, anchor in enumerate("lmr"):
        plan.say(200, 360 + 30 * at, "AV Today's 12 AWG, fj 3.5 kW", NAME, anchor)
        plan.say(430 + 30 * at, 200, "upward Yj, 2 x", NAME, anchor, turned=True)
    plan.line((-3, 440), (30, 440))  # begins left of the page: cut off, and no row's filter is touched
    return plan.done(460, 513)


def by_stock_calls(drawing: Drawing) -> Image.Image:
    page = Image.new("P", (drawing.width, drawing.height), WHITE)
    whole = Image.new("L", (1, 1))._new  # an image of what the stamps are
    for line in drawing.lines:
        left, right = sorted((line.x1, line.x2))
        top, bottom = sorted((line.y1, line.y2))
        thick = THICK[line.style]
        half = thick // 2
        box = (left - half, top - half, right + thick - half, bottom + thick - half)
        if line.style in DASHES:
            long = max(box[2] - box[0], box[3] - box[1])
            drawn = [255 * (at % 2 == 0) for _ in range(long) for at, run in enumerate(DASHES[line.style]) for _ in range(run)][:long]
            page.paste(0, box, Image.frombytes("L", (box[2] - box[0], box[3] - box[1]), bytes(drawn)))
        else:
            page.paste(0, box)
    for symbol in drawing.symbols:
        stamp = _symbol(symbol.kind, symbol.level, drawing.standard)
        corner = (symbol.x - stamp.dx, symbol.y - stamp.dy)
        if stamp.blank is not None:
            page.paste(WHITE, corner, whole(stamp.blank))
        page.paste(0, corner, whole(stamp.ink))
    for words in drawing.words:
        long = width(words.text, words.size)
        ink = Image.new("L", (long, words.size + TALL), 0)
        ImageDraw.Draw(ink).text((0, words.size), words.text, fill=255, font=font(words.size), anchor="ls")
        ink = ink.transpose(Image.Transpose.ROTATE_90) if words.turned else ink
        before = {"l": 0, "m": long // 2, "r": long}[words.anchor]
        corner = (words.x - words.size, words.y + before - long) if words.turned else (words.x - before, words.y - words.size)
        page.paste(0, corner, ink)
    return page


def test_the_same_dots_as_with_the_stock_calls() -> None:
    drawing = invented()
    read = Image.open(BytesIO(png(drawing))).convert("L")
    stock = by_stock_calls(drawing).point([GREYS.get(grey, 255) for grey in range(256)], "L")
    assert read.size == stock.size == (513, 460)
    assert read.tobytes() == stock.tobytes()
    assert {grey for _, grey in read.getcolors()} == set(GREYS.values())  # something of every grey is there


@pytest.mark.parametrize("upward", [False, True])
def test_a_text_s_stamp_has_no_blank_edge(upward: bool) -> None:
    """Every pixel of it costs whenever it is stamped, ink or not."""
    stamp = _text("TB3", 20, upward)
    left, top, right, bottom = stamp.box
    assert stamp.ink.size == (right - left, bottom - top) and stamp.ink.getbbox() == (0, 0, *stamp.ink.size)
    assert (right - left if upward else bottom - top) < 20 + TALL
    blank = _text(" ", 20, upward)
    assert blank.ink.size == (1, 1) and blank.ink.getbbox() is None and blank.long == width(" ", 20)


def test_a_line_that_leaves_the_page_touches_no_row_s_filter() -> None:
    plan = Plan()
    plan.line((-30, 20), (30, 20), style="bar")
    data = png(plan.done(40, 60))
    at = data.index(b"IDAT")
    rows = zlib.decompress(data[at + 4 : at + 4 + int.from_bytes(data[at - 4 : at], "big")])
    across = (60 + FILTER) * 2 // 8
    assert {rows[start] for start in range(0, len(rows), across)} == {0} and len(rows) == 40 * across


@pytest.mark.parametrize("at_hand", [True, False])
def test_packed_with_and_without_a_frame_the_same_content_comes_back(at_hand: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    if at_hand:
        pytest.importorskip("zlib_ng", reason="install the program again")
    else:
        monkeypatch.setattr(deflate, "zlib_ng", None)
    content = b"Line 1, fuse 15 A; " * 5000 + bytes(range(256))
    bare, framed = deflate.packer(bare=True), deflate.packer(bare=False)
    packed = bare.compress(content) + bare.flush()
    assert zlib.decompress(packed, -15) == content and len(packed) < len(content) / 50
    assert zlib.decompress(framed.compress(content) + framed.flush()) == content
