"""Public number standards, one module each: `compact` (canonical form), `validate` (or raise), `decode` (what it says).

`validate` and `decode` raise `ValueError` with a one-line reason for a number that the standard rules out.
"""
