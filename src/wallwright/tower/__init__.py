"""Many flats of a few types: mirrored hands, measured samples, exceptions, changes by state, cutting and ordering by delivery."""
