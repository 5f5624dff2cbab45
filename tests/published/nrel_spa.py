"""The worked example and the sunrise tables of the solar position algorithm.

I. Reda and A. Andreas, "Solar Position Algorithm for Solar Radiation Applications", NREL/TP-560-34302, revised 2008: example of
appendix A.5 and table A4.1. Numbers as held in the tests of pvlib (BSD-3), which quote it; EoT and the apparent elevation by
running pvlib 0.16.1.
"""

# 17 October 2003 12:30:30, UTC−7, ΔT 67 s; 39.742476° N, 105.1786° W, 1830.14 m, 820 mbar, 11 °C
MOMENT = (2003, 10, 17 + (19 + 30.5 / 60) / 24)
PLACE = (39.742476, -105.1786, 1830.14, 820.0, 11.0, 67.0)
ZENITH, AZIMUTH = 50.11162, 194.34024  # published (appendix A.5)
INCIDENCE = 25.18700  # published: surface sloping 30°, 170° from north (the paper counts −10° from south)
ELEVATION, SEEN, EOT = 39.872046, 39.888378, 14.6415  # computed (pvlib)

# Rise, noon and set of a day of universal time: (year, month, day), latitude, longitude, hours of the clock, three times.
DAYS = (
    ((1996, 7, 5), -35.0, 0.0, 0, ("07:08:15", "12:04:36", "17:01:04")),  # published (table A4.1)
    ((2004, 12, 4), -35.0, 0.0, 0, ("04:38:57", "11:50:22", "19:02:03")),  # published (table A4.1)
    (
        (2015, 1, 2),
        39.742476,
        -105.1786,
        -7,
        ("07:21:55", "12:04:45", "16:47:43"),
    ),  # computed (pvlib's tests)
    ((2015, 8, 2), 39.742476, -105.1786, -7, ("05:00:27", "12:06:58", None)),  # computed (pvlib's tests)
    # pvlib gives 19:13:58 as the set of the day 2 August of universal time: in Golden that is the evening of the 1st.
    ((2015, 8, 1), 39.742476, -105.1786, -7, (None, None, "19:13:58")),  # computed (pvlib's tests)
)
