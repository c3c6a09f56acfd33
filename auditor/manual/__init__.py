"""The manual, shipped with the package: generated pages beside tutorials."""
