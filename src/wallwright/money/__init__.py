"""Quantities times rates: the quote, and the way back to the budget."""
