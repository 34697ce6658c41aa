"""Days, weeks and months: sheets, body weight, lists, cautions, notifications."""
