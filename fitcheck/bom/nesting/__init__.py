"""Nesting: which piece of tube is cut from which length of stock, at least cost and with a proof.

- `record`     pieces, stock, offcuts, and the answer, as plain records
- `grid`       the same in whole tenths of a millimetre, where nothing is lost to rounding
- `bounds`     what no plan can better, without a solver
- `fill`       good plans, without a solver
- `polish`     a plan made better bar by bar
- `shelf`      how much the offcuts can hold together
- `solver`     the mixed-integer solver, asked only if bound and plan do not meet
- `arc_flow`   the model for few positions: strong bounds
- `assignment` the model for many positions and few bars
- `search`     bound, filling, and the solver where the two do not meet
- `nest`       from the input to the answer
"""
