"""What the store refuses."""


class StoreError(Exception):
    """The database can't be used. Its text is a sentence that can be shown to a person."""
