"""A person's right to their own data: exporting it, importing it again, erasing it, and how long words are kept."""
