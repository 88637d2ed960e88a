"""``python -m toilewright``: the same as the installed program."""

from toilewright.cli import main

if __name__ == "__main__":
    main()
