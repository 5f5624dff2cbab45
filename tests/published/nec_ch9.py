"""Figures of the US National Electrical Code as reprinted in public data (the code book itself was not at hand)."""

# chapter 9 table 1: share of the conduit's area for one, two, and three or more conductors
FILL = {1: 0.53, 2: 0.31, 3: 0.40}
# chapter 9 table 4: inside area of EMT [in²] by trade size, and 40 % of it
EMT = {"1/2": 0.304, "3/4": 0.533, "1": 0.864}
EMT_40 = {"1/2": 0.122, "3/4": 0.213, "1": 0.346}
# chapter 9 table 5 (2008): area of THHN [in²] by AWG; annex C (from memory): how many go into EMT 1/2, 3/4, 1
THHN = {14: 0.0097, 12: 0.0133, 10: 0.0211}
FIT = {14: (12, 22, 35), 12: (9, 16, 26), 10: (5, 10, 16)}
# chapter 9 table 8: resistance of uncoated copper [Ω/kft] by AWG
OHM_PER_KFT = {14: 3.07, 12: 1.93}
# 210.52(A): no point of the floor line further than 6 ft from an outlet: (wall ft, outlets ft, passes)
SPACING = ((12, (6,), True), (13, (6.5,), False), (24, (6, 18), True), (25, (6.25, 18.75), False))
# 210.52: 5 1/2 ft, 6 ft and 2 ft in mm
FEET_MM = {5.5: 1676.4, 6: 1828.8, 2: 609.6}
# 358.26 and its like: the bends between two pull points add up to at most this [degrees]
BENDS_DEGREES = 360
