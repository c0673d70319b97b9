"""The QR code as a path, read back square by square."""

import re

import pytest
import zxingcpp
from PIL import Image

from barcourse.papers.qr import QUIET_ZONE, code_of
from tests.papers.sheets import ADDRESS


def modules_of(path):
    """The dark squares (x, y) that the path fills."""
    return {
        (int(x) + step, int(y))
        for x, y, length in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", path)
        for step in range(int(length))
    }


@pytest.mark.parametrize("address", [ADDRESS, "http://127.0.0.1:8000/paper/x/", "a" * 200])
def test_the_path_reads_as_the_address(address):
    code = code_of(address)
    image = Image.new("L", (code.size, code.size), 255)
    for place in modules_of(code.path):
        image.putpixel(place, 0)
    big = image.resize((code.size * 4, code.size * 4), Image.Resampling.NEAREST)

    assert [found.text for found in zxingcpp.read_barcodes(big)] == [address]


def test_four_empty_squares_surround_it():
    """ISO/IEC 18004 asks for a quiet zone four modules wide on every side."""
    code = code_of(ADDRESS)
    across = [x for x, _y in modules_of(code.path)]
    down = [y for _x, y in modules_of(code.path)]

    assert QUIET_ZONE == 4
    for places in (across, down):
        assert (min(places), max(places)) == (4, code.size - 5)
