"""The works in order: lead times, drying times and who follows whom."""
