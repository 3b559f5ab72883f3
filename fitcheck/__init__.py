"""Checks what joins to what in a hand-built car's brake and clutch plumbing, and lists what to buy.

The rooms, and which way imports run (each may use only what stands to its left):

`standards` (what the world has agreed) <- `catalog` (parts that can be bought) <- `build` (one vehicle) <-
`checks` (rules), `bom` (take-off) <- `remedies` (what puts a finding right) <- `reports` (the same answer as text,
JSON, SARIF, CSV) <- `cli` (one verb a file).

Below them all: `errors`, `naming`, `quantities` and `units`, `sources` with `trees` and `syntax`, `fields`,
`validation`, `edits`.
"""
