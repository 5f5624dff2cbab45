"""NEC 314.16, box fill, 310.16 and 310.15, ampacity, as reprinted in public tables (the code book itself was not at hand)."""

# table 314.16(B): volume allowance of one conductor [in³] by AWG
ALLOWANCE = {14: 2.00, 12: 2.25, 10: 2.50, 8: 3.00}
# table 314.16(A): device boxes 3 × 2 in by their depth [in]: volume [in³]
DEVICE_BOX = {2.0: 10.0, 2.25: 10.5, 2.5: 12.5, 2.75: 14.0, 3.5: 18.0}
# table 310.16: copper [A] by AWG, insulation of 60 °C and of 90 °C, 30 °C air; 334.80: NM cable is adjusted from the 90 °C column,
# and never carries more than the 60 °C one
COPPER_60 = {14: 15, 12: 20, 10: 30, 8: 40}
COPPER_90 = {14: 25, 12: 30, 10: 40, 8: 55}
# table 310.15(B)(1): factor by air [°C], insulation of 90 °C
AIR_90 = {25: 1.04, 30: 1.00, 35: 0.96, 40: 0.91, 45: 0.87, 50: 0.82}
# table 310.15(C)(1): factor by the number of current-carrying conductors, from the table's bands
BUNCHED = {4: 0.80, 6: 0.80, 8: 0.70, 10: 0.50, 18: 0.50, 40: 0.40}


def box_fill(awg: int, cables: int, devices: int = 1) -> float:
    """in³ that so many two-wire cables with ground, internal clamps and devices take: two a cable, one for all grounds, one for all
    clamps, two a yoke (314.16(B)(1) to (5)).
    """
    return (2 * cables + 1 + 1 + 2 * devices) * ALLOWANCE[awg]
