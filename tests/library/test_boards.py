"""Boards, edges and faces of the library against published figures, and that rows hang together."""

from __future__ import annotations

import pytest

from wallwright.library import load


@pytest.mark.parametrize(
    ("board", "field", "value"),
    [
        ("particleboard18", "modulus", 1600),  # EN 312:2010 P2 over 13 to 20 mm, supplier's sheet
        ("particleboard25", "modulus", 1500),  # EN 312:2010 P2 over 20 to 25 mm, supplier's sheet
        ("particleboard25", "density", 640),  # European mill sheet, 25 mm
        ("particleboard_mr18", "modulus", 2400),  # EN 312:2010 P5, 15 to 18 mm, supplier's sheet
        ("mdf_plain18", "modulus", 2200),  # EN 622-5 over 12 to 19 mm, from memory
        (
            "solid_oak20",
            "modulus",
            12550,
        ),  # Architectural Woodwork Standards 2009: red oak 1.82e6 psi = 12 548 N/mm²
        ("ply_mr18", "modulus", 4000),  # IS 303 MR along, from memory
        ("ply_marine18", "modulus", 7500),  # IS 710 along, from memory
    ],
)
def test_published_figures_of_boards(board: str, field: str, value: float) -> None:
    assert getattr(load.boards()[board], field) == value


def test_densities_lie_in_the_mill_tables() -> None:
    # Indian mill table after IS 12406: 12 mm 730 to 760, 18 mm 680 to 720 (standard), 25 mm 650 to 700; IS 14587: 600 to 800
    boards = load.boards()
    assert 730 <= boards["mdf12"].density <= 760
    assert 680 <= boards["mdf_plain18"].density <= 720
    assert all(
        600 <= row.density <= 800 for row in boards.values() if load.kind_of(row.key).key in ("mdf", "mdf_mr")
    )


def test_mass_of_a_sheet() -> None:
    board = load.boards()["mdf18"]
    length, width = board.sheets[0]
    assert board.thickness * board.density / 1000 == pytest.approx(13.14)  # arithmetic, 730 kg/m³
    assert length * width / 1e6 == pytest.approx(2.9768)  # 8 × 4 ft
    assert length * width / 1e6 * 13.14 == pytest.approx(39.12, abs=0.01)


def test_creep_factors() -> None:
    # EN 1995-1-1 table 3.2, service class 1: timber 0.60, plywood 0.80, particleboard and fibreboard 2.25
    wanted = {
        "solid_oak": 0.6,
        "ply_mr": 0.8,
        "ply_bwp": 0.8,
        "ply_birch": 0.8,
        "particleboard": 2.25,
        "mdf": 2.25,
        "hdf": 2.25,
    }
    for board in load.boards().values():
        if board.kind in wanted:
            assert board.k_def == wanted[board.kind], board.key


def test_movement_of_red_oak() -> None:
    assert (
        load.board_kinds()["solid_oak"].moves_across == 0.369
    )  # Wood Handbook table 13-5: tangential 0.00369 a per cent


def test_emission_classes_against_published_limits() -> None:
    kinds = load.emissions()
    assert kinds["e1"].most == 0.124  # EN 13986 E1 by EN 717-1
    assert kinds["e05"].most == 0.062  # EU 2023/1464, from 6 August 2026
    assert "EU" not in kinds["e1"].meets
    assert "EU" in kinds["e05"].meets
    most = [kind.most for kind in kinds.values()]
    assert most == sorted(most, reverse=True)


def test_masses_of_facings() -> None:
    finish = load.finishes()
    assert finish["marble_white"].mass == pytest.approx(54.4)  # 20 mm at 2720 kg/m³ (IS 875-1, from memory)
    assert finish["porcelain_marble_look"].mass == 14.1  # tile trade: 6 mm slab
    assert finish["mirror_clear"].mass == pytest.approx(2.5 * 5)  # glass 2.5 kg/m² a mm


def test_rows_hang_together() -> None:
    for board in load.boards().values():
        kind = load.kind_of(board.key)
        assert board.thickness in kind.thicknesses, board.key
        assert board.damp == (kind.damp_class == 3), board.key
        assert set(kind.emissions) <= set(load.emissions())
    for key in load.finishes():
        face = load.face_of(key)
        assert face.roles
        assert 1 <= face.fade <= 8
    assert any(finish.seal for finish in load.finishes().values() if load.face_of(finish.key).key == "marble")
    assert all(
        finish.seal
        for finish in load.finishes().values()
        if load.face_of(finish.key).key in ("stone_veneer", "marble", "stone")
    )


def test_edge_bands_that_parts_name_are_there() -> None:
    from wallwright.carcass.piece import THIN, WIDE, band

    for key in (THIN, WIDE):
        assert load.edges()[key].thickness == band(key)
    for edge in load.edges().values():
        assert edge.least_radius > edge.thickness
