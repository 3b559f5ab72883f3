"""Supplier price lists taken in: a CSV file becomes a catalog file, an offers file and a file of rejects.

- `text_file`    which encoding a list has, and its lines
- `table`        its separator, and its rows, however badly quoted
- `columns`      which column holds what: by a mapping file, or by the headers of `headers.yaml`
- `currencies`   which three letters are a currency
- `numbers`      numbers of sizes, in the decimal sign of the list
- `figures`      prices, packs, units, lead times and dates, in either decimal sign
- `tokens`       the wording of a description, cut into threads, sizes and words
- `words`        the vocabulary of `words.yaml`
- `sizes`        what a size in the wording is the size of
- `ends`         one end of a fitting: thread, side, seat, tube
- `wording`      a whole description: kind and ports, and how sure that is
- `rows`         one row: taken, repeated, or rejected with a reason
- `seen`         what came before, kept on disk
- `spreadsheet`  the file of rejects as a spreadsheet reads it
- `writing`      the files that are written, whole or not at all
- `run`          all of it

Nothing is dropped in silence: rows taken, rejected and repeated add up to the rows of the list. Memory does not grow
with the list. A thread is never guessed: wording that holds a number which is not understood makes no part.
"""
