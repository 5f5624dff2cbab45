"""Pieces, edges and sheets turned into cutting plans, in whole tenths of a millimetre."""
