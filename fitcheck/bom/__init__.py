"""Taking off: what a build needs, counted and priced.

- `record`   the bill of materials as plain records
- `lengths`  how long each line has to be cut
- `reasons`  why a joint's fixings, or a tube's flare, cannot be told
- `take_off` counting a build
- `prices`   the cheapest offer for each row
- `change`   what differs between two bills
- `cutting`  which piece of tube is cut from which length
- `nesting`  the exact plan behind it
- `need`     what has to be there, as plain records
- `spares`   what is bought beyond the bill
- `fluid`    how much fluid fills, bleeds and flushes the system
- `consumables` what the work uses up: clips, fluid, sealant, caps
- `stated`   the part that a build states for it
- `needs`    all of these put together
- `ordering` the purchase plan
"""
