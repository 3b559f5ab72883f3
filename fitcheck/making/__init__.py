"""Making: from a line's route to what a person does at the bench, as values without words.

`sheet` has the records, `course` reads a line's route in the direction it is worked, `ends` what each end gets,
`bend` puts marks on it, `bench` looks for clashes while bending, `slide_on` says what goes on before which flare and
what passes a panel, `order` chooses the end to start from, `steps` puts it all in order of doing, `make` does it for
lines of a build. Nothing here bends what cannot be bent: a line that cannot
be made has faults and no steps.
"""
