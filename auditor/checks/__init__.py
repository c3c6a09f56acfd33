"""One file a check: its docstring says what (first sentence) and why, `ASK` what to ask, `check(case)` gives findings.

A check stays silent when it cannot know. File stem = finding's name = fixture's stem = heading in the manual.
"""
