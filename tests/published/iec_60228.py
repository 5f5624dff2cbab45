"""IEC 60228:2004, conductors of insulated cables: largest resistance at 20 °C [Ω/km] by size [mm²], plain copper."""

CLASS_5 = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98}  # table 3, flexible
COPPER = 0.017241  # Ω·mm²/m at 20 °C, annealed
