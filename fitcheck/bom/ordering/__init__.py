"""The purchase plan: what to buy where, so that cost and waiting are least.

- `record`      the plan as plain records
- `dates`       on which day an order is here
- `problem`     the plan as whole numbers: goods, lots, sellers, wants; what a plan costs, and whether it holds
- `program`     the mixed-integer program of a problem
- `start`       a first plan of a large problem, for the solver to begin from
- `solve`       a problem solved: what cannot be had first, then the least cost, then the plainest plan
- `lengths`     which sets of coils are enough for the pieces of a tube
- `cut_goods`   a need for lengths: its sets, its offcuts, the pieces that cannot be cut
- `market`      needs, shelf and offers put together as a problem
- `answered`    the answer in whole numbers put back into words
- `placing`     orders as entries of the stock file, once they are placed
- `plan`        the least cost, by a day, as soon as can be, and the trade-off between them
- `missing`     why something cannot be had
- `readiness`   when each circuit can be finished, and what can be made with what is here: `belonging` says which
  circuit a part is for, `supply` what is there on which day, `pieces` which piece of tube
- `change`      what differs between two plans
"""
