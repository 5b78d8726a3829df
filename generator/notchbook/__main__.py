"""``python -m notchbook``: the commands, for where the console script is not on the path."""

from notchbook.cli import main

if __name__ == "__main__":
    main(prog_name="notchbook")
