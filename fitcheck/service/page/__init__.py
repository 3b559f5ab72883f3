"""The page of a served build: what is known of it on one sheet, and changes that are seen before they are made.

`asked` are the questions of the page and `told`, `tried`, `looked` their answers, in the processes that answer;
`snapshot`, `desk` and `history` read and write the served files; `routes` put a page together out of it.
"""
