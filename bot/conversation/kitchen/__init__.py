"""People who share batches and vessels, and the group that is their room."""
