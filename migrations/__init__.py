"""The steps from one schema to the next: `versions` holds them in order, `env` runs them.

Steps lead forward only. The way back to an older Tarebook is the backup from before the upgrade.
"""
