"""The rooms everyone shares: houses, who works there, who may do what, and the sealed log."""
