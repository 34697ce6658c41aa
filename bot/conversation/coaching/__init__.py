"""A coach and the clients: consent, roster, and what passes between them."""
