"""Makes the drawings of this folder and the numbers that ezdxf gives for them.

    /usr/bin/python3 make.py        (Debian: python3-ezdxf)

Everything in them is invented. points.json has, for every thing that is drawn
and read, the layer, the length of its run, the area that it encloses and
points on it, in metres, from ezdxf's own taking apart of blocks and its own
flattening of curves, to a ten-thousandth of a millimetre.
"""
import json
import math

import ezdxf
from ezdxf import disassemble
from ezdxf.math import Vec3, closed_uniform_bspline

METRE = {0: 1.0, 1: 0.0254, 4: 0.001, 6: 1.0}


def deck(doc, k):
    """An invented deck plan, k units to the metre."""
    msp = doc.modelspace()
    for name, colour in [("SIDE DECK", 3), ("COACHROOF", 4), ("EDGE", 1), ("CLEATS", 2), ("COCKPIT", 5), ("HATCHES", 6), ("NOTES", 7), ("Größe", 8)]:
        doc.layers.add(name, color=colour)
    doc.layers.add("OLD", color=9).off()

    def p(*xy):
        return tuple(k * v for v in xy)

    # A coachroof of lines and arcs that meet end to end.
    on = {"layer": "COACHROOF"}
    msp.add_line(p(3.0, -1.0), p(7.0, -0.8), on)
    msp.add_arc(p(7.0, 0.0), 0.8 * k, 270, 90, dxfattribs=on)
    msp.add_line(p(3.0, 1.0), p(7.0, 0.8), on)
    msp.add_arc(p(3.0, 0.0), 1.0 * k, 90, 270, dxfattribs=on)
    # A side deck with bulges both ways, at a height.
    msp.add_lwpolyline([p(0.5, 1.2) + (0,), p(4.0, 1.9) + (0.12,), p(9.0, 1.1) + (-0.3,), p(9.2, 0.7) + (0,), p(3.0, 1.1) + (1.0,)], format="xyb", close=True, dxfattribs={"layer": "SIDE DECK", "elevation": 1.15 * k})
    # Its edge: a spline of degree three, and one with weights.
    msp.add_open_spline([p(0, 1.4), p(3, 2.2), p(6, 2.0), p(8.5, 1.2), p(9.6, 0)], degree=3, dxfattribs={"layer": "EDGE"})
    msp.add_rational_spline([p(0, -1.4), p(3, -2.2), p(6, -2.0), p(8.5, -1.2), p(9.6, 0)], weights=[1, 2, 1, 0.5, 1], degree=3, dxfattribs={"layer": "EDGE"})
    # A cockpit of an ellipse and half an ellipse, a closed spline.
    msp.add_ellipse(p(1.6, 0), major_axis=p(0.9, 0.2), ratio=0.6, dxfattribs={"layer": "COCKPIT"})
    msp.add_ellipse(p(1.6, 0), major_axis=p(0, 1.1), ratio=0.5, start_param=0.3, end_param=math.pi, dxfattribs={"layer": "COCKPIT"})
    msp.add_spline(dxfattribs={"layer": "HATCHES"}).apply_construction_tool(closed_uniform_bspline([p(5, -0.2), p(5.6, -0.2), p(5.6, 0.2), p(5, 0.2)], order=4))
    msp.add_circle(p(8.0, 0), 0.25 * k, dxfattribs={"layer": "HATCHES"})
    msp.add_circle(p(-8.0, 0.4), 0.25 * k, dxfattribs={"layer": "HATCHES", "extrusion": (0, 0, -1)})
    msp.add_point(p(9.4, 0, 1.3), dxfattribs={"layer": "Größe"})
    # Seen askew: an arc in a plane of its own.
    msp.add_arc(p(1.0, 0.5, 0.3), 0.4 * k, 20, 200, dxfattribs={"layer": "NOTES", "extrusion": (0.3, -0.4, 0.6)})
    # Blocks: a cleat, two of them in a pair, the pair scaled, turned, mirrored.
    horn = doc.blocks.new("HORN", base_point=p(0.02, 0))
    horn.add_lwpolyline([p(0, -0.02) + (0,), p(0.12, -0.02) + (1,), p(0.12, 0.02) + (0,), p(0, 0.02) + (0.4,)], format="xyb", close=True)
    cleat = doc.blocks.new("CLEAT")
    cleat.add_blockref("HORN", p(0, 0))
    cleat.add_blockref("HORN", p(0, 0), dxfattribs={"rotation": 180})
    cleat.add_circle(p(0, 0), 0.03 * k, dxfattribs={"layer": "HATCHES"})
    msp.add_blockref("CLEAT", p(1.0, 1.6), dxfattribs={"layer": "CLEATS", "rotation": 12})
    msp.add_blockref("CLEAT", p(1.0, -1.6), dxfattribs={"layer": "CLEATS", "rotation": -12, "xscale": 1.5, "yscale": -0.8})
    msp.add_blockref("CLEAT", p(8.0, 1.2), dxfattribs={"layer": "CLEATS", "rotation": 30, "column_count": 2, "column_spacing": 0.5 * k, "row_count": 2, "row_spacing": 0.3 * k})
    msp.add_polyline3d([p(0, 0, 1.0), p(4, 0.3, 1.2), p(9, 0, 1.6)], dxfattribs={"layer": "OLD"})
    msp.add_polyline2d([p(0, -1.2) + (0.2,), p(3, -1.6) + (0,), p(3, -1.2) + (-0.5,)], format="xyb", close=True, dxfattribs={"layer": "SIDE DECK"})
    # What is not read.
    msp.add_text("DECK PLAN", dxfattribs={"layer": "NOTES", "height": 0.2 * k})
    msp.add_text("of an invented boat", dxfattribs={"layer": "NOTES", "height": 0.2 * k})
    if doc.dxfversion > "AC1009":
        msp.add_mtext("nothing of it exists", dxfattribs={"layer": "NOTES"})
        msp.add_hatch(dxfattribs={"layer": "COACHROOF"}).paths.add_polyline_path([p(0, 0), p(1, 0), p(1, 1)])
    msp.add_solid([p(0, 0), p(1, 0), p(0, 1), p(1, 1)], dxfattribs={"layer": "NOTES"})
    doc.layout("Layout1").add_line((0, 0), (100, 100), dxfattribs={"layer": "NOTES"})


