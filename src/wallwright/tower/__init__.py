"""Many flats of a few types: pooled cutting and batch issue."""
