"""The wording of the checklists, one module per repair method. Data only; the rules are in `core.checklist`."""
