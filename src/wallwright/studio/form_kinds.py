"""Which things of a job have a form, and which edits set their fields: the table that the forms are made from."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.studio.answers_forms import Part


@dataclass(frozen=True, slots=True)
class Kind:
    """A thing of the job, or a list of them.

    where : its path · edits : what sets its fields · key : what tells one of a list from another (empty = one table, no list) ·
    add, remove : edits · also : further edits of it that wait for a press
    """

    name: str
    part: Part
    title: str
    where: str
    edits: tuple[str, ...]
    key: str = ""
    add: str = ""
    remove: str = ""
    also: tuple[str, ...] = ()


KINDS: tuple[Kind, ...] = (
    Kind("job", "job", "Title block", "", ("set_title", "set_parties", "set_issue", "set_revision", "set_units", "set_currency")),
    Kind("room", "survey", "Room", "survey.room", ("set_room", "set_floor", "set_storey", "set_climate")),
    Kind("wall", "survey", "Wall", "survey.wall",
         ("set_substrate", "set_wall_finish", "set_plumb", "set_damp", "set_wet_room_behind", "set_studs", "set_boarding",
          "set_backers", "set_relief", "use_outline"),
         also=("set_diagonals", "set_wall_reading")),
    Kind("survey", "survey", "Survey", "survey", ("set_survey_date", "set_finish_complete", "set_ceiling", "set_board_distance")),
    Kind("place", "survey", "Place and sun", "survey.place", ("set_place",)),
    Kind("obstacle", "survey", "Obstacle", "survey.obstacles",
         ("move_obstacle", "resize_obstacle", "set_obstacle_state", "set_obstacle_substrate", "set_obstacle_dead",
          "set_obstacle_cable"), "ref", "add_obstacle", "remove_obstacle"),
    Kind("seat", "survey", "Seat", "survey.seats", ("set_seat",), "ref", "add_seat", "remove_seat"),
    Kind("window", "survey", "Window", "survey.windows", ("set_window", "set_window_blind"), "ref", "add_window", "remove_window"),
    Kind("lamp", "survey", "Lamp", "survey.lamps", ("set_lamp",), "ref", "add_lamp", "remove_lamp"),
    Kind("between", "survey", "Furniture before the wall", "survey.between", ("set_between",), "ref", "add_between", "remove_between"),
    Kind("other_wall", "survey", "Other wall", "survey.other_walls", ("set_other_wall",), "side", "set_other_wall"),
    Kind("access", "survey", "The way in", "survey.access", ("set_access",)),
    Kind("supply", "survey", "Mains supply", "survey.supply", ("set_supply",)),
    Kind("lines_in", "survey", "Network and aerial", "survey.lines_in", ("set_lines_in",)),
    Kind("brief", "brief", "Household and habits", "brief",
         ("set_storage", "set_tenure", "set_style", "set_opposite_wall", "set_night_viewing", "set_floor_cleaning")),
    Kind("budget", "brief", "Budget", "brief.budget", ("set_budget", "keep_from_swaps")),
    Kind("person", "brief", "Person", "brief.people", ("set_person",), "ref", "add_person", "remove_person"),
    Kind("device", "brief", "Device", "brief.devices", ("set_device",), "ref", "add_device", "remove_device"),
    Kind("thing", "brief", "Things to keep", "brief.things", ("set_thing",), "kind", "set_thing"),
    Kind("screen", "design", "Screen", "design.screen",
         ("set_screen_size", "set_screen_height", "set_screen_x", "set_screen_panel", "set_screen_surface", "set_screen_lines",
          "set_screen_frame", "set_screen_holes", "set_screen_niche", "set_screen_back"),
         also=("set_screen_second", "set_screen_box")),
    Kind("mount", "design", "Mount", "design.mount", ("set_mount", "set_arm")),
    Kind("unit", "design", "Unit", "design.units",
         ("resize_unit", "move_unit", "set_unit_side", "set_unit_hung", "set_unit_board", "set_unit_finish", "set_unit_opening",
          "set_unit_base", "set_unit_fronts", "set_unit_back", "set_unit_skirting", "set_shelf_build", "set_unit_arch",
          "set_unit_load", "anchor_unit", "set_unit_bays"), "ref", "add_unit", "remove_unit"),
    Kind("panel", "design", "Panel", "design.panels",
         ("resize_panel", "move_panel", "set_panel_kind", "set_panel_finish", "set_panel_board", "set_panel_void",
          "set_panel_flutes", "set_panel_fields", "set_panel_tiles", "set_panel_match", "set_panel_head"),
         "ref", "add_panel", "remove_panel"),
    Kind("point", "design", "Point", "design.points", ("move_point", "set_point"), "ref", "add_point", "remove_point"),
    Kind("light", "design", "Light", "design.lights", ("set_light",), "ref", "add_light", "remove_light"),
    Kind("wiring", "design", "Wiring", "design.wiring", ("set_wiring",)),
    Kind("design", "design", "Backing", "design", ("set_backing",)),
    Kind("finishes", "design", "Finishes and colours", "design.finishes", ("set_emission",),
         also=("set_finish", "set_colour", "apply_palette")),
    Kind("saw", "design", "The workshop's saw", "design.saw", ("set_saw",)),
    Kind("stock", "design", "Sheet or offcut in the rack", "design.stock", ("set_stock",), "ref", "add_stock", "remove_stock"),
    Kind("rates", "money", "Rates book", "design", ("set_rates",), also=("set_rate", "clear_rate")),
    Kind("terms", "money", "Terms of the quote", "terms", ("set_terms", "set_stages", "set_inclusions"),
         also=("set_tax", "clear_tax", "set_scope")),
    Kind("progress", "progress", "How far it is", "progress", ("set_progress",), also=("set_made", "record_test")),
    Kind("gate", "progress", "Gate signed", "progress.gates", (), "ref", "sign_gate", "unsign_gate"),
    Kind("variation", "progress", "Variation", "progress.variations", ("price_variation",), "ref", "add_variation",
         also=("accept_variation", "refuse_variation", "finish_variation")),
    Kind("snag", "progress", "Snag", "progress.snags", (), "ref", "add_snag", "close_snag"),
    Kind("limits", "job", "Your own rule set", "", (), also=("set_limit", "release_limit")),
)  # fmt: skip

FIELD_OF: dict[tuple[str, str], str] = {
    ("set_screen_frame", "width"): "frame_width", ("set_screen_frame", "height"): "frame_height",
    ("set_screen_frame", "depth"): "frame_depth", ("set_screen_holes", "width"): "hole_width",
    ("set_screen_holes", "height"): "hole_height", ("set_screen_holes", "offset"): "hole_offset",
    ("set_screen_niche", "width"): "niche_width", ("set_screen_niche", "height"): "niche_height",
    ("set_screen_niche", "depth"): "niche_depth", ("set_shelf_build", "build"): "shelf_build",
    ("set_unit_arch", "rise"): "arch_rise", ("set_unit_finish", "finish"): "front_finish",
    ("set_panel_flutes", "pitch"): "flute_pitch", ("set_panel_flutes", "centre"): "flute_centre",
    ("set_panel_tiles", "width"): "tile_width", ("set_panel_tiles", "height"): "tile_height",
    ("set_panel_head", "rise"): "head_rise", ("set_floor", "finished"): "floor_finished",
    ("set_floor", "to_come"): "floor_to_come", ("set_wet_room_behind", "wet"): "wet_room_behind",
    ("set_boarding", "layers"): "boarding_layers", ("set_night_viewing", "share"): "night_viewing",
    ("set_opposite_wall", "weight"): "opposite_wall", ("set_substrate", "kind"): "substrate",
    ("set_studs", "spacing"): "stud_spacing", ("set_finish_complete", "complete"): "finish_complete",
    ("set_board_distance", "distance"): "board_distance",
}  # fmt: skip
"""The field that a value of an edit sets, where the two are not named alike."""

ELSEWHERE = frozenset(
    {"release", "set_length", "set_length_state", "set_tilt", "set_bay_front", "set_own_rates", "set_screen_source",
     "set_design"}
)  # fmt: skip
"""Edits that the page gives in another way: beside a field, within a wider edit of the same value, or as an option that is taken."""

PREFIX = {
    "obstacle": "O", "seat": "S", "window": "WN", "lamp": "L", "between": "B", "person": "P", "device": "D", "unit": "C",
    "panel": "W", "point": "X", "light": "LT", "stock": "R", "variation": "V",
    "snag": "SN",
}  # fmt: skip
"""What the name of a new thing begins with."""
