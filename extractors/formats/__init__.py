"""One file a format: `ORDER` (lower is tried first), `accepts(source)`, `documents(source)`."""
