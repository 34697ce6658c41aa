"""What a person sets: targets, reminders, measures, labels, habits, time zone."""
