"""The domain's exceptions."""


class DomainError(ValueError):
    """An impossible amount or request. The message is a complete sentence that can be shown to a person."""
