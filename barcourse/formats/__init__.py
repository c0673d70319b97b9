"""How the house writes days and hours, one module a language."""
