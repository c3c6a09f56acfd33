"""Tests; the cases that people read and correct stand in `fixtures`."""
