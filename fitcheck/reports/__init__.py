"""The same answers as text, JSON, SARIF, CSV and SVG: pure functions from values to text.

- `caution`        the caution that every report ends with
- `plain`, `plain_json`            safe characters and wrapped lines; JSON in one fixed form
- `evidence_words`, `remedy_words`, `bom_words`   parts of a report in words
- `check_text`, `check_json`, `sarif`             the answer of `check`
- `bom_text`, `bom_json`, `bom_csv`               the bill of materials
- `cells`          cells of a CSV that no spreadsheet takes for formulas
- `order_words`, `order_lines`, `ready_text`      parts of the purchase plan in words
- `order_text`, `order_json`, `order_csv`, `order_mail`   the purchase plan, and what it saves to wait
- `workbook`, `order_summary`, `order_xlsx`       the purchase plan as a workbook: sheets to print, sums that compute
- `make_text`, `make_steps`, `make_words`, `make_json`, `make_csv`   bench sheets in words and figures
- `make_page`, `make_svg`, `make_views`, `make_strip`, `make_turns`, `make_templates`, `make_dxf`   bench sheets drawn
- `drawing`, `svg_pdf`             what drawings of a build share: colours, words, the sheet; a sheet as PDF
- `diagram`        the circuit as a diagram
- `plan`           the car's coordinates to scale: plan, side and front
- `circuit_looks`, `level_marks`   how circuits and findings look on every drawing of a build
- `swap_text`      what an exchange changes, text and JSON
- `pedal_text`, `pedal_volume`, `pedal_failures`, `pedal_figures`, `pedal_words`, `pedal_json`   the pedals in words
- `pedal_concerns`   what an answer about pedals says is wrong
- `pedal_svg`, `pedal_panels`, `pedal_panel`   the same as plots
- `pedal_change`, `pedal_beside`   what an exchange changes at the pedals; a build and a variant side by side
- `thread_text`, `thread_table`, `thread_svg`     limits of size and fit of threads; every pair; drawn in section
- `identify_text`, `identify_svg`  what a measured thread can be; drawn to print and hold against
- `thread_words`, `svg_parts`      words for how threads meet; pieces of a printed drawing
- `rules_text`     the rules and their pages
- `schemas`        the JSON Schemas of the files that users write
"""
