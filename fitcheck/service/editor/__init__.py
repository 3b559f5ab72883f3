"""What an editor asks while somebody types: findings, completion, hover, definitions, remedies as edits.

`texts` holds what is open, `cursor` says where in a half-typed file the cursor is, `shapes` which keys and words a
place takes, `names` what a build names; `complete` and `hover` answer, `diagnose` and `actions` check, `worker` has
that done in a process that can be ended, and `server` speaks the Language Server Protocol.
"""
