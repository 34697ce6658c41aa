"""What an operator does with a whole database: back it up, restore it, copy it to another server, check it."""
