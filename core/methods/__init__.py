"""One module a repair method: `size(data)` and `summary(data)`."""
