"""What other rooms may wait for."""

from django.dispatch import Signal

# Sent inside the transaction that opens a house, so that the shipped course is there or nothing
# is. Arguments: sender=Venue, venue, by (the owner's membership), at.
house_opened = Signal()
