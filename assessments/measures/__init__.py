"""Pure measures of what a person can do: no framework, no database, no clock."""
