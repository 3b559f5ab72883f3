"""The same answers as text, JSON, SARIF and CSV: pure functions from values to text.

- `caution`        the caution that every report ends with
- `plain`, `plain_json`            safe characters and wrapped lines; JSON in one fixed form
- `evidence_words`, `remedy_words`, `bom_words`   parts of a report in words
- `check_text`, `check_json`, `sarif`             the answer of `check`
- `bom_text`, `bom_json`, `bom_csv`               the bill of materials
- `swap_text`      what an exchange changes, text and JSON
- `thread_text`    limits of size and fit of threads, text and JSON
- `rules_text`     the rules and their pages
- `schemas`        the JSON Schemas of the files that users write
"""
