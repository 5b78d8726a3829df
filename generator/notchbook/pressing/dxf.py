"""The pieces of a draft as a DXF file. The library that writes it is an optional extra."""

from __future__ import annotations

import logging
from io import StringIO
from types import ModuleType
from typing import TYPE_CHECKING

from notchbook.composing.interchange import Interchange, Note
from notchbook.problems import Place, fault

if TYPE_CHECKING:
    from ezdxf.layouts.base import BaseLayout


def library() -> ModuleType:
    """ezdxf. Raises ContentError where it is not installed."""
    try:
        import ezdxf
    except ImportError:
        what = "DXF files are written by the package ezdxf, which is not installed."
        remedy = "Install it with: pip install 'notchbook[dxf]'"
        raise fault(Place("--format dxf"), what, remedy) from None
    return ezdxf


def dxf(made: Interchange) -> bytes:
    """The file, in the oldest form of DXF that is still read everywhere, R12, whose polylines the
    practice asks for. The same pieces give the same bytes. Raises ContentError."""
    ezdxf = library()
    kept = ezdxf.options.write_fixed_meta_data_for_testing
    log = logging.getLogger("ezdxf")
    level = log.level
    # Otherwise the time of day and a random id are written into every file.
    ezdxf.options.write_fixed_meta_data_for_testing = True
    log.setLevel(logging.ERROR)  # R12 has no place for units, which the practice has in a text
    try:
        document = ezdxf.new("R12")
        space = document.modelspace()
        for note in made.notes:
            _write(space, note)
        for block in made.blocks:
            piece = document.blocks.new(block.name)
            for polygon in block.polygons:
                points = [(p.real, p.imag) for p in polygon.points]
                on = {"layer": str(polygon.layer)}
                if len(points) == 2:
                    piece.add_line(*points, dxfattribs=on)
                else:
                    piece.add_polyline2d(points, close=polygon.closed, dxfattribs=on)
            for notch in block.notches:
                on_layer = {"layer": str(notch.layer), "angle": notch.angle}
                piece.add_point((notch.at.real, notch.at.imag), dxfattribs=on_layer)
            for note in block.notes:
                _write(piece, note)
            space.add_blockref(
                block.name, (block.at.real, block.at.imag), dxfattribs={"layer": "1"}
            )
        written = StringIO()
        document.write(written)
        return written.getvalue().encode(document.output_encoding, "dxfreplace")
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = kept
        log.setLevel(level)


def _write(where: BaseLayout, note: Note) -> None:
    on = {"layer": str(note.layer), "height": note.em, "insert": (note.at.real, note.at.imag)}
    where.add_text(note.text, dxfattribs=on)
