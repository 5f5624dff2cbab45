"""A row of equal members in a finite-element program, as an oracle for boards on supports."""

from __future__ import annotations

from Pynite import FEModel3D

G = 9.80665  # m/s², exact


def second_moment(width, thickness):
    return width * thickness**3 / 12


def model(spans, length, w=0.0, fixed=False, points=(), supports=None, stiff=(2500.0, 300.0, 18.0), n=40):
    """A row of equal members between n·spans + 1 nodes; points: (node, N down); supports: nodes (default every n-th)."""
    modulus, wide, thick = stiff
    m = FEModel3D()
    m.add_material("M", modulus, modulus / 2.6, 0.3, 0)
    m.add_section("S", wide * thick, 1e6, wide * thick**3 / 12, 1e5)
    for i in range(n * spans + 1):
        m.add_node(f"N{i}", i * length / n, 0, 0)
    for i in range(n * spans):
        m.add_member(f"E{i}", f"N{i}", f"N{i + 1}", "M", "S")
        if w:
            m.add_member_dist_load(f"E{i}", "FY", -w, -w)
    for node, force in points:
        m.add_node_load(f"N{node}", "FY", -force)
    held = list(supports if supports is not None else range(0, n * spans + 1, n))
    for i in held:
        turn = fixed and i in (0, n * spans)
        m.def_support(f"N{i}", i == held[0], True, True, i == held[0], i == held[0] or turn, turn)
    m.analyze(check_statics=False)
    down = [-m.nodes[f"N{i}"].DY["Combo 1"] for i in range(n * spans + 1)]
    return down, [m.nodes[f"N{i}"].RxnFY["Combo 1"] for i in held]


def program(spans, out=(0.0, 0.0), even=None, step=10.0, stiff=(2500.0, 300.0, 18.0), carried=None):
    """A board on supports by the program: its largest sag between them, the sag of its ends, support forces, largest moment.

    even : N/mm on each span and on both ends, in order; members `step` long where that divides, else less.
    """
    modulus, wide, thick = stiff
    m = FEModel3D()
    m.add_material("M", modulus, modulus / 2.6, 0.3, 0)
    m.add_section("S", wide * thick, 1e6, wide * thick**3 / 12, 1e5)
    stretches = [*([out[0]] if out[0] else []), *spans, *([out[1]] if out[1] else [])]
    loads = list(even) if even is not None else [1.0] * len(stretches)
    places, held, x = [0.0], ([] if out[0] else [0]), 0.0
    members = []
    for long, w in zip(stretches, loads, strict=True):
        n = max(8, round(long / step))
        for k in range(n):
            places.append(x + long * (k + 1) / n)
            members.append(w)
        x += long
        held.append(len(places) - 1)
    if out[1]:
        held.pop()
    for i, place in enumerate(places):
        m.add_node(f"N{i}", place, 0, 0)
    for i, w in enumerate(members):
        m.add_member(f"E{i}", f"N{i}", f"N{i + 1}", "M", "S")
        if w:
            m.add_member_dist_load(f"E{i}", "FY", -w, -w)
    for i in held:
        m.def_support(f"N{i}", i == held[0], True, True, i == held[0], i == held[0], False)
    m.analyze(check_statics=False)
    down = [-m.nodes[f"N{i}"].DY["Combo 1"] for i in range(len(places))]
    forces = [m.nodes[f"N{i}"].RxnFY["Combo 1"] for i in held]
    most = max(
        max(abs(m.members[f"E{i}"].max_moment("Mz")), abs(m.members[f"E{i}"].min_moment("Mz")))
        for i in range(len(members))
    )
    return max(down[held[0] : held[-1] + 1]), (down[0], down[-1]), forces, most
