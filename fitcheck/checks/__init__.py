"""Rules and what they say.

One rule, one file, named for the fault it finds; `register` lists them all. `findings` holds the records,
`context` what rules share, `joint_facts` what can be said of one joint, `gaps` what is not fed and which
open ends that explains, `run` applies every rule and the builder's acceptances.
"""
