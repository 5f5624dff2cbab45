"""Lengths read and shown, shapes, drawing marks, tables, findings and studies: the words every other room uses."""
