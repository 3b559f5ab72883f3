"""The command line: `main` finds the verb, one file answers each, `common` holds what they share."""
