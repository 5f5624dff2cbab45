"""Heat in each bay: watts, openings and fans."""
