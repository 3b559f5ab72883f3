"""Parts that can be bought, with their ports.

`part` holds the records everything else works with, `entries` the models of what users write, `shelf` the
lookup over several catalogs laid one over the other, `generic` the families that ship with fitcheck,
`offers` what suppliers ask and what is on the builder's own shelf, `take_in` what makes parts and offers of a
supplier's price list.
"""
