"""Weigh-ins: judged, recorded, put right."""
