"""Days, weeks and months: sheets, trends, listings, and what is sent unasked."""
