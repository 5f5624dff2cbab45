"""Trade data with its sources (boards, fittings, anchors, limits, rates) as TOML, and the one module that loads it."""
