"""Figures of IEC 60364-5-52:2009 and IEC 60228 as reprinted in public data (the standards themselves were not at hand)."""

# table B.52.2: copper, PVC, two loaded conductors, 30 °C [A] by method and size [mm²]
RATINGS = {
    1.5: {"A1": 14.5, "A2": 14, "B1": 17.5, "B2": 16.5, "C": 19.5},
    2.5: {"A1": 19.5, "A2": 18.5, "B1": 24, "B2": 23, "C": 27},
    4.0: {"A1": 26, "A2": 25, "B1": 32, "B2": 30, "C": 36},
    6.0: {"A1": 34, "A2": 32, "B1": 41, "B2": 38, "C": 46},
    10.0: {"A1": 46, "A2": 43, "B1": 57, "B2": 52, "C": 63},
}
# table G.52.1: drop allowed, public supply [%]
DROP_LIGHTING, DROP_OTHER = 3, 5
# IEC 60228: resistance at 20 °C [Ω/km], class 1 and 2, and class 5
R20 = {1.5: 12.1, 2.5: 7.41, 4.0: 4.61, 6.0: 3.08, 10.0: 1.83}
R20_FLEX = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98}
