"""What the domain refuses."""


class DomainError(ValueError):
    """An amount or a request that cannot be. Its text is a sentence that can be shown to a person."""
