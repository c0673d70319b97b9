"""Papers: certificates, handouts and whatever else a bar prints."""
