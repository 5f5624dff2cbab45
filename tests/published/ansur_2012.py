"""ANSUR II: Anthropometric Survey of U.S. Army Personnel, 2010-12; 4 082 men and 1 986 women.

Computed from the public data files (sitting eye height, popliteal height, cervicale height, sitting height, stature). mm.
"""

SITTING_EYE = {  # P5, P50, mean, standard deviation, P95
    "men": (750, 804, 804.5, 33.2, 860),
    "women": (698, 748, 747.7, 30.4, 799),
}
MIXED_SITTING_EYE = 776.1  # mean, half men and half women
STATURE = {"men": 1756.2, "women": 1628.5}  # mean
SITTING_HEIGHT = {"men": 918.3, "women": 856.6}  # mean
NECK_ABOVE_SEAT = {
    "men": 679.4,
    "women": 623.8,
}  # C7: cervicale height less (stature less sitting height), mean
EYE_FROM_STATURE = (0.3988, 102.2)  # straight line through both sexes, residual 21.5 mm
