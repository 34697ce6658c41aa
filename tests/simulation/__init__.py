"""Deterministic simulation: several processes of the bot, their database, the network and the clock in one process.

`plan` says what is in store for a seed. `clock` has the event loop with virtual time, `machine` the simulated
processes, `database`, `network` and `hook` the boundaries at which faults happen, `people` those who write to the bot,
`invariants` what must hold after each commit. `world` runs one seed, with `substitutes` for the real world.
`safeguards` takes the program's safeguards out, one at a time.
"""
