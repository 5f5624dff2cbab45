"""Units as built: console, tower, shelf and niche turned into panels, fronts, hardware and joints."""
