"""What holds: shelves and their sag, fixings, cladding weight, tipping, lifting and the way in."""
