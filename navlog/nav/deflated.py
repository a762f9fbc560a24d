"""Rows of compressed blocks of a TIFF: Deflate, alone or over the differences between neighbours.

Deflate (compression 8, or 32946 as older programs write it): Adobe Photoshop TIFF Technical Notes, 22 March 2002.
Differences of whole numbers (predictor 2): TIFF revision 6.0, section 14. Differences of fractions (predictor 3), byte
by byte, all first bytes of a row before all second ones: Adobe Photoshop TIFF Technical Note 3, 8 April 2005.
"""

from __future__ import annotations

import sys
from array import array
from itertools import accumulate

from msgspec import Struct

DEFLATE = (8, 32946)
"""TIFF's numbers of this compression."""


class Packing(Struct, frozen=True):
    """How a row of a compressed block is laid out: bytes a sample, whether the greatest comes first, and predictor."""

    size: int
    big_endian: bool
    predictor: int

    @property
    def known(self) -> bool:
        """Whether rows so packed can be read."""
        return self.predictor in (1, 2) or (self.predictor, self.size) == (3, 4)


def inflated(data: bytes, largest: int) -> bytes:
    """A block of `largest` bytes as it was before it was compressed; less, or nothing, where it is damaged."""
    from zlib import decompressobj, error

    try:
        return decompressobj().decompress(data, largest)
    except error:
        return b""


def summed(row: bytes, packing: Packing) -> bytes:
    """A row of samples from its differences, each sample's bytes in the file's own order."""
    if packing.predictor == 1:
        return row
    if packing.predictor == 2:
        numbers = array("H" if packing.size == 2 else "I", row)
        swapped = packing.big_endian != (sys.byteorder == "big")
        if swapped:
            numbers.byteswap()
        # Sums run over, as the differences did: only the bits that a sample has are kept.
        most = (1 << 8 * packing.size) - 1
        numbers = array(numbers.typecode, (one & most for one in accumulate(numbers)))
        if swapped:
            numbers.byteswap()
        return numbers.tobytes()
    steps = bytes(one & 255 for one in accumulate(row))
    samples, found = len(row) // packing.size, bytearray(len(row))
    for place in range(packing.size):
        # The planes run from the greatest byte to the least, whatever the file's own order is.
        at = place if packing.big_endian else packing.size - 1 - place
        found[at :: packing.size] = steps[place * samples : (place + 1) * samples]
    return bytes(found)