def points_of(e, fine):
    """Points on a thing, in order; chords between them lie within fine."""
    sort = e.dxftype()
    if sort == "POINT":
        return [e.dxf.location]
    if sort == "LINE":
        return [e.dxf.start, e.dxf.end]
    if sort in {"LWPOLYLINE", "POLYLINE"}:
        out = []
        parts = [points_of(x, fine) for x in e.virtual_entities()]
        for i, x in enumerate(parts):
            if out:
                first = Vec3(out[-1]).distance(x[0]) <= Vec3(out[-1]).distance(x[-1])
            else:
                first = len(parts) == 1 or min(Vec3(x[-1]).distance(q) for q in (parts[1][0], parts[1][-1])) < 1e-6
            out += x if first else x[::-1]
        return out
    return list(e.flattening(fine, 16) if sort in {"ELLIPSE", "SPLINE"} else e.flattening(fine))


def measure(doc):
    k = METRE[doc.units]
    out = []
    for e in disassemble.recursive_decompose(doc.modelspace()):
        if e.dxftype() not in {"LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE", "POINT"}:
            continue
        points = points_of(e, 1e-7 / k)
        points = [Vec3(v) * k for v in points]
        length = sum(a.distance(b) for a, b in zip(points, points[1:]))
        area = sum(a.x * b.y - a.y * b.x for a, b in zip(points, points[1:] + points[:1])) / 2
        step = max(1, len(points) // 40)
        some = points[::step] + points[-1:]
        out.append({"sort": e.dxftype(), "layer": e.dxf.layer, "closed": points[0].isclose(points[-1], abs_tol=1e-9) and len(points) > 2,
                    "length_m": round(length, 9), "area_m2": round(abs(area), 9), "points_m": [[round(v.x, 7), round(v.y, 7), round(v.z, 7)] for v in some]})
    return out


def main():
    drawings = {}
    for name, version, unit, k, fmt in [("deck", "R2010", 4, 1000, "asc"), ("deck-binary", "R2010", 4, 1000, "bin"), ("deck-2000", "R2000", 6, 1, "asc"), ("deck-inches", "R2000", 1, 1 / 0.0254, "asc"), ("deck-unitless", "R2007", 0, 1, "asc")]:
        doc = ezdxf.new(version)
        doc.units = unit
        deck(doc, k)
        doc.saveas(name + ".dxf", fmt=fmt)
        if name == "deck":  # the others are the same plan, written otherwise
            drawings[name] = measure(ezdxf.readfile(name + ".dxf"))
    # The oldest form: no units, polylines with vertices, a code page.
    doc = ezdxf.new("R12")
    msp = doc.modelspace()
    doc.layers.add("Plicht-Süll", color=3)
    msp.add_polyline2d([(0, -1, 0), (3, -1, 0.5), (3, 1, 0), (0, 1, 0.25)], format="xyb", close=True, dxfattribs={"layer": "Plicht-Süll"})
    msp.add_line((0, 2), (4, 2), dxfattribs={"layer": "0"})
    msp.add_line((6, 1), (4, 2), dxfattribs={"layer": "0"})
    doc.saveas("oldest.dxf")
    drawings["oldest"] = measure(ezdxf.readfile("oldest.dxf"))
    with open("points.json", "w") as f:
        json.dump({"by": "ezdxf " + ezdxf.__version__, "drawings": drawings}, f, ensure_ascii=False, separators=(",", ":"))
        f.write("\n")


main()
