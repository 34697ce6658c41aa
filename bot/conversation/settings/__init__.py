"""Settings: targets, reminders, measures, labels, habits, region and time zone."""
