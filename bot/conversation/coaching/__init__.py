"""Coaches and clients: consent, roster, notes, and what a coach assigns."""
