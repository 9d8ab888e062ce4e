"""Arguments, exit codes and what is printed: the command line."""
