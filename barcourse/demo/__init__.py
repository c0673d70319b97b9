"""The demo house: invented people and evidence, made through the same verbs as the real thing."""
