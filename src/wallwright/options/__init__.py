"""Proposals from the brief: priced alternatives and how they compare."""
