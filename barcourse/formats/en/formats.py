"""One way to write a day, on pages and papers, short or long: the month in letters, so that nobody
reads 03/04 the other way round. Hours are told as DATE and TIME tell them. What is left unsaid here
is Django's."""

DATE_FORMAT = "N j, Y"
TIME_FORMAT = "P"
DATETIME_FORMAT = "N j, Y, P"
SHORT_DATE_FORMAT = DATE_FORMAT
SHORT_DATETIME_FORMAT = DATETIME_FORMAT
