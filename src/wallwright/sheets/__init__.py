"""The wall as drawings: one file a sheet."""
