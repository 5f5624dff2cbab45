"""Figures of BS 7671:2018 and its On-Site Guide, as reprinted in trade guides (the books themselves were not at hand)."""

# appendix 4, table 4D: drop of copper PVC cable, single phase [mV/A/m] by size [mm²]
DROP = {1.5: 29, 2.5: 18, 4.0: 11, 6.0: 7.3, 10.0: 4.4}
# appendix 4: factors for air of other than 30 °C (PVC), and for circuits bunched together
AMBIENT = {25: 1.03, 35: 0.94, 40: 0.87, 45: 0.79, 50: 0.71}
GROUPED = {2: 0.80, 3: 0.70, 4: 0.65, 5: 0.60}
# 522.6.202: zones [mm] from the top and from an angle; depth below which none is needed
ZONE_BAND, ZONE_DEPTH = 150, 50
# 411.3.3: additional protection [mA]; 531.3.2: share of it that may leak
RCD_TRIP, LEAKAGE_SHARE, LEAKAGE_BUDGET = 30, 0.30, 9.0
# On-Site Guide appendix E: cable factors, runs over 3 m or with bends
FACTORS_LONG = {1.0: 16, 1.5: 22, 2.5: 30, 4.0: 43, 6.0: 58, 10.0: 105}
# ... and conduit factors: (length m, bends) -> for 16, 20, 25, 32 mm
CONDUIT = {
    (2, 1): (177, 286, 514, 900), (2, 2): (158, 256, 463, 818), (2, 3): (130, 213, 388, 692),
    (3, 1): (167, 270, 487, 857), (3, 2): (143, 233, 422, 750), (3, 3): (111, 182, 333, 600),
    (5, 0): (171, 278, 500, 878), (5, 1): (150, 244, 442, 783), (5, 2): (120, 196, 358, 643), (5, 3): (86, 141, 260, 474),
    (8, 0): (158, 256, 463, 818), (8, 1): (130, 213, 388, 692), (8, 2): (97, 159, 292, 529),
}  # fmt: skip
# ... worked examples: (sizes with counts, length m, bends) -> (sum of cable factors, smallest conduit mm)
WORKED = (
    ({2.5: 3, 1.5: 4, 1.0: 4}, 5, 3, 242, 25),
    ({4.0: 6}, 3, 0, 348, 20),
)
