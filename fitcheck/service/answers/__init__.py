"""The answers themselves: from a source of builds and options to a value, in the process that works it out."""
