"""The pure part of Pitsplice: lengths, rules, geometry, fit, strength, checklists and records.

Nothing here imports Flask, opens a file, a socket or a database, or reads the clock.
Lengths are inches inside; `core.quantity` turns them into what a person reads.
"""
