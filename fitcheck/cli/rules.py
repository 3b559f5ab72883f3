"""`fitcheck rules`: every rule and its page."""

import argparse

from fitcheck.checks.register import page, pages
from fitcheck.reports.rules_text import rule_page, rules_list


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.add_argument("name", nargs="?", help="show the page of this rule")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="form of the answer")


def run(args: argparse.Namespace) -> int:
    """Print the list of rules, or one rule's page."""
    chosen = [page(args.name)] if args.name else list(pages())
    if args.format == "json":
        import json

        from fitcheck.reports.rules_text import rules_json

        print(json.dumps(rules_json(chosen), indent=2, ensure_ascii=False))
    else:
        print(rule_page(chosen[0]) if args.name else rules_list(chosen))
    return 0
