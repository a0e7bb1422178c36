"""`python3 -m compiler …`: the same as the command `kerfolio`, set up first where it has to be."""

import sys


def main() -> int:
    """Run the command line in the project's environment; the exit code."""
    from compiler.bootstrap import enter

    enter("compiler")
    from compiler.cli import main as command_line

    return command_line()


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        # While the program itself was still being read in; what was published before is as it was.
        sys.exit(1)
